"""What a value can be at all and what it is expected to be, and the slip of unit that a value outside betrays."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from specgen.model.project import Value
from specgen.units.compare import keeps
from specgen.units.quantity import Quantity, QuantityError, accepted_units, parse, quantity
from specgen.units.show import show

POSSIBLE, EXPECTED, TIMES = "possible_ranges", "expected_ranges", "expected_times"
_DECADES = (1000, 100, 10)
_MOST_SLIPS = 2


@dataclass(frozen=True)
class Range:
    """From one value to another; an end that is None is open."""

    least: Quantity | None
    most: Quantity | None
    usual: str = ""  # what has such values, in words

    @classmethod
    def of(cls, row: Mapping[str, Value | None]) -> Range:
        """The range of a row of a table."""
        least, most = (one if isinstance(one, Quantity) else None for one in (row["least"], row["most"]))
        return cls(least, most, str(row.get("usual") or ""))

    def fits(self, type_: str) -> bool:
        """Whether the ends are of the type of a field."""
        wanted = {"count": "number", "sheet thickness": "length"}.get(type_, type_)
        return all(end is None or end.dimension == wanted for end in (self.least, self.most))

    def holds(self, value: Value) -> bool:
        """Whether a value lies in the range; what is no number does."""
        if isinstance(value, int) and not isinstance(value, bool):  # a count
            value = quantity(value, "")
        if not isinstance(value, Quantity):
            return True
        above = self.least is None or keeps(value, "at least", self.least)
        return above and (self.most is None or keeps(value, "at most", self.most))

    def words(self, system: str = "") -> str:
        """The range in words, as written or in a language of units."""
        ends = (self.least, self.most)
        least, most = ("" if one is None else show(one, system) if system else one.text for one in ends)
        if least and most:
            return f"{least} to {most}"
        return f"{least} or more" if least else f"at most {most}"


def slip(value: Value, expected: Range) -> str:
    """What was likely meant: the same digits in another unit, or the point elsewhere; "" if neither is expected.

    >>> slip(parse("93 degC"), Range(parse("10 degC"), parse("50 degC")))
    'did you mean 93 degF?'
    >>> slip(parse("9000 %"), Range(None, parse("50 %")))
    'did you mean 9 %?'
    """
    if not isinstance(value, Quantity) or not value.exact:
        return ""
    found: list[Quantity] = []
    number, unit = value.number, value.unit
    for other in accepted_units(value.dimension):
        try:
            found.append(parse(f"{number:.12g} {other}", {value.dimension}))
        except QuantityError:
            continue
    found += [quantity(number / by, unit) for by in _DECADES]
    meant = {
        one.exact: one.text for one in found if expected.holds(one) and one.exact not in (0, value.exact)
    }
    return f"did you mean {' or '.join(list(meant.values())[:_MOST_SLIPS])}?" if meant else ""
