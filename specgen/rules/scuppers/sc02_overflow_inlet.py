"""SC02: the overflow inlet lies just above the roof's low point.

Holds the inlet of each overflow scupper between the two heights of the code above the low point of the roof.

Right::

    scuppers:
      - name: S-1
        use: overflow
        inlet_height: 2 in

Wrong::

    scuppers:
      - name: S-1
        use: overflow
        inlet_height: 6 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.held import at_place, rule_of
from specgen.rules.rule import RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = rule_of(
    "scupper.inlet_least",
    "scupper.inlet_most",
    severity=Severity.DEFECT,
    remedy="Set the overflow inlet between the two heights above the low point of the roof.",
    reason="An overflow that is too low runs in every rain and tells nothing; one too high loads the roof.",
    applies_to="scuppers",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The inlet of each overflow scupper against its least and its greatest height."""
    overflows = [one for one in wall.parapet.scuppers if one.word("use") == "overflow"]
    for scupper in overflows:
        what = f"height of the inlet of overflow scupper {scupper.word('name')}"
        bounds = RULE.holds if scupper.has("inlet_height") else RULE.holds[:1]
        for name in bounds:
            yield at_place(wall, name, scupper, "inlet_height", what)
    if not overflows:
        yield not_applicable("no overflow scupper is listed")
