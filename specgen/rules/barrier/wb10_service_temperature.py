"""WB10: the barrier withstands the heat of dark metal above it.

Holds the stated service temperature against its requirement, where the coping is dark metal or its color is not
stated.

Right::

    - role: barrier
      kind: self-adhered
      service_temperature: 250 degF
    - role: coping
      kind: formed metal
      color: dark

Wrong::

    - role: barrier
      kind: self-adhered
      service_temperature: 180 degF
    - role: coping
      kind: formed metal
      color: dark
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, Said, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="WB10",
    name="barrier under dark metal",
    title="The barrier withstands the heat of dark metal above it",
    severity=Severity.RISK,
    applies_to="barrier",
    reason="The upper edge of the barrier lies under metal that the sun heats.",
    basis=("barrier.service_temperature",),
    remedy="Use a barrier of a higher service temperature, or a coping of a lighter color.",
    options=(
        Option("temperature", "temperature", "barrier.service_temperature", "least service temperature"),
    ),
)


def check(wall: Wall) -> Iterator[Said]:
    """The stated service temperature."""
    barrier = wall.barrier
    if barrier is None or wall.requirement("barrier.service_temperature") is None:
        yield not_applicable("the coping is not dark metal")
    else:
        yield hold(wall, "barrier.service_temperature", barrier)
