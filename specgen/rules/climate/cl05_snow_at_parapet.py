"""CL05: what opens or ends on the roof side stands above the snow that drifts against the parapet.

Where snow lies, the calculation `snow drift` gives its depth at the parapet. A base flashing that ends on the wall below
that depth, and a weep screed of plaster on the roof side, stand in snow and meltwater: a question to the roofing
manufacturer. The surcharge is handed to the engineer of the roof by the calculation. Where the ground snow load is not
stated in a zone with snow, the depth is unknown; where nobody states how high the one or the other stands, or how a low
flashing ends, so is the answer.

Right::

    site: {climate_zone: 6A, ground_snow_load: 40 psf}
    build_up:
      - role: roof turn-up
        kind: TPO
        termination: under the top flashing

Wrong::

    site: {climate_zone: 6A, ground_snow_load: 40 psf}
    build_up:
      - role: roof turn-up
        kind: TPO
        height: 8 in
        termination: termination bar under a counterflashing
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.drainage.code_demand import zone_words
from specgen.rules.hold import not_stated
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_least
from specgen.units.quantity import Quantity
from specgen.wall.order import roof_side
from specgen.wall.site import snow_lies

RULE = Rule(
    name="snow at the parapet",
    severity=Severity.QUERY,
    applies_to="parapet",
    reason="Drifted snow thaws against the wall, and its water stands above what ends below it.",
    basis=("climate.snow_below_openings", "climate.snow_zones"),
    remedy="Run the base flashing up under the top flashing, or end it and the plaster's drain above the snow.",
    options=(Option("zones", "climate.snow_zones", "zones in which the depth of snow is asked for"),),
)
CARRIED_UP = ("under the top flashing",)  # terminations that do not end on the wall
SUBJECT = "snow drift"


def check(wall: Wall) -> Iterator[RuleResult]:
    """The climate, the depth, then what stands below it."""
    site = wall.project.site
    zone, load = site.word("climate_zone"), site.quantity("ground_snow_load")
    if snow_lies(wall) is False:
        if load is None and zone is not None:
            yield not_applicable(f"snow is not asked for in {zone_words(zone)}")
        else:
            yield not_applicable("the ground snow load is zero")
        return
    found = wall.calculations[SUBJECT]
    depth = found.result("depth") if found.done else None
    if depth is None:
        missing = "; ".join(found.missing)
        yield unknown("how deep snow lies at the parapet cannot be calculated", missing)
        return
    below = [result for part in wall.parapet.components() for result in _against(wall, part, depth)]
    yield from below
    if not below:
        yield ok(
            f"nothing ends or drains below the snow, {depth.text} deep at the parapet", wall.parapet.mark
        )


def _of_the_roof_side(wall: Wall) -> set[str]:
    """The screeds that drain a plastered roof side: those that stand there, or the one of both faces."""
    if wall.parapet.word("inner_face") != "stucco":
        return set()
    own = roof_side(wall.parapet, "weep screed")
    return {part.id for part in own or wall.parapet.all_of("weep screed")}


def _against(wall: Wall, part: Component, depth: Quantity) -> Iterator[RuleResult]:
    """A part that ends or drains on the roof side below the snow, or of which nobody states where."""
    if part.role == "roof turn-up" and part.word("termination") not in CARRIED_UP:
        name, what = "height", "upper edge"
    elif part.role == "weep screed" and part.id in _of_the_roof_side(wall):
        name, what = "above_roof", "drain"
    else:
        return
    edge = part.quantity(name)
    if edge is None:
        yield not_stated(f"how high above the roof the {what} of the {part.id} stands", part, name, part.id)
    elif at_least(edge, depth):
        return
    elif part.role == "roof turn-up" and not part.has("termination"):
        yield not_stated(f"how the {what} of the {part.id} ends", part, "termination", part.id)
    else:
        message = f"the {what} of the {part.id} stands {edge.text} above the roof; snow lies {depth.text} deep there"
        yield fail(message, part.at(name), part.id)
