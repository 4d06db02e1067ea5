"""SC09: the water at the overflow stands no deeper than the roof is designed for.

Reads the calculation `scuppers`: the depth at the low point with every primary drain blocked, against the depth of
water that the structural engineer designed the roof for.

Right::

    building:
      ponding_depth: 4 in
    scuppers:
      - {name: S-2, use: overflow, width: 24 in, height: 6 in, inlet_height: 2 in, area_served: 1400 ft2}

Wrong::

    building:
      ponding_depth: 2 in
    scuppers:
      - {name: S-2, use: overflow, width: 24 in, height: 6 in, inlet_height: 2 in, area_served: 1400 ft2}
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_most

RULE = Rule(
    name="ponding depth",
    severity=Severity.DEFECT,
    applies_to="scuppers",
    reason="Each inch of water weighs on the roof: deeper than designed for, it may fall.",
    basis=("scupper.ponding",),
    remedy="Widen the overflow, lower its inlet, or have the structural engineer design the roof for the depth.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The calculated depth against the depth of the design."""
    done = wall.calculations.get("scuppers")
    depth = done.result("water_depth") if done is not None and done.done else None
    if depth is None or not any(one.word("use") == "overflow" for one in wall.parapet.scuppers):
        yield not_applicable(
            "the depth of water at an overflow is not calculated; SC06 tells what is missing"
        )
        return
    building = wall.project.building
    most = building.quantity("ponding_depth")
    if most is None:
        message = f"whether the roof is designed for {wall.shown(depth)} of water is not stated"
        yield unknown(
            message, "add `building.ponding_depth`, which the structural engineer gives", building.mark
        )
        return
    shown, limit = wall.beside(depth, "at most", most)
    message = f"with the drains blocked water stands {shown} deep; the roof is designed for {limit}"
    yield (ok if at_most(depth, most) else fail)(message, building.at("ponding_depth"))
