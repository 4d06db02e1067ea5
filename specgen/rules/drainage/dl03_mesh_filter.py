"""DL03: a drainage mesh has a filter fabric toward the plaster.

Looks at the filter fabric of a drainage layer of kind mesh. Mortar pressed through the lath fills an open
mesh.

Right::

    - role: drainage layer
      kind: mesh
      filter_fabric: yes

Wrong::

    - role: drainage layer
      kind: mesh
      filter_fabric: no
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.remedy import Remedy, SetKind
from specgen.rules.rule import Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="DL03",
    name="mesh filter",
    title="A drainage mesh has a filter fabric toward the plaster",
    severity=Severity.RISK,
    applies_to="drainage layer",
    reason="Without the fabric the mortar fills the mesh.",
    basis=("drainage.filter",),
    remedy="Use a mesh with a filter fabric bonded to the face toward the plaster.",
)
REMEDIES: tuple[Remedy, ...] = ((SetKind("drainage layer", "dimpled sheet"),),)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The fabric, where the layer is a mesh."""
    layer = wall.part("drainage layer")
    if layer is None or wall.requirement("drainage.filter") is None:
        yield not_applicable("no drainage mesh is described")
    else:
        wrong = "the drainage mesh has no filter fabric toward the plaster"
        yield hold(wall, "drainage.filter", layer, wrong)
