"""CL03: in severe driving rain the wall has every line of defense.

Looks at `site.rain_exposure`. Where it is severe, the parapet needs the drained gap, the bonded barrier and
the coping together; none stands in for another.

Right::

    site: {rain_exposure: severe}
    build_up:
      - role: drainage layer
        kind: dimpled sheet
      - role: barrier
        kind: self-adhered

Wrong::

    site: {rain_exposure: severe}
    build_up:
      - role: plaster
        kind: portland cement plaster
      - role: barrier
        kind: self-adhered
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.requirements.catalogue_file import Beside
from specgen.requirements.weigh import of_rule
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    severity=Severity.DEFECT,
    applies_to="parapet",
    reason="A parapet has weather on both faces and on top; severe rain finds the line that is missing.",
    basis=("climate.severe_rain",),
    remedy="Add what is missing: drainage layer, bonded barrier, coping.",
)

INDEX = Beside(
    "driving rain.wall_index",
    "annual index of the wall in one typical year",
    "the stated exposure governs, one typical year is indicative",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated exposure, then the three lines."""
    site = wall.project.site
    exposure, mark = site.word("rain_exposure"), site.at("rain_exposure")
    if not wall.plastered:
        yield not_applicable("no face of the parapet is plaster")
        return
    if exposure is None:
        yield unknown("exposure to driving rain is not stated", "add `site.rain_exposure`")
        return
    because = (
        f"exposure to driving rain: {exposure}",
        *of_rule(wall, "climate.severe_rain", f"exposure stated as {exposure}", INDEX),
    )
    lacking = _lacking(wall)
    if exposure != "severe" or not lacking:
        yield ok(f"exposure to driving rain is {exposure}", mark, because=because)
    else:
        message = f"exposure to driving rain is severe, and the parapet lacks: {', '.join(lacking)}"
        sought = tuple(lacking.values()) if all(map(wall.parapet.undescribed, lacking.values())) else ()
        yield fail(message, mark, because=because, without=sought)


def _lacking(wall: Wall) -> dict[str, str]:
    """What is not there, with the role that would make it."""
    barrier, coping = wall.barrier, wall.part("coping")
    lines = {
        "a drainage layer": wall.part("drainage layer") is not None,
        "a bonded barrier": barrier is not None and wall.kind(barrier).bonded,
        "a metal coping": coping is not None and wall.kind(coping).metal,
    }
    roles = dict(zip(lines, ("drainage layer", "barrier", "coping"), strict=True))
    return {name: roles[name] for name, there in lines.items() if not there}
