"""Test methods as they are named in the words of a data sheet."""

from __future__ import annotations

import re

_YEAR = r"(?:[-–:][0-9]{2,4}[a-z]?)?"
METHOD = re.compile(
    r"\b(?:ASTM|AATCC|AAMA|ANSI(?:/[A-Z0-9 ]+?)*|CAN/ULC|ULC|UL|DIN|EN|BS|ISO|TAPPI|FM|FTM|NFPA|ICC-ES|TAS)[ -]*"
    rf"(?:EN |ISO |AC |S)?[A-Z]{{0,2}}[- ]?[0-9]{{1,5}}(?:\.[0-9]+)?{_YEAR}"
    rf"(?:/[A-Z]{{0,2}}-?[0-9]{{1,5}}M?{_YEAR})*(?:\s?\([0-9]{{4}}\))?",
    re.IGNORECASE,
)
BARE_METHOD = re.compile(
    r"\b[CDEF][ -]?[0-9]{2,4}(?:[-–][0-9]{2}[a-z]?)?(?:/[CDEF][0-9]{2,4}M(?:[-–][0-9]{2}[a-z]?)?)?\b(?!\s?°)"
)
PART = re.compile(
    r"\s*[,(;:–-]?\s*\(?\s*((?:(?:test )?(?:method|procedure|proc\.?) [A-F]{1,2}[0-9]?\b|annex [A-Z]?[0-9]+\b|"
    r"(?:test )?(?:method )?RE-?[0-9]\b|(?:wet|dry|inverted)[ -]cup\b(?: method)?|"
    r"(?:desiccant|water|inverted water) method\b|water[ -]cup\b|desiccant\b))\s*\)?",
    re.IGNORECASE,
)
ES1 = re.compile(r"\bANSI/SPRI(?:/FM ?4435)?(?:/| )ES-?1\b(?:[-–][0-9]{4})?", re.IGNORECASE)


def without_methods(text: str) -> str:
    """A text without the test methods it names."""
    for pattern in (ES1, METHOD, BARE_METHOD):
        text = pattern.sub(" ", text)
    return PART.sub(" ", text)
