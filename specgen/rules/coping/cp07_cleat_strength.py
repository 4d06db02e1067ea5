"""CP07: the cleat is one step heavier than the coping, its fasteners close enough.

Holds the cleat's thickness against the standard thickness one step above the coping's, in the cleat's own metal, and
the spacing of its fasteners against practice and against the calculation `cleat fasteners` where that has a result.

Right::

    - role: cleat
      kind: continuous
      metal: aluminum
      thickness: 0.063 in
      fastener_spacing: 12 in

Wrong::

    - role: cleat
      kind: continuous
      metal: aluminum
      thickness: 0.050 in
      fastener_spacing: 24 in
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    code="CP07",
    name="cleat thickness and fasteners",
    title="The cleat is heavier than the coping and fastened closely",
    severity=Severity.RISK,
    applies_to="cleat",
    reason="A cleat that opens lets the whole face of the coping go.",
    basis=("cleat.heavier", "table standard_thickness", "cleat.fastener_spacing"),
    remedy="Use a cleat one standard thickness heavier than the coping, and set its fasteners closer.",
    options=(
        Option(
            "fastener spacing",
            "length",
            "cleat.fastener_spacing",
            "greatest spacing of the cleat's fasteners",
        ),
    ),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Thickness and fastener spacing of the cleat of a metal coping."""
    coping, cleat = wall.part("coping"), wall.part("cleat")
    if coping is None or cleat is None or not wall.kind(coping).metal:
        yield not_applicable("no cleat of a metal coping is described")
        return
    yield _thickness(wall, coping, cleat)
    yield replace(hold(wall, "cleat.fastener_spacing", cleat), basis=("cleat.fastener_spacing",))


def _thickness(wall: Wall, coping: Component, cleat: Component) -> RuleResult:
    stated, metal = coping.quantity("thickness"), coping.word("metal")
    because = (f"coping {metal} {stated.text}",) if stated and metal else ()
    if wall.requirement("cleat.thickness") is None:
        message = "no standard thickness one step above the coping's is known for the cleat"
        missing = "metal and thickness of the coping, or a cleat by the structural engineer"
        return unknown(message, missing, cleat.mark, cleat.id, because, ("table standard_thickness",))
    said = hold(wall, "cleat.thickness", cleat, because=because)
    return replace(said, basis=("cleat.heavier", "table standard_thickness"))
