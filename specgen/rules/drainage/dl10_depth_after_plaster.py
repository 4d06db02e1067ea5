"""DL10: a drainage mesh keeps its depth after the plaster is pressed on.

Holds the depth that the mock-up shows behind the finished plaster against the drainage depth. Mortar that
passes the fabric takes the depth that the product data state.

Right::

    - role: drainage layer
      kind: mesh
      depth: 3/8 in
      depth_after_plaster: 1/4 in

Wrong::

    - role: drainage layer
      kind: mesh
      depth: 3/8 in
      depth_after_plaster: 1/8 in
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="DL10",
    name="mesh after plastering",
    title="A drainage mesh keeps its depth after the plaster is pressed on",
    severity=Severity.RISK,
    applies_to="drainage layer",
    reason="Mortar pressed into a mesh takes its depth, and what it leaves may not drain.",
    basis=(
        "drainage.after_plaster",
        "drainage.depth",
    ),
    remedy="Use a mesh with a tighter fabric or a greater depth, and measure again on the mock-up.",
    options=(Option("depth", "length", "drainage.depth", "least depth left open"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The depth left open, where the layer is a mesh."""
    layer = wall.part("drainage layer")
    if layer is None or wall.requirement("drainage.depth_after_plaster") is None:
        yield not_applicable("no drainage mesh is described")
    else:
        yield hold(wall, "drainage.depth_after_plaster", layer)
