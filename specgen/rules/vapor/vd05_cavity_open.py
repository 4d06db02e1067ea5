"""VD05: the cavity of the parapet is not open to the rooms below.

Looks at `cavity_at_roof`. Warm moist air rises into an open parapet and condenses on its cold faces: a
defect in climates with a cold winter, a risk elsewhere.

Right::

    cavity_at_roof: sealed airtight

Wrong::

    cavity_at_roof: open to the rooms below
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.drainage.code_demand import zone_words
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.facts import solid_framing
from specgen.wall.site import cold_climate

RULE = Rule(
    name="cavity open to the rooms",
    severity=Severity.RISK,
    applies_to="parapet",
    reason="Air of the rooms rises into the parapet and condenses on its cold faces.",
    basis=("vapor.cavity_closed", "climate.cold_zones"),
    remedy="Close the cavity airtight at roof level, and insulate what is left.",
)
OPEN = "open to the rooms below"


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated closure; the severity by the climate."""
    parapet, zone = wall.parapet, wall.project.site.word("climate_zone")
    closure = parapet.word("cavity_at_roof")
    if solid_framing(wall):
        yield not_applicable("the parapet has no cavity")
    elif closure is None:
        message = "how the cavity of the parapet is closed at roof level is not stated"
        yield unknown(message, f"parapet `{parapet.name}`: add `cavity_at_roof`")
    elif closure == OPEN:
        severity = Severity.DEFECT if cold_climate(wall) else Severity.RISK
        because = (zone_words(zone),) if zone else ()
        message = "the cavity of the parapet is open to the rooms below"
        yield fail(message, parapet.at("cavity_at_roof"), severity=severity, because=because)
    else:
        yield ok(f"cavity at roof level: {closure}", parapet.at("cavity_at_roof"))
