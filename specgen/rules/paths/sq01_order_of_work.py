"""SQ01: there is an order in which the trades can build the parapet.

Derives the order of work from laps and build-up. Where parts wait for each other in a circle, there is none: the finding
names the parts and their trades.

Right::

    - between: [top flashing, roof turn-up]
      lap: 4 in
      upper: top flashing

Wrong::

    - between: [coping, top flashing]
      upper: top flashing
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Rule, RuleResult, fail, ok
from specgen.rules.wall import Wall
from specgen.units.counted import many

RULE = Rule(
    severity=Severity.DEFECT,
    applies_to="transitions",
    reason="Where two trades wait for each other, one of them laps the wrong way or cuts what is finished.",
    basis=("path.sequence",),
    remedy="Change one of the laps named in the finding, so that one trade can finish before the next.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """What the laps name and the parapet has not; then a cycle, or an order."""
    for joint in wall.parapet.transitions:
        for end in (joint.first, joint.second):
            if wall.parapet.by_id(end) is None:
                yield fail(f"a transition names `{end}`, which is no component of the parapet", joint.mark)
    found = wall.order
    if found.cycle is None:
        yield ok(
            f"{many(len(found.steps), 'part')} can be built in order, with {many(found.handovers, 'handover')}"
        )
        return
    cycle = found.cycle
    laps = [one for one in wall.parapet.transitions if {one.first, one.second} <= set(cycle.components)]
    mark = laps[0].mark if laps else None
    yield fail(cycle.text, mark, cycle.components[0])
