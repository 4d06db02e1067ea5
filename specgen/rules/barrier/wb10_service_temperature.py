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

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.requirements.judge import at_least
from specgen.rules.held import Held, rule_of
from specgen.rules.rule import RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.units.quantity import Quantity
from specgen.wall.facts import HOT_METAL

LIGHTER = {color: key for color, key in HOT_METAL.items() if color != "dark"}
RULE = rule_of(
    "barrier.service_temperature",
    code="WB10",
    name="barrier under dark metal",
    title="The barrier withstands the heat of dark metal above it",
    severity=Severity.RISK,
    remedy="Use a barrier of a higher service temperature, or a coping of a lighter color.",
    basis=("barrier.service_temperature", *LIGHTER.values()),
)
DARK = Held(RULE.holds, basis=("barrier.service_temperature",))


def check(wall: Wall) -> Iterator[RuleResult]:
    """The service temperature of each barrier, as its requirement asks or as lighter metal needs."""
    coping = wall.part("coping")
    color = coping.word("color") if coping and wall.kind(coping).metal else None
    if wall.requirement("barrier.service_temperature") is not None:
        yield from DARK(wall)
    elif color in LIGHTER and (stated := _stated(wall)):
        for barrier, temperature in stated:
            yield _under_lighter(wall, barrier, temperature, color)
    else:
        yield not_applicable("the coping is not dark metal")


def _stated(wall: Wall) -> list[tuple[Component, Quantity]]:
    stated = [(one, one.quantity("service_temperature")) for one in wall.parapet.all_of("barrier")]
    return [(barrier, temperature) for barrier, temperature in stated if temperature]


def _under_lighter(wall: Wall, barrier: Component, stated: Quantity, color: str) -> RuleResult:
    hot = wall.practice.entry(LIGHTER[color])
    reached = wall.shown(hot, "up")
    message = f"metal of {color} color reaches {reached}; the barrier below it stands {stated.text}"
    say = ok if at_least(stated, hot) else fail
    return say(message, barrier.at("service_temperature"), barrier.id, basis=(LIGHTER[color],))
