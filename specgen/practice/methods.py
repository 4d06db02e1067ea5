"""Test method designations: the same method is written many ways."""

from __future__ import annotations

import re
from collections.abc import Iterable
from enum import Enum

MAKERS_WORD = "maker's stated value"

_EDITION = re.compile(r"(?<=[0-9])[-:](?:\d{4}|\d{2})[a-z]?(?:\(\d{4}\))?(?:e\d)?(?![0-9a-z])", re.IGNORECASE)
_METRIC_TWIN = re.compile(r"/[a-z]?\d+[a-z]*m\b", re.IGNORECASE)
_BARE_ASTM = re.compile(r"[A-G]\d{1,4}\b", re.IGNORECASE)
# A part of the standard in brackets is kept: "ASTM E96 (Procedure B)". Any other remark in brackets is not.
_PART = re.compile(r"\((?=\s*(?:test\s+)?(?:method|procedure|annex|type|RE-?\d)\b)([^)]*)\)", re.IGNORECASE)
_PARTS = re.compile(r" (?:METHOD|ANNEX|TYPE|RE-?\d)\b")
_REMARK = re.compile(r"\([^)]*\)")
_CUPS = (
    (re.compile("desiccant|dry.cup", re.IGNORECASE), "A"),
    (re.compile("water|wet.cup", re.IGNORECASE), "B"),
)
# Names a standard had or is called by beside its own: ES-1 was ANSI/SPRI alone before it joined with FM 4435.
_OTHER_NAMES = {"ANSI/SPRI ES-1": "ANSI/SPRI/FM 4435/ES-1"}


def designation(written: str) -> str:
    """A method without its edition year, its metric twin, and the many words for "method".

    >>> designation("ASTM E 2178-21a")
    'ASTM E2178'
    >>> designation("astm E96/E96M-22, Procedure B (wet cup)")
    'ASTM E96 METHOD B'
    >>> designation("ASTM E96 desiccant method"), designation("E96 Method A")
    ('ASTM E96 METHOD A', 'ASTM E96 METHOD A')
    >>> designation("ANSI/SPRI ES-1-2017 Test Method RE-3")
    'ANSI/SPRI/FM 4435/ES-1 RE-3'
    """
    words = written.replace("–", "-").replace("—", "-").strip()
    words = re.sub(r"\b([A-Za-z])\s+(\d)", r"\1\2", words)
    words = re.sub(r"\bASTM[-\s]+", "ASTM ", words, flags=re.IGNORECASE)
    words = re.sub(r"(?<=\d)\s+-\s+(?=\d)", "-", words)
    words = _METRIC_TWIN.sub("", words)
    words = _EDITION.sub("", words)
    words = _PART.sub(r" \1 ", words)
    cup = _cup(words)
    words = re.sub(
        r"\b(E96)[- ,]*(?:\(\s*([A-D])\s*\)|\b([A-D])\b)", r"\1 method \2\3", words, flags=re.IGNORECASE
    )
    words = _REMARK.sub(" ", words)
    words = re.sub(r"\bprocedure\b", "method", words, flags=re.IGNORECASE)
    words = re.sub(r"\btest\s+(?=method\b|RE-?\d)", "", words, flags=re.IGNORECASE)
    words = re.sub(r"\bmethod\s+(?=RE-?\d)", "", words, flags=re.IGNORECASE)
    if cup and not re.search(r"\bmethod\s+[A-F]\b", words, re.IGNORECASE):
        words = f"E96 method {cup}"
    if _BARE_ASTM.match(words):
        words = f"ASTM {words}"
    plain = " ".join(re.sub(r"[,;:]|(?<!\S)-(?!\S)", " ", words).upper().split())
    for other, name in _OTHER_NAMES.items():
        plain = re.sub(rf"^{re.escape(other)}\b", name, plain)
    return plain


def _cup(words: str) -> str:
    """The E96 procedure a cup's name stands for; an inverted cup is neither."""
    if not re.search(r"\bE96\b", words, re.IGNORECASE) or re.search("invert", words, re.IGNORECASE):
        return ""
    named = [letter for pattern, letter in _CUPS if pattern.search(words)]
    return named[0] if len(named) == 1 else ""


def same_method(written: str, accepted: Iterable[str]) -> bool:
    """Whether a stated method is one of the accepted ones, and says all that they say."""
    return match_method(written, accepted) is Match.SAME


class Match(Enum):
    """How a stated method stands to the accepted ones."""

    SAME = "same"
    OPEN = "open"  # the same standard, and not said by which of its methods
    OTHER = "other"


def match_method(written: str, accepted: Iterable[str]) -> Match:
    """How a stated method stands to the accepted ones.

    A standard accepted without naming one of its methods accepts each of them.

    >>> match_method("ASTM D4541-17, Test Method E", ["ASTM D4541"])
    <Match.SAME: 'same'>
    >>> match_method("ASTM E96/E96M-16", ["ASTM E96 method A"]), match_method("E96 (B)", ["ASTM E96 method A"])
    (<Match.OPEN: 'open'>, <Match.OTHER: 'other'>)
    """
    found = designation(written)
    names = [designation(one) for one in accepted]
    if any(found == one or (_part_of(found, one) and not _names_part(one)) for one in names):
        return Match.SAME
    return Match.OPEN if any(_part_of(one, found) for one in names) else Match.OTHER


def _part_of(part: str, whole: str) -> bool:
    return part.startswith(f"{whole} ") and bool(_PARTS.match(part[len(whole) :]))


def _names_part(name: str) -> bool:
    return bool(_PARTS.search(name))
