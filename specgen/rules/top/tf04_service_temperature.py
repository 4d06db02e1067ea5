"""TF04: the membrane under metal stands the heat.

Under a metal coping the flashing needs a stated service temperature. The usual test of thermal stability is
made far below what dark metal reaches, so the maker's own value is asked for. A self-adhered sheet wants a grade
whose adhesive does not flow; a sheet that is welded, vulcanized or cured stands what metal of this color reaches.

Right::

    - role: top flashing
      kind: self-adhered butyl
      service_temperature: 240 degF

Wrong::

    - role: top flashing
      kind: self-adhered SBS
      service_temperature: 180 degF
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall
from specgen.wall.facts import HOT_METAL

RULE = Rule(
    code="TF04",
    name="flashing service temperature",
    title="The membrane under metal stands the heat",
    severity=Severity.RISK,
    applies_to="top flashing",
    reason="Metal in the sun heats the membrane under it until an ordinary adhesive flows.",
    basis=("flashing.service_temperature", *HOT_METAL.values()),
    remedy="Use a high-temperature grade and state the maker's service temperature.",
    options=(
        Option(
            "service temperature", "temperature", "flashing.service_temperature", "least service temperature"
        ),
    ),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The service temperature, under a metal coping."""
    flashing = wall.part("top flashing")
    if flashing is None or wall.requirement("flashing.service_temperature") is None:
        yield not_applicable("no membrane lies under a metal coping")
    else:
        yield hold(wall, "flashing.service_temperature", flashing)
