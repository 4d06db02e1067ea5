"""Test method designations: the same method is written many ways."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

MAKERS_WORD = "manufacturer's stated value"

# The year of an edition: -21, -21a, -13(2020), :2002, or a year alone in brackets. The number of D1970 is none.
_YEAR = re.compile(
    r"(?<=[0-9])(?: ?[-:] ?(?P<year>(?:19|20)?\d\d)(?P<letter>[a-z]?)(?:e\d)?(?: ?\((?P<again>\d{4})\))?(?:e\d)?"
    r"| ?\((?P<alone>(?:19|20)\d\d)\))(?![0-9a-z])",
    re.IGNORECASE,
)
_CENTURY = 50  # two digits from here on are of the last century: D1970-97
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
# Names a method had or is called by beside its own: ES-1 was ANSI/SPRI alone before it joined with FM 4435.
_OTHER_NAMES = {
    "ANSI/SPRI ES-1": "ANSI/SPRI/FM 4435/ES-1",
    "MAKER'S STATED VALUE": "MANUFACTURER'S STATED VALUE",
}


@dataclass(frozen=True)
class Edition:
    """One edition of a standard: its year, the letter of a second one in it, and the year it was approved again."""

    year: int
    letter: str = ""
    again: int = 0

    def older_than(self, other: Edition) -> bool:
        """Whether it was neither written nor approved again as late as another was written."""
        return (max(self.year, self.again), self.letter) < (other.year, other.letter)

    def newer_than(self, other: Edition) -> bool:
        """Whether it was written after another was written or approved again."""
        return (self.year, self.letter) > (max(other.year, other.again), other.letter)

    def of(self, standard: str) -> str:
        """A standard with this edition as its publisher writes it.

        >>> Edition(2013, again=2020).of("ASTM E2178"), Edition(2017).of("ANSI/SPRI/FM 4435/ES-1")
        ('ASTM E2178-13(2020)', 'ANSI/SPRI/FM 4435/ES-1-2017')
        """
        year = f"{self.year % 100:02}" if standard.startswith(("ASTM", "AAMA")) else str(self.year)
        return f"{standard}-{year}{self.letter}" + (f"({self.again})" if self.again else "")


def edition_of(written: str) -> Edition | None:
    """The edition that a method names; None where it names none.

    >>> edition_of("ASTM D1970/D1970M-21"), edition_of("ASTM D1970"), edition_of("ASTM E96/E96M, method B")
    (Edition(year=2021, letter='', again=0), None, None)
    >>> edition_of("ASTM E2178-13(2020)"), edition_of("AAMA 501.1-97a")
    (Edition(year=2013, letter='', again=2020), Edition(year=1997, letter='a', again=0))
    """
    found = _YEAR.search(_METRIC_TWIN.sub("", _plain_dashes(written)))
    if found is None:
        return None
    year = int(found["year"] or found["alone"])
    if year < 100:
        year += 1900 if year >= _CENTURY else 2000
    return Edition(year, (found["letter"] or "").lower(), int(found["again"] or 0))


def standard_of(written: str) -> str:
    """The standard of a method, without its procedure.

    >>> standard_of("ASTM E96/E96M-22, Procedure B")
    'ASTM E96'
    """
    return _PARTS.split(designation(written))[0].strip()


def _plain_dashes(written: str) -> str:
    return written.replace("–", "-").replace("—", "-").strip()


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
    >>> designation("maker's stated value") == designation(MAKERS_WORD)
    True
    """
    words = _plain_dashes(written)
    words = re.sub(r"\b([A-Za-z])\s+(\d)", r"\1\2", words)
    words = re.sub(r"\bASTM[-\s]+", "ASTM ", words, flags=re.IGNORECASE)
    words = re.sub(r"(?<=\d)\s+-\s+(?=\d)", "-", words)
    words = _METRIC_TWIN.sub("", words)
    words = _YEAR.sub("", words)
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
