"""MV06: the sizes and places of a parapet fit its length, the building and the rain.

Holds pairs of stated values against each other that cannot both be right: a corner or a scupper beyond the end of its
parapet, plaster or a clearance higher than the building, a rain event heavier than the design rainfall.

Right::

    length: 96 ft
    corners: [{name: C-1, turn: outside, position: 96 ft}]

Wrong::

    length: 96 ft
    corners: [{name: C-1, turn: outside, position: 2438 ft}]
"""

from collections.abc import Iterator
from fractions import Fraction

from specgen.files.marks import Mark
from specgen.model.finding import Severity
from specgen.model.project import Record
from specgen.rules.rule import Rule, RuleResult, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_most
from specgen.units.quantity import Quantity, exactly

RULE = Rule(
    name="sizes together",
    severity=Severity.RISK,
    applies_to="parapet",
    reason="One of two values that contradict each other is wrong, and drawings and calculations follow it.",
    basis=("sizes.together",),
    remedy="Correct the one value or the other.",
)
HOUR = Fraction(3600)  # s
CLEARANCES = ("above_earth", "above_paving")
Pair = tuple[str, Quantity, Mark, str, Quantity]  # what, value, its place; of what, the most that it can be


def check(wall: Wall) -> Iterator[RuleResult]:
    """Each value against the one that bounds it, where both are stated."""
    pairs = [*_along(wall), *_up(wall), *_rain(wall)]
    if not pairs:
        yield not_applicable("no two values that bound each other are stated")
    for what, value, mark, of, most in pairs:
        shown, limit = wall.beside(value, "at most", most)
        message = f"{what} is {shown}; {of} is {limit}"
        if at_most(value, most):
            yield ok(message, mark)
        else:
            yield unknown(f"{message}; both cannot be", f"correct {what}, or {of}", mark)


def _along(wall: Wall) -> Iterator[Pair]:
    """Places along the parapet: a corner, and both edges of a scupper's opening."""
    length = wall.parapet.quantity("length")
    for place in (*wall.parapet.corners, *wall.parapet.scuppers):
        at, width = place.quantity("position"), _width(place)
        what = f"position of {place.word('name')}"
        if at is None:
            continue
        if length is not None:
            edge = exactly(at.exact + width, at) if width else at
            of = "the length of the parapet"
            yield what + (" with half of its width" if width else ""), edge, place.at("position"), of, length
        if width:
            half = f"half the width of {place.word('name')}"
            yield half, exactly(width, at), place.at("position"), f"its {what.partition(' ')[0]}", at


def _width(place: Record) -> Fraction:
    """Half the width of an opening [m], 0 of a corner."""
    width = place.quantity("width") if place.what == "scupper" else None
    return width.exact / 2 if width is not None else Fraction(0)


def _up(wall: Wall) -> Iterator[Pair]:
    """Heights above the ground: the plaster, and what lies below the weep screed."""
    roof, above = wall.project.building.quantity("height"), wall.parapet.quantity("height")
    if roof is None or above is None:
        return
    top, of = exactly(roof.exact + above.exact, roof), "the height of the building with its parapet"
    plaster = wall.parapet.quantity("plaster_height")
    if plaster is not None:
        yield "height of the plastered face", plaster, wall.parapet.at("plaster_height"), of, top
    for screed in wall.parapet.all_of("weep screed"):
        for name in CLEARANCES:
            clear = screed.quantity(name)
            if clear is not None:
                yield f"clearance of `{screed.id}` ({name})", clear, screed.at(name), of, top


def _rain(wall: Wall) -> Iterator[Pair]:
    """The event against what the design rainfall brings in its time, an hour at the least."""
    site = wall.project.site
    event, time, rate = (site.quantity(name) for name in ("rain_event", "rain_event_time", "design_rainfall"))
    if event is None or time is None or rate is None:
        return
    most = exactly(rate.exact * max(time.exact, HOUR), event)
    yield "rain of the design event", event, site.at("rain_event_time"), "the design rainfall in that time", most
