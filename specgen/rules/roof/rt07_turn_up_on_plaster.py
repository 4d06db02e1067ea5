"""RT07: the roof membrane is not carried up on plaster.

Looks at what the base flashing lies on: the layer next to it on the outer side. Plaster, lath or a drainage layer there
means that the membrane ends on a cladding that water gets behind.

Right::

    - role: roof turn-up
      kind: TPO
      height: 12 in

Wrong::

    - role: plaster
      id: roof-side plaster
      kind: portland cement plaster
      thickness: 7/8 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall

RULE = Rule(
    name="base flashing on plaster",
    severity=Severity.DEFECT,
    applies_to="roof turn-up",
    reason="Plaster takes up water above the membrane and hands it to the wall behind the membrane.",
    basis=("turnup.not_on_plaster",),
    remedy="End the plaster in a weep screed above the roof, and carry the membrane up behind it on the sheathing.",
)
DRAINED = "drainage layer"
CLADDING = ("plaster", "lath", DRAINED)


@each_layer("roof turn-up")
def check(wall: Wall, turn_up: Component) -> Iterator[RuleResult]:
    """The layer under the base flashing."""
    roles = wall.practice.vocabulary.roles
    layers = [part for part in wall.parapet.build_up if not roles[part.role].edge]
    at = [part.id for part in layers].index(turn_up.id)
    before, behind = layers[max(at - 1, 0) : at], layers[at + 1 : at + 2]
    framed = any(part.role == "framing" for part in layers[:at])
    if framed and behind and behind[0].role == DRAINED:
        behind = []  # plaster on the roof side that hangs clear of the membrane
    neighbors = [*before, *behind]
    cladding = next((part for part in neighbors if part.role in CLADDING), None)
    if cladding is not None:
        yield fail(f"the roof turn-up lies on the {cladding.role}", turn_up.mark, turn_up.id)
    elif not neighbors:
        yield not_applicable("nothing is described that the base flashing could lie on")
    else:
        yield ok(f"the roof turn-up lies on the {neighbors[0].role}", turn_up.mark, turn_up.id)
