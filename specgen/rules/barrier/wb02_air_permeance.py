"""WB02: the barrier is tight to air, and so is the assembly with it.

Holds the stated air permeance of the material, and the air leakage of the assembly where it is stated, against their
requirements. A value measured at another pressure than the requirement names is not compared.

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
from specgen.rules.held import Held, rule_of
from specgen.rules.rule import RuleResult
from specgen.rules.wall import Wall

RULE = rule_of(
    "barrier.air_permeance",
    "barrier.assembly_air_leakage",
    name="barrier air permeance",
    severity=Severity.DEFECT,
    remedy="Use a barrier whose tested air permeance is within the limit, and state the test report's value.",
)
MATERIAL = Held(RULE.holds[:1])
ASSEMBLY = Held(RULE.holds[1:], if_stated=True)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The material, which every wall states, and the assembly, which the submittals may state."""
    yield from MATERIAL(wall)
    yield from ASSEMBLY(wall)
