"""OU02: the outlet stands clear of roof, earth and paving.

Holds each stated clearance of the weep screed against its requirement. One of the three must be stated, or
that nothing lies close below, as at a floor line high on a wall. Clearance to earth and paving is code; to a roof it
is practice.

Right::

    - role: weep screed
      kind: perforated weep screed
      above_roof: 9 in

Wrong::

    - role: weep screed
      kind: perforated weep screed
      above_paving: 1 in
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    code="OU02",
    name="outlet clearance",
    title="The outlet stands clear of roof, earth and paving",
    severity=Severity.DEFECT,
    applies_to="weep screed",
    reason="Splash, snow, soil and ponding water close an outlet that is too low.",
    basis=("outlet.above_roof", "outlet.above_earth", "outlet.above_paving"),
    remedy="Raise the weep screed, or lower the surface under it.",
    options=(
        Option("above roof", "length", "outlet.above_roof", "least clearance above a finished roof"),
        Option("above earth", "length", "outlet.above_earth", "least clearance above earth"),
        Option("above paving", "length", "outlet.above_paving", "least clearance above paving"),
    ),
)
SURFACES = {"roof": Severity.RISK, "earth": Severity.DEFECT, "paving": Severity.DEFECT}


def check(wall: Wall) -> Iterator[RuleResult]:
    """Each stated clearance against its requirement."""
    screed = wall.part("weep screed")
    if screed is None:
        yield not_applicable("no weep screed is described")
        return
    stated = [surface for surface in SURFACES if screed.has(f"above_{surface}")]
    for surface in stated:
        said = hold(wall, f"weep.above_{surface}", screed, severity=SURFACES[surface])
        yield replace(said, basis=(f"outlet.above_{surface}",))
    if not stated and screed.flag("nothing_below"):
        message = "no roof, earth or paving lies close below the weep screed"
        yield ok(message, screed.at("nothing_below"), screed.id)
    elif not stated:
        yield unknown(
            "clearance of the weep screed is not stated",
            f"layer `{screed.id}`: add `above_roof`, `above_earth` or `above_paving`, whichever it stands above, "
            "or `nothing_below: yes`",
            screed.mark,
            screed.id,
        )
