"""CP19: where the height changes the lower coping ends in an end dam, and both ends are closed.

Looks at each named step: end dam, the ends of the two copings, and the top flashing that runs up the higher part. A top
of stone or plaster has no metal to close: the flashing alone is looked at.

Right::

    steps:
      - name: at the stair
        height: 18 in
        coping: welded
        flashing: preformed piece
        end_dam: yes

Wrong::

    steps:
      - name: at the stair
        height: 18 in
        coping: welded
        flashing: preformed piece
        end_dam: no
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.paths.broken import place_report
from specgen.rules.rule import Rule, RuleResult
from specgen.rules.wall import Wall

RULE = Rule(
    name="coping at a step in height",
    severity=Severity.DEFECT,
    applies_to="steps",
    reason="Water that runs along the lower coping ends in the flank of the higher part.",
    basis=("coping.steps", "table place_details"),
    remedy="Weld or solder an end dam to the lower coping, close the end of the upper one, and turn the flashing up.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The breaks at the steps."""
    yield from place_report(wall, "step", "no step in height is listed", "the top goes on over the step")
