"""RT14: the roof slopes to its drains.

Holds the stated slope of the roof against the code's least slope of a roof with a membrane. On a standing building it
is a question, because the code excepts a roof that is covered anew and drains.

Right::

    building: {roof_slope: 1/4 in/ft}

Wrong::

    building: {roof_slope: 1/8 in/ft}
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_least

RULE = Rule(
    severity=Severity.RISK,
    applies_to="building",
    reason="Water that stands at the foot of the parapet finds each flaw of the base flashing.",
    basis=("roof.slope",),
    remedy="Slope the roof by its structure or by tapered insulation, with crickets along the parapet.",
    options=(Option("slope", "roof.slope", "least slope of the roof"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated slope of the roof."""
    building, stated = wall.project.building, wall.project.building.quantity("roof_slope")
    least, standing = wall.practice.quantity("roof.slope"), wall.parapet.existing is not None
    if stated is None:
        message = "the slope of the roof is not stated"
        missing = "add `building.roof_slope`"
        yield not_applicable(message) if standing else unknown(message, missing, building.at("roof_slope"))
        return
    _, asked = wall.beside(stated, "at least", least)
    message = f"the roof slopes {stated.text}; asked for: at least {asked}"
    if at_least(stated, least):
        yield ok(message, building.at("roof_slope"))
    else:
        yield fail(message, building.at("roof_slope"), severity=Severity.QUERY if standing else None)
