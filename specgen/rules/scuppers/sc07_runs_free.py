"""SC07: the design rainfall passes each scupper below the upper edge of its opening.

Reads the calculation `scuppers`: the flow at the primary scupper and at the overflow that governs. An opening that runs
full backs the water up fast, and leaves no air for what floats on it.

Right::

    scuppers:
      - {name: S-1, use: primary, width: 12 in, height: 6 in, area_served: 1400 ft2}
      - {name: S-2, use: overflow, width: 24 in, height: 6 in, inlet_height: 2 in, area_served: 1400 ft2}

Wrong::

    scuppers:
      - {name: S-1, use: primary, width: 12 in, height: 6 in, area_served: 25000 ft2}
      - {name: S-2, use: overflow, width: 24 in, height: 6 in, inlet_height: 2 in, area_served: 1400 ft2}
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.units.compare import computed_at_most

RULE = Rule(
    name="scuppers that run free",
    severity=Severity.RISK,
    applies_to="scuppers",
    reason="An opening that runs full backs the water up fast, and leaves no air for what floats on it.",
    basis=("scupper.runs_free",),
    remedy="Widen the scupper, add one, or correct the roof area that it serves.",
)
SUBJECT = "scuppers"


def check(wall: Wall) -> Iterator[RuleResult]:
    """The flow at the primary scuppers and at the overflows, by calculation."""
    done = wall.calculations.get(SUBJECT)
    if not wall.parapet.scuppers or done is None or not done.done:
        yield not_applicable("the flow at the scuppers is not calculated; SC06 tells what is missing")
        return
    for use in ("primary", "overflow"):
        place = next((one for one in wall.parapet.scuppers if one.word("use") == use), None)
        head, fill = (done.result(f"{use}_{name}") for name in ("head", "fill"))
        if place is None or head is None or fill is None:
            continue
        full = not computed_at_most(fill.value, 1.0)
        where = "over the upper edge of the opening" if full else "within the opening"
        message = (
            f"in the design rainfall the water at the {use} scupper stands {wall.shown(head)} high, {where}"
        )
        yield (fail if full else ok)(message, place.at("area_served"))
