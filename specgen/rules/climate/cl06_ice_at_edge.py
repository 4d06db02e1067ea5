"""CL06: where snow lies, no meltwater is led to the outer face above people.

Snow on the top of a parapet thaws in the sun and over a warm cavity, and its water freezes again where it drips. Looks at
what leads water to the outer face all day: a top that slopes outward or to both sides, and a primary scupper that empties
into the open air. Where snow lies at the site and people pass below (`below_edge`), that is a risk. A top that drains to
the roof sheds next to nothing there; slope and drip have rules of their own.

Right::

    - role: coping
      kind: formed metal
      slope_toward: roof

Wrong::

    - role: coping
      kind: formed metal
      slope_toward: both sides
"""

from collections.abc import Iterator

from specgen.files.marks import Mark
from specgen.model.finding import Severity
from specgen.rules.hold import not_stated
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.site import people_below, snow_lies

RULE = Rule(
    name="ice at the edge",
    severity=Severity.RISK,
    applies_to="parapet",
    reason="Meltwater that drips freezes at the drip and on the ground, and the ice falls on whoever passes below.",
    basis=("climate.ice_below", "climate.snow_zones"),
    remedy="Slope the top toward the roof, and let a scupper empty into a conductor head.",
    options=(Option("zones", "climate.snow_zones", "zones in which snow is taken to lie"),),
)
WARM = "open to the rooms below"


def check(wall: Wall) -> Iterator[RuleResult]:
    """What sheds water at the outer face, then the snow, then who passes below."""
    coping, snow = wall.part("coping"), snow_lies(wall)
    if snow is False:
        yield not_applicable("no snow lies at the site")
    elif coping is not None and not coping.has("slope_toward"):
        yield not_stated("where the top drains to", coping, "slope_toward", coping.id)
    elif not (shed := tuple(_shedding(wall))):
        yield ok("nothing leads meltwater to the outer face", wall.parapet.mark)
    elif snow is None:
        yield unknown("whether snow lies at the site is not stated", "add `site.climate_zone`")
    else:
        yield from (_below(wall, *one) for one in shed)


def _shedding(wall: Wall) -> Iterator[tuple[str, Mark, str]]:
    """What leads water to the outer face all day: in words, with its place in the file and its layer."""
    coping = wall.part("coping")
    if coping is not None and coping.word("slope_toward") != "roof":
        warm = f", over a cavity {WARM}" if wall.parapet.word("cavity_at_roof") == WARM else ""
        words = f"meltwater of the top runs to the {coping.word('slope_toward')}{warm}".replace(
            "the both", "both"
        )
        yield words, coping.at("slope_toward"), coping.id
    for scupper in wall.parapet.scuppers:
        if scupper.word("use") == "primary" and scupper.word("outlet") != "conductor head":
            name = scupper.word("name")
            yield f"scupper {name} empties meltwater of the roof into the open air", scupper.at("outlet"), ""


def _below(wall: Wall, words: str, mark: Mark, layer: str) -> RuleResult:
    people = people_below(wall)
    if people:
        return fail(f"{words}, and ice falls on what lies below: {', '.join(people)}", mark, layer)
    if not wall.parapet.has("below_edge"):
        missing = f"parapet `{wall.parapet.name}`: add `below_edge`"
        return unknown(f"{words}; what lies below is not stated", missing, mark, layer)
    return ok(f"{words}; nobody passes below", mark, layer)
