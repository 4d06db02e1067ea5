"""CP17: the outer face of the coping is as high as the lap of its leg.

Compares the two values of a metal coping. A leg that laps the cladding by more than the face is high cannot be formed:
one of the two is wrong, and the metal, the wind load and the blank follow from them.

Right::

    - role: coping
      kind: formed metal
      outer_leg: 4 in
      outer_face_height: 6 in

Wrong::

    - role: coping
      kind: formed metal
      outer_leg: 8 in
      outer_face_height: 6 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.units.compare import at_most

RULE = Rule(
    name="face and leg of the coping",
    severity=Severity.QUERY,
    applies_to="coping",
    reason="Thickness, wind load and blank are taken from these two, and they cannot both be right.",
    basis=("coping.face_holds_leg",),
    remedy="Correct the height of the face, or the lap of the leg.",
)


@each_layer("coping")
def check(wall: Wall, coping: Component) -> Iterator[RuleResult]:
    """The lap of the leg against the height of the face."""
    leg = coping.quantity("outer_leg")
    face = coping.quantity("outer_face_height")
    if leg is None or face is None or not wall.kind(coping).metal:
        yield not_applicable("face and leg of a metal coping are not both stated")
        return
    message = f"exterior face laps the cladding by {leg.text}; the outer face is {face.text} high"
    say = ok if at_most(leg, face) else fail
    yield say(message, coping.at("outer_leg"), coping.id)
