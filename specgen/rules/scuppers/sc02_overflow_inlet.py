"""SC02: the overflow inlet lies just above the roof's low point.

Holds the inlet of each overflow scupper against the least height of practice above the low point of the roof, and
against a greatest height where a state or a place sets one by an amendment of the code; the model code sets none, and
limits the depth of the water instead (SC09).

Right::

    scuppers:
      - name: S-1
        use: overflow
        inlet_height: 2 in

Wrong::

    scuppers:
      - name: S-1
        use: overflow
        inlet_height: 1 in
"""

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Outcome, Severity
from specgen.rules.held import at_place, rule_of
from specgen.rules.rule import RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = rule_of(
    "scupper.inlet_least",
    "scupper.inlet_most",
    severity=Severity.RISK,
    remedy="Set the overflow inlet above the low point of the roof, no higher than the place allows.",
    reason="An overflow that is too low runs in every rain and tells nothing; one too high loads the roof.",
    applies_to="scuppers",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The inlet of each overflow scupper against its least and its greatest height."""
    overflows = [one for one in wall.parapet.scuppers if one.word("use") == "overflow"]
    for scupper in overflows:
        what = f"height of the inlet of overflow scupper {scupper.word('name')}"
        yield at_place(wall, "scupper.inlet_least", scupper, "inlet_height", what)
        if scupper.has("inlet_height") and wall.requirement("scupper.inlet_most"):
            most = at_place(wall, "scupper.inlet_most", scupper, "inlet_height", what)
            yield replace(most, severity=Severity.DEFECT) if most.outcome is Outcome.FAIL else most
    if not overflows:
        yield not_applicable("no overflow scupper is listed")
