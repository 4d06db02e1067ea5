"""What is said about a text that is no quantity: the message and the fix, one line each."""

from __future__ import annotations

import re

from specgen.units.spelling import key, nearest, units_of
from specgen.units.table import BASES, Unit

_OFFERED = {"time": 4}  # a review takes days, a rating hours, a warranty years
_THOUSANDS = re.compile(r"[+-]?[0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]+)?")


class QuantityError(ValueError):
    """A text or number that cannot be used as a quantity: what was read, and the fix, one line each."""

    def __init__(self, message: str, fix: str) -> None:
        super().__init__(f"{message}; {fix}")
        self.message = message
        self.fix = fix

    # The default would rebuild the error from its one line and fail where a worker process hands it over.
    def __reduce__(self) -> tuple[type[QuantityError], tuple[str, str]]:
        return type(self), (self.message, self.fix)


_SECOND = re.compile(  # "in to 2 in", "in - 2 in", "in x 4 in"
    r"[^0-9] ?(?:to|or|and|-|\.\.|\+-|±|x|×|,|;) ?([0-9][0-9./ -]* ?[A-Za-z°µ%].*)"
)


def unknown_unit(spelling: str, written: str, accept: frozenset[str] | None) -> QuantityError:
    """Return the error for a unit that the table does not hold, with the nearest one that it does."""
    text, unit = shown(written), shown(spelling)
    if key(spelling) in ("month", "months", "mo"):
        return QuantityError(f"`{text}`: a month has no fixed length", "write days")
    if (second := _SECOND.search(spelling)) is not None:
        return QuantityError(
            f"`{text}` holds a second quantity, `{second[1]}`",
            "write the one that decides",
        )
    near = nearest(spelling, accept) or nearest(spelling, None)
    hint = f"did you mean `{near}`? " if near else ""
    if accept is None:
        return QuantityError(
            f"`{text}`: unit `{unit}` is not known", f"{hint}write a unit such as in, mm, psf, Pa, perm"
        )
    return QuantityError(f"`{text}`: unit `{unit}` is not known", hint + how_to_write(accept))


def comma_error(number: str, written: str) -> QuantityError:
    """Return the error for a comma in a number, which may mean thousands or decimals."""
    message = f"`{shown(written)}` has a comma in its number"
    if _THOUSANDS.fullmatch(number):
        joined = number.replace(",", "")
        one_mark = number.count(",") == 1 and "." not in number
        decimal = f", or {number.replace(',', '.')} if the comma marks decimals" if one_mark else ""
        return QuantityError(message, f"write {joined}{decimal}")
    if number.count(",") == 1 and "." not in number:
        return QuantityError(message, f"write {number.replace(',', '.')}")
    return QuantityError(message, "write the number without commas")


def how_to_write(accept: frozenset[str] | None) -> str:
    """Return the fix: what to write where these dimensions are accepted."""
    if accept is None:
        return "write a number and a unit, such as 3/16 in or 75 Pa"
    if not accept:
        return "no dimension is accepted here"
    return "write " + " or ".join(_with_units(name) for name in BASES if name in accept)


def _with_units(dimension: str) -> str:
    if dimension == "number":
        return "a number without a unit"
    symbols = usual_units(dimension)
    return f"{article(dimension)}: {', '.join(symbols)}"


def usual_units(dimension: str) -> list[str]:
    """Return the symbols of a dimension to offer a reader: the first two of each system of units, of times more.

    >>> usual_units("length"), usual_units("time")
    (['in', 'ft', 'mm', 'm'], ['day', 'h', 'week', 'year'])
    """
    rows: tuple[Unit, ...] = units_of(dimension)
    shown: list[str] = []
    for system in ("inch-pound", "SI", "either"):
        shown += [r.symbol for r in rows if r.system == system and r.symbol][: _OFFERED.get(dimension, 2)]
    return shown


def article(dimension: str) -> str:
    """Return the dimension with its article."""
    return f"{'an' if dimension[0] in 'aeiou' else 'a'} {dimension}"


def shown(text: str) -> str:
    """Return foreign text fit for one line of a message: printable, no back quotes, at most 40 characters."""
    line = "".join(c if c.isprintable() and c != "`" else " " for c in text)
    line = " ".join(line.split())
    return line if len(line) <= 40 else line[:39] + "…"
