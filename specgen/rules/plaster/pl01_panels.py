"""PL01: control joints divide the plaster into panels that do not crack.

Holds the largest panel's area, length and ratio against their requirements, and asks whether the lath stops
at the joints.

Right::

    - role: plaster
      kind: portland cement plaster
      panel_area: 120 ft2
      panel_length: 16 ft
      panel_ratio: 2.2
      lath_stops_at_joints: yes

Wrong::

    - role: plaster
      kind: portland cement plaster
      panel_area: 200 ft2
      panel_length: 25 ft
      panel_ratio: 4
      lath_stops_at_joints: no
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    code="PL01",
    name="plaster panels",
    title="Control joints divide the plaster into panels that do not crack",
    severity=Severity.RISK,
    applies_to="plaster",
    reason="Large, long or slender panels crack as they shrink, and lath that runs through a joint ties them together.",
    basis=("plaster.panel_area", "plaster.panel_length", "plaster.panel_ratio", "plaster.lath_stops"),
    remedy="Add control joints until every panel is within the limits, and stop the lath at each joint.",
    options=(
        Option("area", "area", "plaster.panel_area", "largest panel"),
        Option("length", "length", "plaster.panel_length", "longest panel"),
        Option("ratio", "number", "plaster.panel_ratio", "most slender panel"),
    ),
)
HELD = {
    "panel_area": "plaster.panel_area",
    "panel_length": "plaster.panel_length",
    "panel_ratio": "plaster.panel_ratio",
    "lath_stops_at_joints": "plaster.lath_stops",
}


def check(wall: Wall) -> Iterator[RuleResult]:
    """Each stated panel value; what is not stated in one finding."""
    plaster = wall.part("plaster")
    if plaster is None:
        yield not_applicable("no plaster is described")
        return
    for attribute, name in HELD.items():
        if plaster.has(attribute):
            wrong = "lath runs through the control joints" if attribute == "lath_stops_at_joints" else ""
            yield hold(wall, name, plaster, wrong)
    lacking = ", ".join(f"`{attribute}`" for attribute in HELD if not plaster.has(attribute))
    if lacking:
        message, missing = "plaster panels are not fully stated", f"layer `{plaster.id}`: add {lacking}"
        yield unknown(message, missing, plaster.mark, plaster.id)
