"""RT09: the roof turn-up ends on the parapet, where the coping can lap it.

Compares the height of the base flashing with that of the parapet, and the stated lap of the coping's interior face
with the metal that it would take. A base flashing higher than its parapet, and a leg longer than any face of the
table, are questions: one of the sizes is wrong, or the roof side between the two is not described.

Right::

    - role: roof turn-up
      kind: TPO
      height: 40 in

Wrong::

    - role: roof turn-up
      kind: TPO
      height: 50 in
"""

from collections.abc import Iterator
from fractions import Fraction

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.practice.entries import cell
from specgen.rules.held import each_layer
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.units.compare import at_most
from specgen.units.quantity import Quantity, exactly

RULE = Rule(
    name="base flashing and parapet",
    severity=Severity.QUERY,
    applies_to="roof turn-up",
    reason="Between a low base flashing and the coping the roof side of the wall is open to the rain.",
    basis=("turnup.within_parapet", "table coping_thickness"),
    remedy="Correct the heights, or describe what covers the roof side above the base flashing.",
)
HEIGHT = ("turnup.within_parapet",)
COVERS = ("barrier", "plaster")


@each_layer("roof turn-up")
def check(wall: Wall, turn_up: Component) -> Iterator[RuleResult]:
    """The base flashing against the parapet, then against the reach of the coping."""
    height = wall.parapet.quantity("height")
    reach = turn_up.quantity("height")
    if height is None or reach is None:
        yield not_applicable("the heights of the parapet and of the roof turn-up are not both stated")
        return
    mark = turn_up.at("height")
    message = f"the roof turn-up is {reach.text} high, the parapet {height.text}"
    if not at_most(reach, height):
        yield fail(message, mark, turn_up.id, basis=HEIGHT)
        return
    yield ok(message, mark, turn_up.id, basis=HEIGHT)
    coping = wall.part("coping")
    leg = coping.quantity("inner_leg") if coping and wall.kind(coping).metal else None
    if coping is not None and leg is not None and not _covered(wall, turn_up):
        yield _reached(wall, turn_up, coping, leg, height.exact - reach.exact)


def _covered(wall: Wall, turn_up: Component) -> bool:
    """Whether something else than the base flashing keeps the water off the roof side."""
    order = [part.role for part in wall.parapet.build_up]
    core = order.index("framing") if "framing" in order else 0
    beside = order[core : wall.parapet.build_up.index(turn_up)]
    return wall.parapet.word("inner_face") != "roof membrane" or any(role in COVERS for role in beside)


def _reached(wall: Wall, turn_up: Component, coping: Component, leg: Quantity, free: Fraction) -> RuleResult:
    rows = wall.practice.table("coping_thickness").rows
    longest = max((cell(row, "face_up_to") for row in rows), key=lambda face: face.exact)
    needed = exactly(free + leg.exact, leg)
    shown, most = wall.beside(needed, "at most", longest)
    message = f"to lap the base flashing by {leg.text} the interior face of the coping is {shown} high"
    if at_most(needed, longest):
        return ok(message, coping.at("inner_leg"), turn_up.id)
    return fail(f"{message}, more than {most}", coping.at("inner_leg"), turn_up.id)
