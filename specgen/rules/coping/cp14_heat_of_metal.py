"""CP14: the membrane stands what metal of this color reaches.

TF04 asks for a high-temperature grade under all metal. This rule compares the stated service temperature with the
temperature that metal of the stated color reaches in the sun: below it, the membrane is known to fail.

Right::

    - role: coping
      kind: formed metal
      color: light

Wrong::

    - role: top flashing
      kind: self-adhered acrylic
      service_temperature: 150 degF
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.units.compare import at_least
from specgen.wall.facts import HOT_METAL

RULE = Rule(
    name="heat of the metal",
    severity=Severity.DEFECT,
    applies_to="top flashing",
    reason="A membrane that flows under hot metal runs out of its laps.",
    basis=("coping.heat", *HOT_METAL.values()),
    remedy="Choose a lighter finish, or a membrane with a higher service temperature.",
)


@each_layer("top flashing")
def check(wall: Wall, flashing: Component) -> Iterator[RuleResult]:
    """The service temperature against the heat of the color."""
    coping = wall.part("coping")
    if coping is None or not wall.kind(coping).metal:
        yield not_applicable("no membrane lies under a metal coping")
        return
    color, service = coping.word("color"), flashing.quantity("service_temperature")
    if color is None:
        yield not_stated("color class of the coping", coping, "color", coping.id)
    elif service is None:
        what = "service temperature of the top flashing"
        yield not_stated(what, flashing, "service_temperature", flashing.id)
    else:
        hot = wall.practice.quantity(HOT_METAL[color])
        _, reached = wall.beside(service, "at least", hot)
        message = f"metal of {color} color reaches {reached}; the membrane under it stands {service.text}"
        say = ok if at_least(service, hot) else fail
        yield say(
            message,
            flashing.at("service_temperature"),
            flashing.id,
            basis=("coping.heat", HOT_METAL[color]),
        )
