"""TF03: the top flashing may touch the wall barrier.

Compares the material families of the two. A pair known to harm is a defect; a pair that nobody listed is a
question to both manufacturers. Where the lap names a tape, the tape is judged against each side, and its
`compatible_with` lists the families its manufacturer approved in writing.

Right::

    - role: top flashing
      kind: self-adhered butyl
    - role: barrier
      kind: self-adhered
      family: butyl

Wrong::

    - role: top flashing
      kind: EPDM
    - role: barrier
      kind: self-adhered
      family: SBS bitumen
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.remedy import FitKind, Remedy, TapeLap
from specgen.rules.rule import Rule, RuleResult, not_applicable
from specgen.rules.top.contact import TAPE, meet
from specgen.rules.wall import Wall
from specgen.wall.order import joined_to

RULE = Rule(
    name="flashing and wall barrier",
    severity=Severity.DEFECT,
    applies_to="top flashing",
    reason="A flashing that does not bond to the barrier lets the water of the top run behind it.",
    basis=TAPE,
    remedy="Choose a flashing of a family that may touch the barrier, or bridge the lap with a tape "
    "approved for both.",
)
REMEDIES: tuple[Remedy, ...] = (
    (TapeLap("top flashing", "barrier"),),
    (FitKind("top flashing", "barrier"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The two families, or the tape between them."""
    flashing, barrier = wall.part("top flashing"), wall.barrier
    if flashing is None or barrier is None:
        yield not_applicable("the top flashing or the barrier is not described")
        return
    for other in joined_to(wall.parapet, flashing, "barrier") or (barrier,):
        yield from meet(wall, flashing, other)
