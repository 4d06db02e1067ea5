"""SC02: the overflow inlet lies at the right height.

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

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Record
from specgen.rules.hold import not_stated
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall

RULE = Rule(
    code="SC02",
    name="overflow inlet",
    title="The overflow inlet lies just above the roof's low point",
    severity=Severity.DEFECT,
    applies_to="scuppers",
    reason="An overflow that is too low runs in every rain and tells nothing; one too high loads the roof.",
    basis=("scupper.overflow_inlet", "scupper.overflow_inlet_most"),
    remedy="Set the overflow inlet between the two heights above the low point of the roof.",
    options=(
        Option("least", "length", "scupper.overflow_inlet", "least height of the overflow inlet"),
        Option("greatest", "length", "scupper.overflow_inlet_most", "greatest height of the overflow inlet"),
    ),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The inlet of each overflow scupper."""
    overflows = [one for one in wall.parapet.scuppers if one.word("use") == "overflow"]
    for scupper in overflows:
        yield _inlet(wall, scupper)
    if not overflows:
        yield not_applicable("no overflow scupper is listed")


def _inlet(wall: Wall, scupper: Record) -> RuleResult:
    least = wall.practice.quantity("scupper.overflow_inlet")
    most = wall.practice.quantity("scupper.overflow_inlet_most")
    inlet = scupper.quantity("inlet_height")
    what = f"inlet of overflow scupper {scupper.word('name')}"
    if inlet is None:
        return not_stated(f"height of the {what}", scupper, "inlet_height", "")
    between = least.value * (1 - 1e-9) <= inlet.value <= most.value * (1 + 1e-9)
    asked = f"{wall.shown(least, 'up')} to {wall.shown(most, 'down')}"
    message = f"{what} is {inlet.text} above the low point; asked for: {asked}"
    return (ok if between else fail)(message, scupper.at("inlet_height"))
