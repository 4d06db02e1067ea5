"""TF02: the top flashing may touch the roof membrane's base flashing.

Compares the material families of the two. A pair known to harm is a defect; a pair that nobody listed is a
question to both manufacturers. Where the lap names a tape, the tape is judged against each side, and its
`compatible_with` lists the families its manufacturer approved in writing.

Right::

    - role: top flashing
      kind: TPO
    - role: roof turn-up
      kind: TPO

Wrong::

    - role: top flashing
      kind: self-adhered SBS
    - role: roof turn-up
      kind: TPO
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.remedy import FitKind, Remedy, TapeLap
from specgen.rules.rule import Rule, RuleResult, not_applicable
from specgen.rules.top.contact import TAPE, meet
from specgen.rules.wall import Wall
from specgen.wall.order import roof_side_barrier

RULE = Rule(
    name="flashing and roof membrane",
    severity=Severity.DEFECT,
    applies_to="top flashing",
    reason="Oils and plasticizers that migrate between two membranes soften both, and the bond opens.",
    basis=TAPE,
    remedy="Choose a flashing of a family that may touch the roof membrane, or bridge the lap with a tape "
    "approved for both.",
)
REMEDIES: tuple[Remedy, ...] = (
    (TapeLap("top flashing", "roof turn-up"),),
    (FitKind("top flashing", "roof turn-up"),),
)


@each_layer("top flashing")
def check(wall: Wall, flashing: Component) -> Iterator[RuleResult]:
    """The two families, or the tape between them."""
    other = wall.part("roof turn-up")
    if other is None:
        yield not_applicable("the top flashing or the roof turn-up is not described")
    elif roof_side_barrier(wall.parapet):
        yield not_applicable(
            "a barrier of the roof side stands between the top flashing and the base flashing"
        )
    else:
        yield from meet(wall, flashing, other)
