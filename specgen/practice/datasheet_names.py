"""The names that product data sheets give to what the vocabulary names; common practice."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Any

from specgen.files.compiled import shipped_yaml
from specgen.files.marks import InputError
from specgen.model.source import Source
from specgen.practice.entries import PracticeError, Vocabulary
from specgen.practice.written import citation, needed

FILE = Path(__file__).parent / "datasheets" / "names.yaml"
ENDS = ("low", "high", "")
_SHORT = {"temp": "temperature", "temps": "temperature", "max": "maximum", "min": "minimum"}
BOUNDS = ("upper", "lower", "")


@dataclass(frozen=True)
class AttributeNames:
    """How data sheets name one attribute of one role, and how its values are read."""

    attribute: str
    names: tuple[str, ...]
    other: tuple[str, ...]
    end: str  # the end of a range that counts: low, high, or "" where it depends on the project
    bound: str  # upper or lower where the attribute is itself a limit
    words: Mapping[str, tuple[str, ...]]


@dataclass(frozen=True)
class DatasheetNames:
    """The whole table."""

    source: Source
    least_confidence: float
    qualifiers: frozenset[str]
    parts: frozenset[str]  # words that name a product
    headings: frozenset[str]  # words of headings that name no product and limit nothing
    columns: Mapping[str, tuple[str, ...]]
    papers: Mapping[str, tuple[str, ...]]  # what a paper that is no data sheet calls itself, by kind
    roles: Mapping[str, tuple[str, ...]]
    kinds: Mapping[str, Mapping[str, tuple[str, ...]]]
    attributes: Mapping[str, AttributeNames]  # "thickness", or "barrier.thickness" for one role

    @cached_property
    def known(self) -> frozenset[str]:
        """Every name of every attribute."""
        return frozenset(name for one in self.attributes.values() for name in one.names)

    def of_role(self, role: str, vocabulary: Vocabulary) -> tuple[AttributeNames, ...]:
        """The attributes of a role that data sheets state, in the order of the vocabulary."""
        found = (
            self.attributes.get(f"{role}.{name}") or self.attributes.get(name)
            for name, field in vocabulary.roles[role].fields.items()
            if not field.project_only
        )
        return tuple(one for one in found if one is not None)


def plain_name(label: str) -> str:
    """A label without case, hyphens and signs, its short words written out, for comparison.

    >>> plain_name("Pull-Off  Adhesion:"), plain_name("Water Vapour Permeance"), plain_name("Max. service temp.")
    ('pull off adhesion', 'water vapor permeance', 'maximum service temperature')
    """
    lowered = label.casefold().replace("vapour", "vapor").replace("colour", "color").replace("&", " and ")
    return " ".join(_SHORT.get(word, word) for word in re.findall(r"[^\W_]+", lowered))


@lru_cache(maxsize=1)
def load_datasheet_names() -> DatasheetNames:
    """The table that ships with specgen.

    Raises:
        PracticeError: a part is missing, or a name stands twice under one attribute.
    """
    try:
        root: Mapping[str, Any] = shipped_yaml(FILE)
    except InputError as error:
        raise PracticeError(str(error)) from error
    where = FILE.name
    return DatasheetNames(
        citation(needed(root, "source", where), where),
        float(needed(root, "least_confidence", where)),
        frozenset(_names(needed(root, "qualifiers", where))),
        frozenset(_names(needed(root, "parts", where))),
        frozenset(_names(needed(root, "headings", where))),
        {key: _names(words) for key, words in needed(root, "columns", where).items()},
        {key: _names(words) for key, words in needed(root, "papers", where).items()},
        {key: _names(words) for key, words in needed(root, "roles", where).items()},
        {
            role: {kind: _names(words) for kind, words in kinds.items()}
            for role, kinds in needed(root, "kinds", where).items()
        },
        {key: _attribute(key, node) for key, node in needed(root, "attributes", where).items()},
    )


def _names(given: Any) -> tuple[str, ...]:
    return tuple(dict.fromkeys(plain_name(str(one)) for one in given))


def _attribute(key: str, node: Mapping[str, Any]) -> AttributeNames:
    unknown = set(node) - {"names", "other", "end", "bound", "words"}
    if unknown:
        raise PracticeError(f"{FILE.name}: {key}: unknown key {sorted(unknown)}")
    end, bound = str(node.get("end", "")), str(node.get("bound", ""))
    if end not in ENDS or bound not in BOUNDS:
        raise PracticeError(f"{FILE.name}: {key}: end {end!r} or bound {bound!r} is not known")
    words = {word: _names(phrases) for word, phrases in node.get("words", {}).items()}
    return AttributeNames(
        key.rpartition(".")[2],
        _names(needed(node, "names", f"{FILE.name}: {key}")),
        _names(node.get("other", ())),
        end,
        bound,
        words,
    )
