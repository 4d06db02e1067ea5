"""RT08: turn-up, guard and overflow still comply after the roof has been raised.

Where the project states what a later roof covering adds (`building.reroof_height`), takes it off the turn-up, off a
parapet that guards the roof's edge, and off the overflow inlets, and holds what is left. A turn-up or an overflow
inlet that is then too low is a risk; a guard that no longer complies is a defect.

Right::

    building:
      reroof_height: 3 in

Wrong::

    building:
      reroof_height: 6 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Record
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_least
from specgen.units.quantity import Quantity, exactly

RULE = Rule(
    name="height lost by reroofing",
    severity=Severity.RISK,
    applies_to="building",
    reason="Insulation and membrane laid over the old roof take height from everything measured above it.",
    basis=("reroof.still_complies", "turnup.height", "guard.height", "scupper.overflow_inlet"),
    remedy="Raise the turn-up, add a guard, and raise the overflow inlets together with the roof.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """What the stated rise of the roof leaves of each height."""
    added = wall.project.building.quantity("reroof_height")
    if added is None:
        yield not_applicable("no later roof covering is stated")
        return
    turn_up = wall.part("roof turn-up")
    if turn_up is not None:
        yield _left(wall, added, turn_up, "height", "turnup.height", Severity.RISK, "roof turn-up")
    if _guards(wall):
        yield _left(
            wall, added, wall.parapet, "height", "guard.height", Severity.DEFECT, "parapet as a guard"
        )
    for scupper in wall.parapet.scuppers:
        if scupper.word("use") == "overflow":
            what = f"overflow inlet of scupper {scupper.word('name')}"
            yield _left(wall, added, scupper, "inlet_height", "scupper.overflow_inlet", Severity.RISK, what)
    if turn_up is None and not wall.parapet.scuppers:
        yield unknown("the roof turn-up is not described", "a component with `role: roof turn-up`")


def _guards(wall: Wall) -> bool:
    """Whether the parapet itself is the guard: stated, or high enough and nothing else stated."""
    stated, height = wall.project.building.word("guard"), wall.parapet.quantity("height")
    high = height is not None and at_least(height, wall.practice.quantity("guard.height"))
    return stated == "by parapet height" or (stated is None and high)


def _left(
    wall: Wall, added: Quantity, record: Record, name: str, key: str, severity: Severity, what: str
) -> RuleResult:
    stated, least = record.quantity(name), wall.practice.quantity(key)
    basis = ("reroof.still_complies", key)
    if stated is None:
        return unknown(f"height of the {what} is not stated", f"add `{name}`", record.mark, basis=basis)
    left = exactly(stated.exact - added.exact, stated)
    shown, asked = wall.beside(left, "at least", least)
    message = f"{what}: {stated.text} less {added.text} of a later roof covering leaves {shown}"
    if at_least(left, least):
        return ok(message, record.at(name), basis=basis)
    message = f"{message}; asked for: at least {asked}"
    return fail(message, record.at(name), "", severity, basis=basis)
