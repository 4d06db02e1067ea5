"""CP04: the exterior face of the coping laps the cladding far enough.

Holds the stated lap over the upper edge of the plaster or the cladding against the requirement, which grows with the
height of the building: wind drives rain up under a short leg. The steps are those of German trade rules, for rendered and
for other faces alike; no code adopted here gives a lap, and an office sets its own by the options.

Right::

    - role: coping
      kind: formed metal
      outer_leg: 4 in

Wrong::

    - role: coping
      kind: formed metal
      outer_leg: 1 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of
from specgen.rules.rule import RuleResult, unknown
from specgen.rules.wall import Wall

RULE = rule_of(
    "coping.outer_leg",
    name="coping exterior face",
    severity=Severity.RISK,
    remedy="Lengthen the exterior face of the coping.",
)
LEG = Held(RULE.holds)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The exterior face of a metal coping, by the height of the building."""
    height = wall.project.building.quantity("height")
    metal = [part for part in wall.parapet.all_of("coping") if wall.kind(part).metal]
    if height is None and metal:
        message = "height of the building is not stated; the lap of the exterior face depends on it"
        yield unknown(message, "add `building.height`", metal[0].mark, metal[0].id)
    else:
        yield from LEG(wall, (f"building height {height.text}",) if height else ())
