"""WB04: in a cold climate the barrier on the cold side lets vapor out.

Looks at sites in a climate zone with a cold winter, where the drainage layer is not vapor-tight itself (then
VD02 asks for more), and where no insulation stands outside the barrier. A class I or class II barrier on the cold side
holds the vapor that comes from inside; outside insulation keeps the barrier warm, and the calculations of the
build-up say how warm. A kept hourly result that holds for the wall governs: a failure that it does not bear out stays
told as a question.

Right::

    site: {climate_zone: 6A}
    build_up:
      - role: drainage layer
        kind: mesh
      - role: barrier
        kind: self-adhered
        vapor_permeance: 14 perm

Wrong::

    site: {climate_zone: 6A}
    build_up:
      - role: drainage layer
        kind: mesh
      - role: barrier
        kind: self-adhered
        vapor_permeance: 0.05 perm
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.drainage.code_demand import zone_words
from specgen.rules.held import each_layer
from specgen.rules.hold import hold
from specgen.rules.hourly.kept import governed
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable, unknown
from specgen.rules.wall import Wall
from specgen.wall.facts import drainage_vapor_tight, insulated_outside
from specgen.wall.site import cold_climate

RULE = Rule(
    name="barrier on the cold side",
    severity=Severity.RISK,
    applies_to="barrier",
    reason="Vapor from inside condenses behind a tight barrier on the cold side, and stays there.",
    basis=("vapor.class_2", "barrier.cold_side", "climate.cold_zones"),
    remedy="Use a barrier above class II, or insulate outside it and show by calculation that it stays warm.",
    options=(Option("permeance", "vapor.class_2", "what class II lets through at most"),),
)


@each_layer("barrier")
def check(wall: Wall, barrier: Component) -> Iterator[RuleResult]:
    """The barrier's permeance, by the climate zone."""
    zone = wall.project.site.word("climate_zone")
    if drainage_vapor_tight(wall):
        yield not_applicable("the drainage layer is vapor-tight: VD02 asks for a vapor-open barrier")
    elif zone is None:
        yield unknown("the vapor class of the barrier depends on the climate", "add `site.climate_zone`")
    elif insulated_outside(wall):
        yield not_applicable("insulation stands outside the barrier, which is then not on the cold side")
    elif not cold_climate(wall):
        yield not_applicable(f"{zone_words(zone)} has no cold winter")
    else:
        found = hold(wall, "barrier.vapor_permeance", barrier, because=(zone_words(zone),))
        yield governed(wall, found)
