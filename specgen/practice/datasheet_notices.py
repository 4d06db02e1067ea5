"""The words by which a paper takes itself back, and those before its edition, its day and its product."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from specgen.files.compiled import shipped_yaml
from specgen.files.marks import InputError
from specgen.model.source import Source
from specgen.practice.datasheet_names import plain_name
from specgen.practice.entries import PracticeError
from specgen.practice.written import citation, needed

FILE = Path(__file__).parent / "datasheets" / "notices.yaml"
KEYS = frozenset({"anywhere", "alone", "capitals", "before", "after"})


@dataclass(frozen=True)
class NoticeWords:
    """One thing that a notice makes of a paper, and the words that say so."""

    title: str  # "superseded", "a draft"
    anywhere: tuple[str, ...]
    alone: tuple[str, ...]
    capitals: tuple[str, ...]
    before: tuple[str, ...]
    after: tuple[str, ...]


@dataclass(frozen=True)
class NoticeTable:
    """The whole table; every word as :func:`plain_name` writes it."""

    source: Source
    notices: tuple[NoticeWords, ...]
    beside: frozenset[str]  # words that a notice may have beside it and stay alone
    heads: Mapping[
        str, tuple[str, ...]
    ]  # words before the status, the edition, the day, the product, the grade


@lru_cache(maxsize=1)
def load_notices() -> NoticeTable:
    """The table that ships with specgen.

    Raises:
        PracticeError: a part is missing or unknown.
    """
    try:
        root: Mapping[str, Any] = shipped_yaml(FILE)
    except InputError as error:
        raise PracticeError(str(error)) from error
    where = FILE.name
    notices = []
    for title, node in needed(root, "notices", where).items():
        if unknown := set(node) - KEYS:
            raise PracticeError(f"{where}: {title}: unknown key {sorted(unknown)}")
        words = {key: _plain(node.get(key, ())) for key in sorted(KEYS)}
        notices.append(NoticeWords(str(title), **words))
    heads = ("status", "edition", "dated", "valid", "product", "grade")
    return NoticeTable(
        citation(needed(root, "source", where), where),
        tuple(notices),
        frozenset(_plain(needed(root, "with", where))),
        {key: _plain(needed(root, key, where)) for key in heads},
    )


def _plain(given: Any) -> tuple[str, ...]:
    return tuple(dict.fromkeys(plain_name(str(one)) for one in given))
