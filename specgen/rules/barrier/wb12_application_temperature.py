"""WB12: the barrier is not applied in the cold.

Holds the lowest temperature of air and substrate at which the project applies the barrier against its
requirement. The limit of the maker governs where it is higher.

Right::

    - role: barrier
      kind: self-adhered
      application_temperature: 45 degF

Wrong::

    - role: barrier
      kind: self-adhered
      application_temperature: 25 degF
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="WB12",
    name="application temperature",
    title="The barrier is not applied in the cold",
    severity=Severity.RISK,
    applies_to="barrier",
    reason="In the cold an adhesive does not wet its substrate, and a fluid does not cure.",
    basis=("field.application_temperature",),
    remedy="Wait for warmer days, heat the work, or waive this rule with the data sheet of a barrier made for the cold.",
    options=(
        Option(
            "temperature",
            "temperature",
            "field.application_temperature",
            "least temperature of air and substrate",
        ),
    ),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The planned temperature."""
    barrier = wall.barrier
    if barrier is None or wall.requirement("barrier.application_temperature") is None:
        yield not_applicable("no bonded barrier is described")
    else:
        yield hold(wall, "barrier.application_temperature", barrier)
