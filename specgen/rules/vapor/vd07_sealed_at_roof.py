"""VD07: the cavity of the parapet is sealed against air of the building.

Looks at `cavity_at_roof`. Boards, plates and fire blocks close a cavity and let air pass; an open cavity is
VD05's. Whether the seal joins the air barriers of roof and wall is a matter of the air path.

Right::

    cavity_at_roof: sealed airtight

Wrong::

    cavity_at_roof: closed but not airtight
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.wall.facts import solid_framing

RULE = Rule(
    name="parapet sealed at roof level",
    severity=Severity.RISK,
    applies_to="parapet",
    reason="Air that leaks into the parapet carries more water than diffusion does.",
    basis=("vapor.sealed_at_roof",),
    remedy="Seal the cavity at roof level to the air barriers of roof and wall.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated closure, where it is not open."""
    closure, mark = wall.parapet.word("cavity_at_roof"), wall.parapet.at("cavity_at_roof")
    if solid_framing(wall) or closure in (None, "open to the rooms below"):
        yield not_applicable("no closed cavity is stated")
    elif closure == "sealed airtight":
        yield ok("the cavity is sealed airtight", mark)
    else:
        yield fail("the cavity is closed at roof level, and air passes the closure", mark)
