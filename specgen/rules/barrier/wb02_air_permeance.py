"""WB02: the barrier material is tight to air.

Holds the stated air permeance against the requirement on the air barrier material. A value measured at
another pressure than the requirement names is not compared.

Right::

    - role: barrier
      kind: fluid-applied
      air_permeance: 0.002 cfm/ft2 @ 75 Pa

Wrong::

    - role: barrier
      kind: fluid-applied
      air_permeance: 0.02 cfm/ft2 @ 75 Pa
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import absent, hold
from specgen.rules.rule import Option, Rule, RuleResult
from specgen.rules.wall import Wall

RULE = Rule(
    code="WB02",
    name="barrier air permeance",
    title="The barrier material is tight to air",
    severity=Severity.DEFECT,
    applies_to="barrier",
    reason="Air that passes the barrier carries more water into the wall than diffusion does.",
    basis=("barrier.air_permeance",),
    remedy="Use a barrier whose tested air permeance is within the limit, and state the test report's value.",
    options=(
        Option(
            "air permeance", "air permeance", "barrier.air_permeance", "most air the material lets through"
        ),
    ),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated air permeance against its requirement."""
    barrier = wall.barrier
    yield hold(wall, "barrier.air_permeance", barrier) if barrier else absent(wall, "barrier")
