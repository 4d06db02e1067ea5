"""WB10: the barrier withstands the heat of dark metal above it.

Holds the stated service temperature against its requirement, where the coping is dark metal or its color is not
stated. Under lighter metal a stated temperature below what that metal reaches in the sun fails as well.

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
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.wall.facts import HOT_METAL

LIGHTER = {color: key for color, key in HOT_METAL.items() if color != "dark"}
RULE = Rule(
    code="WB10",
    name="barrier under dark metal",
    title="The barrier withstands the heat of dark metal above it",
    severity=Severity.RISK,
    applies_to="barrier",
    reason="The upper edge of the barrier lies under metal that the sun heats.",
    basis=("barrier.service_temperature", *LIGHTER.values()),
    remedy="Use a barrier of a higher service temperature, or a coping of a lighter color.",
    options=(
        Option("temperature", "temperature", "barrier.service_temperature", "least service temperature"),
    ),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated service temperature."""
    barrier, coping = wall.barrier, wall.part("coping")
    if barrier is not None and wall.requirement("barrier.service_temperature") is not None:
        said = hold(wall, "barrier.service_temperature", barrier)
        yield replace(said, basis=("barrier.service_temperature",))
        return
    color = coping.word("color") if coping and wall.kind(coping).metal else None
    stated = barrier.quantity("service_temperature") if barrier else None
    if barrier is None or stated is None or color not in LIGHTER:
        yield not_applicable("the coping is not dark metal")
        return
    hot = wall.practice.quantity(LIGHTER[color])
    reached = wall.shown(hot, "up")
    message = f"metal of {color} color reaches {reached}; the barrier below it stands {stated.text}"
    say = ok if stated.value >= hot.value - 1e-6 else fail
    yield say(message, barrier.at("service_temperature"), barrier.id, basis=(LIGHTER[color],))
