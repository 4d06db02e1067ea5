"""VD02: behind a vapor-tight drainage layer the barrier lets the wall dry outward.

Where the drainage layer is a class I vapor retarder, the wall can dry only through the barrier into the air
space behind the sheet. Holds the barrier's stated vapor permeance against its requirement. A kept hourly result that
holds for the wall governs: a failure that it does not bear out stays told as a question.

Right::

    - role: barrier
      kind: fluid-applied
      vapor_permeance: 14 perm

Wrong::

    - role: barrier
      kind: self-adhered
      vapor_permeance: 0.05 perm
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.hold import hold
from specgen.rules.hourly.kept import governed
from specgen.rules.remedy import Remedy, SetKind
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall
from specgen.wall.facts import drainage_vapor_tight

RULE = Rule(
    severity=Severity.RISK,
    applies_to="barrier",
    reason="Between a vapor-tight sheet and a vapor-tight roof membrane, moisture in the wall has no other way out.",
    basis=("barrier.vapor_open",),
    remedy="Use a vapor-open barrier behind the vapor-tight drainage layer.",
    options=(Option("vapor-open", "barrier.vapor_open", "least vapor permeance of the barrier"),),
)
REMEDIES: tuple[Remedy, ...] = (
    (SetKind("drainage layer", "mesh"),),
    (SetKind("drainage layer", "grooved mat"),),
)


@each_layer("barrier")
def check(wall: Wall, barrier: Component) -> Iterator[RuleResult]:
    """The barrier's vapor permeance, where the drainage layer is vapor-tight."""
    if not drainage_vapor_tight(wall):
        yield not_applicable("the drainage layer is not vapor-tight")
    else:
        yield governed(wall, hold(wall, "barrier.vapor_permeance", barrier))
