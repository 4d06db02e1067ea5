"""Numbers as makers write them: powers of ten, decimal commas, thousands parted by a space."""

from __future__ import annotations

import re

POWER = re.compile(  # an exponent is raised, has a sign, or stands behind ^
    r"(?<![\w.,])([0-9]+(?:\.[0-9]+)?) ?[×x✕·] ?10 ?"
    r"((?:\^ ?|\{\^)[-−–+]?[0-9]{1,2}\}?|[-−–][0-9]{1,2}|⁻?[⁰¹²³⁴⁵⁶⁷⁸⁹]{1,2})(?![\w.,])"
)
POWERS = str.maketrans("−–⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "---0123456789", "^{} ")
DECIMAL_COMMA = re.compile(r"(?<![\w.,])([0-9]+),([0-9]{1,2}|[0-9]{4,}|(?<=\b0,)[0-9]{3})(?![\w,]|\.[0-9])")
SPACED = re.compile(r"(?<![\w.,/])[1-9][0-9]{0,2}(?:[ \u00a0\u2009\u202f][0-9]{3})+(?![\w,/]|\.[0-9]{3})")


def respelled(text: str) -> tuple[str, list[str]]:
    """The text with its numbers as we write them, and each spelling that could be meant otherwise.

    >>> respelled("11,5 perms"), respelled("1 200 psf")[0], respelled("11,000 psf")
    (('11.5 perms', ['`11,5` is written with a decimal comma']), '1200 psf', ('11,000 psf', []))
    """
    text, odd = with_exponents(text), []
    for pattern, words in ((DECIMAL_COMMA, "a decimal comma"), (SPACED, "a space")):
        if found := pattern.search(text):
            odd.append(f"`{found[0]}` is written with {words}")
    text = DECIMAL_COMMA.sub(r"\1.\2", text)
    return SPACED.sub(lambda match: re.sub(r"\s", "", match[0]), text), odd


def with_exponents(text: str) -> str:
    """A text whose powers of ten are written as we write them.

    >>> with_exponents("7.1 × 10⁻⁴ L/s·m²"), with_exponents("4 x 100 mm")
    ('7.1e-4 L/s·m²', '4 x 100 mm')
    """
    return POWER.sub(lambda match: f"{match[1]}e{match[2].translate(POWERS)}", text)
