"""Number, round and dates of the letters that an office sends: given once, and kept from run to run."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from specgen.model.document import Document

KINDS: Mapping[str, str] = {  # how the name of a letter begins, and its series of numbers
    "request-for-information": "RFI",
    "compatibility": "CL",
    "deficiency-list": "DL",
    "transmittal": "T",
}


@dataclass(frozen=True)
class Reference:
    """What a letter is known by. ``day`` is None while nobody has said when it goes out."""

    number: str = ""
    round: int = 1
    day: date | None = None
    content: str = ""  # hash of what it says


def content_of(document: Document) -> str:
    """A hash of what a letter says, without its number and dates."""
    return hashlib.sha256(repr(document.blocks).encode("utf-8", "surrogatepass")).hexdigest()[:16]


def referenced(
    known: Mapping[str, Reference], drafts: Mapping[str, Document], day: date | None
) -> dict[str, Reference]:
    """A reference for each letter, and those of former letters, which keep their numbers.

    A letter that was dated and says something else now goes out in its next round.

    Args:
        known: the references of the last run, by the name of the file.
        drafts: the letters of this run, with empty references.
        day: on which they go out; None where that is not said.
    """
    found = dict(known)
    for stem, draft in drafts.items():
        series = next(short for name, short in KINDS.items() if stem.startswith(name))
        content = content_of(draft)
        one = found.get(stem)
        if one is None:
            found[stem] = Reference(_next(series, found), 1, day, content)
        elif one.content == content:
            found[stem] = replace(one, day=one.day or day)
        elif one.day is None:
            found[stem] = replace(one, day=day, content=content)
        else:
            found[stem] = replace(one, round=one.round + 1, day=day, content=content)
    return found


def _next(series: str, known: Mapping[str, Reference]) -> str:
    taken = [
        one.number.removeprefix(f"{series}-") for one in known.values() if one.number.startswith(f"{series}-")
    ]
    return f"{series}-{1 + max((int(one) for one in taken if one.isdecimal()), default=0):03d}"
