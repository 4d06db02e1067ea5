"""BK04: plywood blocking is thick enough.

Holds the thickness of plywood blocking against its requirement.

Right::

    - role: blocking
      kind: plywood
      thickness: 3/4 in

Wrong::

    - role: blocking
      kind: plywood
      thickness: 3/8 in
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="BK04",
    name="plywood blocking",
    title="Plywood blocking is thick enough to hold fasteners",
    severity=Severity.RISK,
    applies_to="blocking",
    reason="Thin plywood does not hold the fasteners of the cleat.",
    basis=("blocking.plywood",),
    remedy="Use thicker plywood, or solid wood.",
    options=(Option("thickness", "length", "blocking.plywood", "least thickness of plywood blocking"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The thickness, where the blocking is plywood."""
    blocking = wall.part("blocking")
    if blocking is None or blocking.kind != "plywood":
        yield not_applicable("no plywood blocking is described")
    else:
        yield hold(wall, "blocking.thickness", blocking)
