"""LP01: the top flashing laps over the barrier and over the roof turn-up.

Looks for both laps among the transitions and holds each against its requirement. A lap that is not described
is a defect: nothing says that the two membranes meet. A short lap is a risk. On a tall parapet that is plastered on the
roof side too, the flashing laps the barrier there, and that barrier laps the low base flashing.

Right::

    - between: [top flashing, barrier]
      lap: 4 in
      upper: top flashing

Wrong::

    - between: [top flashing, barrier]
      lap: 2 in
      upper: top flashing
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.hold import hold_value
from specgen.rules.remedy import Known, Remedy, SetLap
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.undescribed import undescribed_lap
from specgen.rules.wall import Wall
from specgen.wall.order import joined_to, outer_side, roof_side, roof_side_barrier

RULE = Rule(
    name="flashing laps",
    severity=Severity.DEFECT,
    applies_to="transitions",
    reason="Water on the top must land on the outer face of the barrier and on the roof membrane.",
    basis=("flashing.lap_barrier", "flashing.lap_turnup"),
    remedy="Describe the lap as a transition, and lap the flashing as far as asked for.",
    options=(
        Option("lap over barrier", "flashing.lap_barrier", "least lap over the wall barrier"),
        Option(
            "lap over base flashing", "flashing.lap_turnup", "least lap over the roof membrane base flashing"
        ),
    ),
)
REMEDIES: tuple[Remedy, ...] = (
    (SetLap("top flashing", "barrier", Known("flashing.lap_barrier")),),
    (SetLap("top flashing", "roof turn-up", Known("flashing.lap_turnup")),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Both laps of the flashing."""
    flashing = wall.part("top flashing")
    pairs = list(_below(wall, flashing)) if flashing else []
    if flashing is None or not pairs:
        yield not_applicable("no top flashing, or nothing for it to lap over, is described")
        return
    between = roof_side_barrier(wall.parapet)
    for other, name in pairs:
        if between is None or other.role != "roof turn-up":
            yield from _laps(wall, flashing, other, name)
        else:
            yield from _laps(wall, flashing, between, "flashing.lap_barrier")
            yield from _laps(wall, between, other, name)


def _below(wall: Wall, flashing: Component) -> Iterator[tuple[Component, str]]:
    """What the flashing laps over: of several layers of barrier those it meets, or the one that is bonded."""
    outer = outer_side(wall.parapet, "barrier")
    met = [one for one in joined_to(wall.parapet, flashing, "barrier") if one in outer]
    if not met and wall.barrier:
        met = [wall.barrier]
    for barrier in met:
        yield barrier, "flashing.lap_barrier"
    turn_up = wall.part("roof turn-up")
    if turn_up:
        yield turn_up, "flashing.lap_turnup"


def _laps(wall: Wall, upper: Component, other: Component, name: str) -> Iterator[RuleResult]:
    joints = wall.parapet.between(upper, other)
    requirement = wall.requirement(name)
    over = upper.role if upper.role == "top flashing" else upper.id
    several = len(outer_side(wall.parapet, other.role)) > 1 or other in roof_side(wall.parapet, "barrier")
    below = other.id if several else other.role
    what = f"lap of the {over} over the {below}"
    if not joints:
        yield undescribed_lap(wall, upper, other, what, (name,))
    for joint in joints if requirement else ():
        assert requirement is not None
        none = joint.states("lap") and joint.si("lap") == 0
        wrong = f"the {over} does not lap over the {below}" if none else ""
        severity = Severity.DEFECT if none else Severity.RISK
        yield hold_value(wall, requirement, joint, "lap", upper.id, wrong, severity, what=what)
