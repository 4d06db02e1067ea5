"""JT02: a building joint is wider than the movement by which it closes.

Right::

    joints:
      - name: J-1
        what: expansion
        width: 2 in
        movement: 1 in

Wrong::

    joints:
      - name: J-1
        what: expansion
        width: 1 in
        movement: 1 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.units.compare import at_most

RULE = Rule(
    severity=Severity.DEFECT,
    applies_to="joints",
    reason="A joint that closes crushes the plaster and the metal on both of its edges.",
    basis=("joint.closing",),
    remedy="Widen the joint, or have the structural engineer confirm the movement.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Each joint: its width against its movement."""
    if not wall.parapet.joints:
        yield not_applicable("no building joint is listed")
    for joint in wall.parapet.joints:
        name, width, movement = joint.word("name"), joint.quantity("width"), joint.quantity("movement")
        if width is None or movement is None:
            lacking = "width" if width is None else "movement"
            yield not_stated(f"{lacking} of joint {name}", joint, lacking, "")
            continue
        message = f"joint {name} is {width.text} wide and closes by {movement.text}"
        if at_most(width, movement):
            yield fail(message, joint.at("width"))
        else:
            yield ok(message, joint.at("width"))
