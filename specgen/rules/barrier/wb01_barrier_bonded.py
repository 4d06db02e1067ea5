"""WB01: the wall barrier is bonded over its full face.

Looks for a barrier in the build-up and at its generic kind. A sheet that is fastened or lapped loose lets
air and water travel behind it; a barrier bonded to its substrate keeps a leak where it starts. A loose sheet
in front of a bonded barrier does no harm.

Right::

    - role: barrier
      kind: fluid-applied

Wrong::

    - role: barrier
      kind: mechanically fastened
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.remedy import Remedy, SetKind
from specgen.rules.rule import Option, Rule, RuleResult, fail, ok
from specgen.rules.wall import Wall

RULE = Rule(
    severity=Severity.DEFECT,
    applies_to="barrier",
    reason="Behind a loose or fastened sheet a leak at the top runs down the whole wall.",
    basis=("barrier.bonded",),
    remedy="Use a self-adhered or fluid-applied barrier, bonded over its full face.",
    options=(Option("bonded kinds", "barrier.bonded", "kinds that count as bonded"),),
)
REMEDIES: tuple[Remedy, ...] = (
    (SetKind("barrier", "fluid-applied"),),
    (SetKind("barrier", "self-adhered"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Whether a bonded barrier is there."""
    bonded = wall.practice.entry("barrier.bonded").words()
    barriers = wall.parapet.all_of("barrier")
    if not barriers:
        yield fail("the parapet has no wall barrier", without=("barrier",))
    for barrier in [one for one in barriers if one.kind in bonded] or barriers:
        say = ok if barrier.kind in bonded else fail
        yield say(f"wall barrier is {barrier.kind}", barrier.at("kind"), barrier.id)
