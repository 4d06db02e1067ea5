"""PL07: lath is fastened into the framing, through the drainage gap.

Holds what the fasteners are driven into, their spacing and their embedment against their requirements; where
the calculation of the lath fasteners is finished, its result counts as well. A fastener that crosses a gap
carries the plaster on a lever.

Right::

    - role: lath
      kind: self-furred expanded metal lath
      fasteners_into: framing
      fastener_spacing: 6 in
      fastener_embedment: 1 in

Wrong::

    - role: lath
      kind: self-furred expanded metal lath
      fasteners_into: sheathing only
      fastener_spacing: 12 in
      fastener_embedment: 1/4 in
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    code="PL07",
    name="lath fasteners",
    title="Lath is fastened into the framing, through the drainage gap",
    severity=Severity.DEFECT,
    applies_to="lath",
    reason="A fastener that crosses the gap bends and pulls; sheathing alone does not hold it.",
    basis=("lath.into_framing", "field.lath_fastener", "lath.embedment_wood", "lath.embedment_steel"),
    remedy="Use longer fasteners into the framing, closer together, and have an engineer calculate them.",
    options=(
        Option("spacing", "length", "field.lath_fastener", "widest spacing along a support"),
        Option("embedment in wood", "length", "lath.embedment_wood", "least embedment in wood"),
        Option("beyond steel", "length", "lath.embedment_steel", "least length beyond a steel flange"),
    ),
)
HELD = {
    "fasteners_into": "lath.fasteners_into",
    "fastener_spacing": "lath.fastener_spacing",
    "fastener_embedment": "lath.fastener_embedment",
}
SUBJECT = "lath fasteners"


def check(wall: Wall) -> Iterator[RuleResult]:
    """Each stated value; what is not stated in one finding; the calculation's result."""
    lath = wall.part("lath")
    if lath is None:
        yield not_applicable("no lath is described")
        return
    asked = {attribute: name for attribute, name in HELD.items() if wall.requirement(name) is not None}
    for attribute, name in asked.items():
        if lath.has(attribute):
            yield hold(wall, name, lath)
    lacking = ", ".join(f"`{attribute}`" for attribute in asked if not lath.has(attribute))
    if lacking:
        message, missing = "lath fasteners are not fully stated", f"layer `{lath.id}`: add {lacking}"
        yield unknown(message, missing, lath.mark, lath.id)
    calculation = wall.calculations.get(SUBJECT)
    if calculation is not None and calculation.done and calculation.verdict("holds") == "no":
        yield fail("the calculated lath fasteners do not hold the plaster", lath.mark, lath.id)
