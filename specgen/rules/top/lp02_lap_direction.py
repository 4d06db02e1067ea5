"""LP02: laps run shingle-wise.

Looks at `upper` of each lap that water crosses: the top flashing lies over the barrier and over the roof
base flashing, the barrier over the flange of the weep screed. A lap against the water catches it.

Right::

    - between: [top flashing, barrier]
      lap: 4 in
      upper: top flashing

Wrong::

    - between: [top flashing, barrier]
      lap: 4 in
      upper: barrier
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component, Transition
from specgen.rules.remedy import Remedy, SetLap
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    severity=Severity.DEFECT,
    applies_to="transitions",
    reason="A lap against the flow of water catches it and leads it into the wall.",
    basis=("flashing.shingle",),
    remedy="Lay the upper membrane over the lower one.",
)
CROSSED = (("top flashing", "barrier"), ("top flashing", "roof turn-up"), ("barrier", "weep screed"))
REMEDIES: tuple[Remedy, ...] = (
    (SetLap("top flashing", "barrier"),),
    (SetLap("top flashing", "roof turn-up"),),
    (SetLap("barrier", "weep screed"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The direction of every lap that water crosses."""
    laps = [
        (joint, upper, lower)
        for over, under in CROSSED
        for upper in wall.parapet.all_of(over)
        for lower in wall.parapet.all_of(under)
        for joint in wall.parapet.between(upper, lower)
    ]
    for joint, upper, lower in laps:
        yield _direction(joint, upper, lower)
    if not laps:
        yield not_applicable("no lap that water crosses is described")


def _direction(joint: Transition, upper: Component, lower: Component) -> RuleResult:
    between = f"`{joint.first}` and `{joint.second}`"
    if not joint.has("upper"):
        missing = f"transition between {between}: add `upper`"
        return unknown(f"which of {between} lies on top is not stated", missing, joint.mark, upper.id)
    if joint.word("upper") == upper.id:
        return ok(f"{upper.role} laps over {lower.role}", joint.at("upper"), upper.id)
    return fail(
        f"{lower.role} laps over {upper.role}, against the flow of water", joint.at("upper"), upper.id
    )
