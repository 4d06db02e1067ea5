"""A quantity as it was understood, for who has just typed it: in the other language of units, and in the usual units."""

from __future__ import annotations

from collections.abc import Collection

from specgen.units.errors import usual_units
from specgen.units.quantity import Quantity, accepted_units, row_of
from specgen.units.show import show, show_in

_LONGEST = 6  # digits and points of a number that a reader would write himself
_OTHER = {"inch-pound": "SI", "SI": "inch-pound"}
_FAR = 1000.0  # m: from here on a length is a distance
_DISTANCE = {"inch-pound": "mi", "SI": "km"}


def echo(q: Quantity) -> str:
    """The quantity and what it is in the other language of units; "" where there is no other.

    >>> from specgen.units.quantity import parse
    >>> echo(parse("76 ft")), echo(parse("12 m")), echo(parse("30 %")), echo(parse("6'-4\\""))
    ('76 ft = 23.2 m', '12 m = 39 ft 4 in', '', '6 ft 4 in = 1930 mm')
    >>> echo(parse("16000 ft")), echo(parse("12 km"))
    ('16000 ft = 4.9 km', '12 km = 7.5 mi')
    """
    system = row_of(q).system
    if system not in _OTHER:
        return ""
    own = show(q, system)
    other = show_in(q, _DISTANCE[_OTHER[system]]) if _is_far(q) else show(q, _OTHER[system])
    return "" if own == other else f"{own} = {other}"


def in_usual_units(q: Quantity) -> tuple[str, ...]:
    """The quantity in each unit that is usual for its dimension, its own first: what a reader may write instead.

    >>> from specgen.units.quantity import parse
    >>> in_usual_units(parse("76 ft"))
    ('76 ft', '912 in', '23165 mm', '23.165 m')
    """
    symbols = dict.fromkeys([q.unit, *_usual(q)])
    found = [show_in(q, symbol, "close") for symbol in symbols]
    short = [one for one in found if "×" not in one and len(one.split(" ")[0]) <= _LONGEST]
    return tuple(dict.fromkeys(short))


def _usual(q: Quantity) -> Collection[str]:
    if _is_far(q):
        return _DISTANCE.values()
    if row_of(q).system not in _OTHER:  # time: days beside hours
        return accepted_units(q.dimension)
    return usual_units(q.dimension)


def _is_far(q: Quantity) -> bool:
    return q.dimension == "length" and abs(q.value) >= _FAR
