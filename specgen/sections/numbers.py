"""Numbers and designations in specification text: which digits are values, and which only name something."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from specgen.units.show import printed
from specgen.units.table import UNITS

# Longer forms first: the base designation is what the References article and the standards table hold.
DESIGNATION = re.compile(
    r"\bANSI/SPRI/FM 4435/ES-1(?:-\d{4})?\b"
    r"|\bASTM [A-Z]\d+(?:/[A-Z]\d+M?)?(?:-\d\d[a-z]?(?:\(\d{4}\)|\b)|\b)"
    r"|\b(?:AAMA|AWPA|NFPA|ISO|CSA|UL) [A-Z]?\d+(?:\.\d+)?(?:-\d\d(?:\d\d)?)?\b"
    r"|\bICC-ES AC\d+\b"
    r"|\bDOC PS \d\b"
    r"|\bASCE 7(?:-\d\d)?\b"
    r"|\bASHRAE 90\.1(?:-\d{4})?\b"
    r"|\b(?:IBC|IEBC|IRC|IECC)(?: \d{4})?\b"
    r"|\b\d\d CFR \d+(?:\.\d+)?\b"
)
_PART_OF_STANDARD = re.compile(
    r"\b(?:level \d|test RE-\d|Annex [A-Z]\d+|RE-\d|\d{4}-H\d\d|type \d{3}(?: or \d{3})?)\b"
    r"|\b55 % (?=Aluminum-Zinc)"  # in the title of a standard
)
SECTION_NUMBER = re.compile(r"\b\d\d \d\d \d\d\b")
_PLACE = re.compile(
    r"\b(?:Part|PART|Articles?|Paragraphs?) \d+(?:\.\w+)*(?:(?:, and |, | and )\d+\.\d+(?:\.\w+)*)*"
)
_SPELLINGS = sorted(
    {text for unit in UNITS for text in (printed(unit), unit.plural, unit.symbol) if text},
    key=len,
    reverse=True,
)
_UNIT = "(?:" + "|".join(re.escape(unit) for unit in _SPELLINGS) + r")(?![\w²³])"
NUMBER = re.compile(
    r"(?<![\w.])-?(?:\d+ ft (?=\d[\d /]* in\b))?(?:\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?)"
    rf"(?:\s?{_UNIT})?"
)


@lru_cache(maxsize=10_000)
def named(name: str) -> re.Pattern[str]:
    """Where a text names something, as a parapet; a name may be a number, and is no part of a word or of another number.

    >>> named("1").sub("x", "Parapet 1: 1/8 in and 1 1/2 in, 1 ft from P-1.")
    'Parapet x: 1/8 in and 1 1/2 in, 1 ft from P-x.'
    """
    return re.compile(rf"(?<![\w/.]){re.escape(name)}(?![\w/]|\.\d| \d+/\d|\s?{_UNIT})")


def designations_in(text: str) -> tuple[str, ...]:
    """The standards and codes named in a text, each once, in order.

    >>> designations_in("Test by ASTM E96 method A and ASTM E2178, and ASTM E96 again.")
    ('ASTM E96', 'ASTM E2178')
    """
    return tuple(dict.fromkeys(match[0] for match in DESIGNATION.finditer(text)))


def without_names(text: str, names: Iterable[str] = ()) -> str:
    """The text without digits that name something: sections, standards, paragraphs, and the given names."""
    return _bare(text, _longest_first(names), False)


def _longest_first(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted(names, key=len, reverse=True))


@lru_cache(maxsize=10_000)
def _bare(text: str, names: tuple[str, ...], in_place: bool) -> str:
    """The text without what only names something; ``in_place``, whatever is left stands where it stood."""
    for pattern in (SECTION_NUMBER, DESIGNATION, _PART_OF_STANDARD, _PLACE, *map(named, names)):
        text = pattern.sub(lambda match: " " * len(match[0]) if in_place else " ", text)
    return text


def numbers_in(text: str, names: Iterable[str] = ()) -> tuple[str, ...]:
    """The numbers in a text, each with its unit, in order.

    Args:
        text: specification text.
        names: names that may hold digits and are no numbers, such as those of parapets.

    >>> numbers_in("At parapet P-3: at least 3/16 in (5 mm), by ASTM E96; see Section 07 65 00.", ["P-3"])
    ('3/16 in', '5 mm')
    >>> numbers_in("Length of each piece: not more than 9 ft 10 in.")
    ('9 ft 10 in',)
    """
    return tuple(text[start:end] for start, end in number_places(text, names))


def number_places(text: str, names: Iterable[str] = ()) -> tuple[tuple[int, int], ...]:
    """Where each number of a text begins and ends, in order, as :func:`numbers_in` reads them.

    >>> number_places("By ASTM E96: 10 perms.")
    ((13, 21),)
    """
    return tuple(match.span() for match in NUMBER.finditer(_bare(text, _longest_first(names), True)))
