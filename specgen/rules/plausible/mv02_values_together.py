"""MV02: values that each can be also fit together.

A summer colder than the winter, air that holds more water than it can at its temperature, a panel larger than its longest
side squared, a month beyond the design temperatures, a corner or a scupper beyond the end of its parapet, a scupper
above its top, plaster or a clearance higher than the building, a rain event heavier than the design rainfall: one of the
two values is a slip, and which one a reader cannot tell.

Right::

    site: {temp_summer: 93 degF, temp_winter: 17 degF, dew_point_summer: 75 degF}

Wrong::

    site: {temp_summer: 76 degF, dew_point_summer: 80 degF}
"""

from collections.abc import Iterator
from fractions import Fraction

from specgen.files.marks import Mark
from specgen.model.finding import Severity
from specgen.model.project import Record
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.units.compare import at_most
from specgen.units.months import months
from specgen.units.quantity import Quantity, exactly
from specgen.wall.code import top_of_wall

RULE = Rule(
    name="values together",
    severity=Severity.RISK,
    applies_to="site and parapet",
    reason="Of two values that contradict each other one is wrong, and what is calculated with it is wrong with it.",
    basis=("values.together",),
    remedy="Correct the value that is wrong.",
)
HOUR = Fraction(3600)  # s
CLEARANCES = ("above_earth", "above_paving")
Pair = tuple[str, Quantity, Mark, str, Quantity]  # what, value, its place; of what, the most that it can be


def check(wall: Wall) -> Iterator[RuleResult]:
    """The design temperatures of the site, the panels of each plaster, and each value against one that bounds it."""
    found = [*_site(wall.project.site)]
    for what, value, mark, of, most in (*_along(wall), *_through(wall), *_up(wall), *_rain(wall)):
        shown, limit = wall.beside(value, "at most", most)
        message = f"{what} is {shown}; {of} is {limit}"
        found.append(ok(message, mark) if at_most(value, most) else fail(f"{message}: both cannot be", mark))
    for part in wall.parapet.all_of("plaster"):
        found += _panel(part, part.id)
    if not found:
        yield not_applicable("no two values are stated that could contradict each other")
    yield from found


def _site(site: Record) -> Iterator[RuleResult]:
    summer = site.quantity("temp_summer")
    winter, dew_point = site.quantity("temp_winter"), site.quantity("dew_point_summer")
    if summer and winter:
        holds = at_most(winter, summer) and not at_most(summer, winter)
        message = f"summer design temperature {summer.text}, winter design temperature {winter.text}"
        yield _say(holds, message, "the winter is not the colder one", site, "temp_winter")
    if winter and summer and (text := site.word("temp_months")) is not None:
        mean = sorted(months(text, "temperature"), key=lambda one: one.exact)
        message = (
            f"coldest month {mean[0].text}, warmest {mean[-1].text}; design {winter.text} to {summer.text}"
        )
        holds = at_most(winter, mean[0]) and at_most(mean[-1], summer)
        yield _say(
            holds, message, "the mean of a month lies between the design temperatures", site, "temp_months"
        )
    if summer and dew_point:
        message = f"summer design temperature {summer.text}, summer dew point {dew_point.text}"
        wrong = "air holds no more water than at a dew point equal to its temperature"
        yield _say(at_most(dew_point, summer), message, wrong, site, "dew_point_summer")


def _panel(part: Record, layer: str) -> Iterator[RuleResult]:
    area, length = part.quantity("panel_area"), part.quantity("panel_length")
    if area and length:
        message = f"largest panel {area.text}, longest side of a panel {length.text}"
        wrong = "no panel is larger than the square of its longest side"
        holds = at_most(area, exactly(length.exact**2, area))
        yield _say(holds, message, wrong, part, "panel_area", layer)


def _say(holds: bool, message: str, wrong: str, record: Record, name: str, layer: str = "") -> RuleResult:
    if holds:
        return ok(message, record.at(name), layer)
    return fail(f"{message}: {wrong}", record.at(name), layer)


def _along(wall: Wall) -> Iterator[Pair]:
    """Places along the parapet: a corner, a step, a building joint, and both edges of a scupper's opening."""
    length = wall.parapet.quantity("length")
    for place in wall.parapet.along:
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
    """Half the width of an opening [m], 0 of what is none."""
    width = place.quantity("width") if place.what == "scupper" else None
    return width.exact / 2 if width is not None else Fraction(0)


def _through(wall: Wall) -> Iterator[Pair]:
    """The upper edge of each scupper's opening above the roof; an inlet that is not stated lies at the roof."""
    top = wall.parapet.quantity("height")
    for place in wall.parapet.scuppers:
        high, inlet = place.quantity("height"), place.quantity("inlet_height")
        if top is not None and high is not None:
            edge = exactly(high.exact + (inlet.exact if inlet else 0), high)
            what = f"upper edge of the opening of {place.word('name')} above the roof"
            yield what, edge, place.at("height"), "the height of the parapet", top


def _up(wall: Wall) -> Iterator[Pair]:
    """Heights above the ground: the plaster, and what lies below the weep screed."""
    top, of = top_of_wall(wall), "the height of the building with its parapet"
    if top is None:
        return
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
    yield (
        "rain of the design event",
        event,
        site.at("rain_event_time"),
        "the design rainfall in that time",
        most,
    )
