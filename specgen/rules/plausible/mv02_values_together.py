"""MV02: values that each can be also fit together.

A summer colder than the winter, air that holds more water than it can at its temperature, a panel larger than its longest
side squared: one of the two values is a slip, and which one a reader cannot tell.

Right::

    site: {temp_summer: 93 degF, temp_winter: 17 degF, dew_point_summer: 75 degF}

Wrong::

    site: {temp_summer: 60 degF, temp_winter: 75 degF}
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Record
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.units.compare import at_most
from specgen.units.quantity import exactly

RULE = Rule(
    name="values together",
    severity=Severity.RISK,
    applies_to="site and plaster",
    reason="Of two values that contradict each other one is wrong, and what is calculated with it is wrong with it.",
    basis=("values.together",),
    remedy="Correct the value that is wrong.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The design temperatures of the site, and the panels of each plaster."""
    found = [*_site(wall.project.site)]
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
