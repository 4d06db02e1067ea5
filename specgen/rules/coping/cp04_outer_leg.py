"""CP04: the outer leg laps the cladding far enough for the height of the building.

Holds the stated lap against the requirement, which grows with the height of the building: wind drives rain
up under a short leg.

Right::

    - role: coping
      kind: formed metal
      outer_leg: 4 in

Wrong::

    - role: coping
      kind: formed metal
      outer_leg: 1 in
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    code="CP04",
    name="coping outer leg",
    title="The outer leg of the coping laps the cladding far enough",
    severity=Severity.RISK,
    applies_to="coping",
    reason="Driving rain climbs under a short leg.",
    basis=("coping.leg_8m", "coping.leg_20m", "coping.leg_over"),
    remedy="Lengthen the outer leg of the coping.",
    options=(
        Option("low", "length", "coping.leg_8m", "least lap, building up to 8 m high"),
        Option("middle", "length", "coping.leg_20m", "least lap, building over 8 m and up to 20 m high"),
        Option("high", "length", "coping.leg_over", "least lap, building over 20 m high"),
    ),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The outer leg, for a metal coping."""
    coping = wall.part("coping")
    if coping is None or not wall.kind(coping).metal:
        yield not_applicable("no metal coping is described")
        return
    height = wall.project.building.quantity("height")
    if height is None:
        message = "height of the building is not stated; the lap of the outer leg depends on it"
        yield unknown(message, "add `building.height`", coping.mark, coping.id)
    else:
        because = (f"building height {height.text}",)
        yield hold(wall, "coping.outer_leg", coping, because=because)
