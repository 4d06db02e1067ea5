"""PL16: a face longer than one panel has control joints.

Looks at parapets whose plaster is stated to have no control joints. One that is no longer than the longest panel
passes; a longer one is a risk, whatever the stated size of its panels. Joints not stated of new plaster
follow from the panels that the sections ask for (PL01).

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
from specgen.model.requirement import Requirement
from specgen.rules.held import each_layer
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, RuleResult, fail, ok, specified, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_most
from specgen.wall.specified import new_work

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
    mark, panels = plaster.at("control_joints"), wall.requirement("plaster.panel_length", plaster)
    if plaster.flag("control_joints") is None:
        yield _not_stated(wall, plaster, panels)
        return
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


def _not_stated(wall: Wall, plaster: Component, panels: Requirement | None) -> RuleResult:
    """Joints of new plaster follow from the panels that the sections ask for."""
    new = new_work(wall.project, wall.parapet, wall.practice, plaster)
    if panels is None or not new or plaster.leaves("control_joints"):
        return not_stated("joints of the plaster", plaster, "control_joints", plaster.id)
    message = f"the control joints follow from the panels that Section {panels.section} asks for"
    return specified(ok(message, plaster.mark, plaster.id), message)
