"""PL15: a finish that is not of cement lets vapor out.

Holds the stated vapor permeance of an acrylic finish or an elastomeric coating against its requirement.

Right::

    - role: plaster
      kind: portland cement plaster
      finish: acrylic finish
      finish_permeance: 20 perm

Wrong::

    - role: plaster
      kind: portland cement plaster
      finish: acrylic finish
      finish_permeance: 3 perm
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="PL15",
    name="finish lets vapor out",
    title="A finish that is not of cement lets vapor out",
    severity=Severity.RISK,
    applies_to="plaster",
    reason="Rain that enters through cracks must dry through the finish.",
    basis=("plaster.finish_permeance",),
    remedy="Use a cement finish, or a finish whose tested permeance is higher.",
    options=(
        Option(
            "permeance", "vapor permeance", "plaster.finish_permeance", "least vapor permeance of the finish"
        ),
    ),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated permeance, where the finish is not of cement."""
    plaster = wall.part("plaster")
    if plaster is None or wall.requirement("plaster.finish_permeance") is None:
        yield not_applicable("no finish other than cement is stated")
    else:
        yield hold(wall, "plaster.finish_permeance", plaster)
