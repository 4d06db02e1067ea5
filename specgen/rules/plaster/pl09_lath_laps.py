"""PL09: lath is lapped where its sheets meet.

Holds the laps at sides and ends against their requirements. That lath stops at control joints is PL01.

Right::

    - role: lath
      kind: self-furred expanded metal lath
      side_lap: 1 in
      end_lap: 2 in

Wrong::

    - role: lath
      kind: self-furred expanded metal lath
      side_lap: 0 in
      end_lap: 0 in
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    code="PL09",
    name="lath laps",
    title="Lath is lapped where its sheets meet",
    severity=Severity.RISK,
    applies_to="lath",
    reason="Plaster cracks where the lath below it has a joint without a lap.",
    basis=("field.lath_side_lap", "field.lath_end_lap"),
    remedy="Lap the sheets at sides and ends, and tie the laps between supports.",
    options=(
        Option("side lap", "length", "field.lath_side_lap", "least lap at the sides"),
        Option("end lap", "length", "field.lath_end_lap", "least lap at the ends"),
    ),
)
HELD = ("side_lap", "end_lap")


def check(wall: Wall) -> Iterator[RuleResult]:
    """Each stated lap; what is not stated in one finding."""
    lath = wall.part("lath")
    if lath is None:
        yield not_applicable("no lath is described")
        return
    for attribute in HELD:
        if lath.has(attribute):
            yield hold(wall, f"lath.{attribute}", lath)
    lacking = ", ".join(f"`{attribute}`" for attribute in HELD if not lath.has(attribute))
    if lacking:
        message, missing = "laps of the lath are not fully stated", f"layer `{lath.id}`: add {lacking}"
        yield unknown(message, missing, lath.mark, lath.id)
