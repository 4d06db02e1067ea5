"""SC11: the scuppers of a parapet serve all of the roof that drains through it.

Adds up the roof areas of the primary scuppers, and those of the overflow scuppers where some are listed, and holds the
sums against `drained_area` of the parapet. Overflow scuppers may serve more: they back up drains elsewhere as well. A
parapet that states no such area, or that none drains there, needs no scupper; primary scuppers where none drains are a
slip. Where an area drains through a parapet and no scupper is described, how it drains is unknown.

Right::

    drained_area: 2800 ft2
    scuppers:
      - {name: S-1, use: primary, width: 12 in, height: 6 in, area_served: 1400 ft2}
      - {name: S-2, use: primary, width: 12 in, height: 6 in, area_served: 1400 ft2}

Wrong::

    drained_area: 2800 ft2
    scuppers:
      - {name: S-1, use: primary, width: 12 in, height: 6 in, area_served: 1400 ft2}
"""

from collections.abc import Iterator
from fractions import Fraction

from specgen.model.finding import Severity
from specgen.model.project import Record
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_least, at_most
from specgen.units.quantity import Quantity, exactly

RULE = Rule(
    name="drained area",
    severity=Severity.DEFECT,
    applies_to="scuppers",
    reason="Water of a roof area that no scupper serves stands behind the parapet, or runs where nobody sized for it.",
    basis=("scupper.areas", "scupper.areas_apart"),
    remedy="Add a scupper, or correct the roof area that drains through the parapet or that a scupper serves.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The area that drains through the parapet, then the sum of each use."""
    parapet = wall.parapet
    drained = parapet.quantity("drained_area")
    if drained is None:
        yield not_applicable("no roof area that drains through this parapet is stated")
        return
    mark = parapet.at("drained_area")
    drains = drained.exact > 0
    if not parapet.scuppers and drains:
        message = f"{drained.text} of roof drain through the parapet, and no scupper is described"
        yield unknown(message, f"parapet `{parapet.name}`: add `scuppers`", mark)
    elif not parapet.scuppers:
        yield ok("no roof drains through the parapet, and no scupper is listed", mark)
    for use in ("primary", "overflow"):
        places = [one for one in parapet.scuppers if one.word("use") == use]
        if parapet.scuppers and (places or use == "primary"):
            yield from _sum(wall, use, places, drained)


def _sum(wall: Wall, use: str, places: list[Record], drained: Quantity) -> Iterator[RuleResult]:
    """The areas that the scuppers of one use serve, against the area that drains through the parapet."""
    lacking = [one for one in places if not one.has("area_served")]
    for one in lacking:
        yield not_stated(f"roof area served by scupper {one.word('name')}", one, "area_served", "")
    if lacking:
        return
    areas = [one.quantity("area_served") for one in places]
    served = exactly(sum((area.exact for area in areas if area), Fraction(0)), drained)
    mark = places[0].at("area_served") if places else wall.parapet.at("drained_area")
    shown, whole = wall.beside(served, "at least", drained)
    message = f"the {use} scuppers serve {shown} of roof; {whole} drain through the parapet"
    apart = wall.practice.quantity("scupper.areas_apart").exact
    short = not at_least(served, exactly(drained.exact * (1 - apart), drained))
    over = use == "primary" and not at_most(served, exactly(drained.exact * (1 + apart), drained))
    if short or over:
        wrong = "part of it has no scupper" if short else "one of the two areas is wrong"
        yield fail(f"{message}: {wrong}", mark)
    else:
        yield ok(message, mark)
