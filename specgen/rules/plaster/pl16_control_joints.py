"""PL16: a face longer than one panel has control joints.

Looks at parapets whose plaster is stated to have no control joints. One that is no longer than the longest panel
passes; a longer one is a risk, whatever the stated size of its panels. Joints not stated are taken from the panels
(PL01).

Right::

    length: 60 ft
    build_up:
      - role: plaster
        kind: portland cement plaster
        control_joints: yes

Wrong::

    length: 60 ft
    build_up:
      - role: plaster
        kind: portland cement plaster
        control_joints: no
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_most

RULE = Rule(
    severity=Severity.RISK,
    applies_to="plaster",
    reason="Plaster without joints makes its own: it cracks where it is weakest.",
    basis=("plaster.panel_length",),
    remedy="Divide the plaster by control joints, with the lath stopped at each.",
)


@each_layer("plaster")
def check(wall: Wall, plaster: Component) -> Iterator[RuleResult]:
    """The stated absence of joints, against the length of the parapet."""
    length = wall.parapet.quantity("length")
    if not plaster.has("control_joints"):
        yield not_applicable("whether the plaster has control joints is not stated")
        return
    mark = plaster.at("control_joints")
    if plaster.flag("control_joints"):
        yield ok("the plaster has control joints", mark, plaster.id)
    elif length is None:
        missing = f"parapet `{wall.parapet.name}`: add `length`"
        yield unknown(
            "the plaster has no control joints; its length is not stated", missing, mark, plaster.id
        )
    else:
        longest = wall.practice.quantity("plaster.panel_length")
        _, most = wall.beside(length, "at most", longest)
        message = f"the plaster has no control joints in {length.text}; the longest panel is {most}"
        say = ok if at_most(length, longest) else fail
        yield say(message, mark, plaster.id)
