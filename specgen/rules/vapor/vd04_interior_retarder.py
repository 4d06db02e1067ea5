"""VD04: the vapor retarder on the interior side suits the climate.

Looks at `interior_retarder`. In warm zones the code keeps class I, and in hot zones class II as well, away
from the interior side of framed walls: vapor comes from outside there. In cold zones and in marine zone 4 it asks for
class I or II there, or for class III under conditions; a parapet that stands above the insulation has no interior side.

Right::

    site: {climate_zone: 2A}
    interior_retarder: class III

Wrong::

    site: {climate_zone: 2A}
    interior_retarder: class II
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.drainage.code_demand import zone_words
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.facts import solid_framing

RULE = Rule(
    name="interior vapor retarder",
    severity=Severity.DEFECT,
    applies_to="parapet",
    reason=(
        "Where vapor comes from outside, a tight layer on the interior side keeps it in the wall; where it comes from "
        "inside, nothing else keeps it out."
    ),
    basis=("vapor.interior_without_class_1", "vapor.interior_without_class_2", "vapor.interior_required"),
    remedy="Choose the vapor retarder of the interior side by the table of the code, or have a design approved.",
    options=(
        Option("no class I", "vapor.interior_without_class_1", "zones without class I inside"),
        Option("no class II", "vapor.interior_without_class_2", "zones without class II inside"),
    ),
)
REQUIRED = "vapor.interior_required"
FIRST_EDITION = 2015  # earlier editions are not known to this tool
REFUSED = {"class I": "vapor.interior_without_class_1", "class II": "vapor.interior_without_class_2"}


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated class, by edition and climate zone."""
    parapet, edition = wall.parapet, wall.edition
    zone, stated = wall.project.site.word("climate_zone"), parapet.word("interior_retarder")
    mark = parapet.at("interior_retarder")
    if solid_framing(wall):
        yield not_applicable("the parapet is not framed")
    elif stated is None:
        message = "the vapor retarder on the interior side is not stated"
        yield unknown(message, f"parapet `{parapet.name}`: add `interior_retarder`")
    elif stated not in REFUSED and (zone is None or zone not in wall.practice.entry(REQUIRED).words()):
        yield ok(f"vapor retarder on the interior side: {stated}", mark)
    elif edition is None or zone is None:
        missing = "add `site.code`" if edition is None else "add `site.climate_zone`"
        yield unknown(f"whether {stated} may stand on the interior side cannot be told", missing, mark)
    elif edition < FIRST_EDITION:
        message = f"whether {stated} may stand on the interior side cannot be told"
        yield unknown(message, f"not covered: what IBC {edition} asks for", mark)
    elif stated not in REFUSED:
        yield _open(wall, stated, zone_words(zone))
    else:
        refused = zone in wall.practice.entry(REFUSED[stated]).words()
        message = f"vapor retarder on the interior side: {stated}"
        say = fail if refused else ok
        yield say(message, mark, because=(f"IBC {edition}", zone_words(zone)), basis=(REFUSED[stated],))


def _open(wall: Wall, stated: str, zone: str) -> RuleResult:
    """An open retarder, or none, where the code asks for a tighter one."""
    parapet = wall.parapet
    mark, because = parapet.at("interior_retarder"), (f"IBC {wall.edition}", zone)
    if parapet.word("heat_path") == "across at roof level":
        message = "the parapet stands above the insulation, and no side of it is interior"
        return ok(message, parapet.at("heat_path"), because=because, basis=(REQUIRED,))
    if stated == "none":
        message = "no vapor retarder on the interior side, where the code asks for class I or II, or an approved design"
        return fail(message, mark, "", Severity.RISK, because, (REQUIRED,))
    message = "class III on the interior side, which the code permits under conditions: vented cladding or insulation"
    return fail(message, mark, "", Severity.QUERY, because, (REQUIRED,))
