"""CP19: where the height changes the lower coping ends in an end dam, and both ends are closed.

Looks at each named step: end dam, the ends of the two copings, and the top flashing that runs up the higher part. A step
lower than its end dam is a risk: the dam that the sections ask for does not fit. A top of stone or plaster has no metal
to close: the flashing alone is looked at.

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
from specgen.rules.rule import Rule, RuleResult, fail
from specgen.rules.wall import Wall
from specgen.units.compare import at_least
from specgen.wall.facts import coping_metal

RULE = Rule(
    name="coping at a step in height",
    severity=Severity.DEFECT,
    applies_to="steps",
    reason="Water that runs along the lower coping ends in the flank of the higher part.",
    basis=("coping.steps", "table place_details", "field.end_dam"),
    remedy=(
        "Weld or solder an end dam to the lower coping, close the end of the upper one, and turn the flashing up; make a "
        "step higher than its end dam."
    ),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The breaks at the steps."""
    yield from place_report(wall, "step", "no step in height is listed", "the top goes on over the step")
    for step in wall.parapet.steps if coping_metal(wall) else ():
        height, dam = step.quantity("height"), wall.practice.quantity("field.end_dam")
        if step.flag("end_dam") and height is not None and not at_least(height, dam):
            shown, asked = wall.beside(height, "at least", dam)
            message = (
                f"step {step.word('name')} is {shown} high; the end dam of its lower coping is asked for at least "
                f"{asked} high"
            )
            yield fail(message, step.at("height"), severity=Severity.RISK, basis=("field.end_dam",))
