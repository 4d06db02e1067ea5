"""JT01: a building joint parts every layer at one place, and barrier, flashing and coping cross it.

Looks at each named joint: whether plaster, lath, board and framing are parted at one place, whether barrier and top
flashing cross in a loop, and whether the coping ends on both sides under a cover that slides. Of a top of stone or
plaster the cover is not looked at.

Right::

    joints:
      - name: J-1
        what: expansion
        width: 2 in
        every_layer: yes
        coping: sliding cover
        flashing: looped
        barrier: looped

Wrong::

    joints:
      - name: J-1
        what: expansion
        width: 2 in
        every_layer: yes
        coping: runs through
        flashing: looped
        barrier: looped
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.paths.broken import place_report
from specgen.rules.rule import Rule, RuleResult
from specgen.rules.wall import Wall

RULE = Rule(
    name="building joint",
    severity=Severity.DEFECT,
    applies_to="joints",
    reason="What runs through a building joint, or is parted beside it, tears where the building moves.",
    basis=("joint.parted", "table place_details"),
    remedy="Part every layer at the joint, loop barrier and top flashing across it, and cover it with metal that slides.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The breaks at the building joints."""
    right = "every layer is parted; barrier, flashing and cover cross it"
    yield from place_report(wall, "joint", "no building joint is listed", right)
