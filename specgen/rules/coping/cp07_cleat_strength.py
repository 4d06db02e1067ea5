"""CP07: the cleat is heavier than the coping and its fasteners hold face and top.

Holds the cleat's thickness against the standard thickness one step above the coping's, in the cleat's own metal, and
the spacing of its fasteners against practice and against the calculation `cleat fasteners` where that has a result.
A stated pull-out or shear of one fastener is held against the calculation `cleat loads`, in which the pull of the face
and half the uplift of the top act on the same fasteners. Without a stated value the sections ask for both.

Right::

    - role: cleat
      kind: continuous
      metal: aluminum
      thickness: 0.063 in
      fastener_spacing: 12 in
      fasteners_at: face
      pull_out: 200 lbf
      shear: 300 lbf

Wrong::

    - role: cleat
      kind: continuous
      metal: aluminum
      thickness: 0.050 in
      fastener_spacing: 24 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of
from specgen.rules.rule import RuleResult, not_applicable, unknown
from specgen.rules.wall import Wall

RULE = rule_of(
    "cleat.thickness",
    "cleat.fastener_spacing",
    "cleat.pull_out",
    "cleat.shear",
    name="cleat thickness and fasteners",
    severity=Severity.RISK,
    remedy="Use a cleat one standard thickness heavier than the coping, and set its fasteners closer.",
    reason="A cleat that opens lets the whole face of the coping go.",
    basis=("cleat.heavier", "table standard_thickness", "cleat.fastener_spacing", "cleat.safety_factor"),
)
STEP = ("cleat.heavier", "table standard_thickness")
THICKNESS = Held(("cleat.thickness",), basis=STEP)
SPACING = Held(("cleat.fastener_spacing",), basis=("cleat.fastener_spacing",))
CAPACITY = Held(("cleat.pull_out", "cleat.shear"), if_stated=True, basis=("cleat.safety_factor",))


def check(wall: Wall) -> Iterator[RuleResult]:
    """Thickness, fastener spacing and stated capacity of the fasteners of each cleat of a metal coping."""
    coping, cleats = wall.part("coping"), wall.parapet.all_of("cleat")
    if coping is None or not cleats or not wall.kind(coping).metal:
        yield not_applicable("no cleat of a metal coping is described")
        return
    stated, metal = coping.quantity("thickness"), coping.word("metal")
    because = (f"coping {metal} {stated.text}",) if stated and metal else ()
    if wall.requirement("cleat.thickness") is None:
        message = "no standard thickness one step above the coping's is known for the cleat"
        missing = "metal and thickness of the coping, or a cleat by the structural engineer"
        yield unknown(message, missing, cleats[0].mark, cleats[0].id, because, ("table standard_thickness",))
    else:
        yield from THICKNESS(wall, because)
    yield from SPACING(wall)
    yield from CAPACITY(wall)
