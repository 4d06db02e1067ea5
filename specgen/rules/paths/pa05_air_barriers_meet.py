"""PA05: the air barrier of the wall meets that of the roof, and its leakage is shown as the energy code asks.

Over the top the wall's air barrier reaches the roof membrane; across at roof level it reaches the deck. Asks which
layer is the air barrier of the roof, and where that is not the one that the wall reaches, nothing joins the two. From
the edition on that tests or verifies the whole building, asks how its air leakage is shown: by the IECC of the year of
the building code, or by the edition of ASHRAE 90.1 that `building.energy_standard` names.

Right::

    building:
      roof_air_barrier: roof membrane
      air_leakage: whole building test

Wrong::

    building:
      roof_air_barrier: membrane on the deck
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.wall.answers import DECK_AIR
from specgen.wall.code import energy_standard, follows_ashrae, leakage_is_tested, leakage_limit

RULE = Rule(
    name="air barriers of wall and roof",
    severity=Severity.RISK,
    applies_to="control layers",
    reason="Where the two do not meet, air of the rooms leaks into the parapet, and the building fails its test there.",
    basis=(
        "air.continuous",
        "air.leakage",
        "air.leakage_2024",
        "air.continuous_ashrae",
        "air.leakage_ashrae",
        "air.leakage_ashrae_2022",
    ),
    remedy="Carry the wall's air barrier to the layer that is the roof's, or name the layer that joins them.",
)
UNTESTED = "energy code without a test"
REACHES = {"over the top": ("roof membrane",), "across at roof level": DECK_AIR}


def check(wall: Wall) -> Iterator[RuleResult]:
    """Where the two air barriers meet, and how their leakage is shown."""
    building, path, ashrae = (
        wall.project.building,
        wall.parapet.word("air_path"),
        follows_ashrae(wall.project),
    )
    if wall.part("barrier") is None or path is None:
        yield not_applicable("no barrier is described, or PA02 asks where the air barrier passes")
        return
    roof, mark, basis = (
        building.word("roof_air_barrier"),
        building.at("roof_air_barrier"),
        ("air.continuous_ashrae" if ashrae else "air.continuous",),
    )
    if roof is None:
        yield not_stated("the air barrier of the roof", building, "roof_air_barrier", "")
    elif roof == "none":
        yield fail("the roof has no air barrier that the wall's could join", mark, basis=basis)
    elif roof in REACHES[path]:
        yield ok(f"the air barrier of the wall meets that of the roof, {roof}", mark, basis=basis)
    else:
        message = (
            f"the wall's air barrier passes {path}, and that of the roof is the {roof}: nothing joins the two"
        )
        yield fail(message, mark, basis=basis)
    if leakage_is_tested(wall.project):
        yield _leakage(wall, (leakage_limit(wall.project),))


def _leakage(wall: Wall, basis: tuple[str, ...]) -> RuleResult:
    """How the air leakage of the building is shown; no edition of ASHRAE 90.1 that asks for it is without a test."""
    building, at = wall.project.building, wall.project.building.at("air_leakage")
    shown = building.word("air_leakage")
    if shown is None:
        return not_stated("how the energy code's limit of air leakage is met", building, "air_leakage", "")
    if shown == UNTESTED and follows_ashrae(wall.project):
        message = f"{shown}, and {energy_standard(wall.project)} asks for a test or for verification"
        return fail(message, at, severity=Severity.QUERY, basis=basis)
    return ok(f"air leakage of the building: {shown}", at, basis=basis)
