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

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import Held, each_layer, rule_of
from specgen.rules.rule import RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.units.compare import at_least
from specgen.wall.facts import HOT_METAL

LIGHTER = {color: key for color, key in HOT_METAL.items() if color != "dark"}
RULE = rule_of(
    "barrier.service_temperature",
    name="barrier under dark metal",
    severity=Severity.RISK,
    remedy="Use a barrier of a higher service temperature, or a coping of a lighter color.",
    basis=("barrier.service_temperature", *LIGHTER.values()),
)
DARK = Held(RULE.holds, basis=("barrier.service_temperature",))


@each_layer("barrier")
def check(wall: Wall, barrier: Component) -> Iterator[RuleResult]:
    """The service temperature, as its requirement asks or as lighter metal needs."""
    coping = wall.part("coping")
    color = coping.word("color") if coping and wall.kind(coping).metal else None
    stated = barrier.quantity("service_temperature")
    if wall.requirement("barrier.service_temperature", barrier) is not None:
        yield from DARK.at(wall, barrier)
    elif stated is not None and color in LIGHTER:
        hot = wall.practice.quantity(LIGHTER[color])
        _, reached = wall.beside(stated, "at least", hot)
        message = f"metal of {color} color reaches {reached}; the barrier below it stands {stated.text}"
        say = ok if at_least(stated, hot) else fail
        yield say(message, barrier.at("service_temperature"), barrier.id, basis=(LIGHTER[color],))
    else:
        yield not_applicable("the coping is not dark metal")
