"""EX13: the roof diaphragm is evaluated for wind where much of its roofing is removed.

The existing-building code asks for it in strong wind: deck, its fastening, and its connection to the walls lie open, and
what carries too little of the wind load is strengthened. Asks how much of the diaphragm is laid open, and for the answer
of the structural engineer of record.

Right::

    site: {wind_speed: 140 mph}
    existing:
      roofing_removed: 100 %
      roof_diaphragm: strengthened with this work

Wrong::

    site: {wind_speed: 140 mph}
    existing:
      roofing_removed: 100 %
      roof_diaphragm: not evaluated
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Existing
from specgen.rules.existing.standing import answered, standing
from specgen.rules.hold import not_stated
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.units.compare import at_most
from specgen.wall.code import edition_of

RULE = Rule(
    name="roof diaphragm at reroofing",
    severity=Severity.DEFECT,
    applies_to="existing",
    reason="Wind lifts a weak deck off its walls, and parapets with it; it is seen and mended only while it lies open.",
    basis=(
        "existing.diaphragm_share",
        "existing.diaphragm_wind",
        "existing.diaphragm_wind_2021",
        "existing.diaphragm_load",
    ),
    remedy="Have the structural engineer of record evaluate the diaphragm and its connections before roofing is removed.",
    options=(
        Option(
            "share",
            "existing.diaphragm_share",
            "share of the diaphragm laid open above which it is evaluated",
        ),
    ),
)
FIRST_OF_HIGHER_SPEED = 2021  # edition of the IEBC


@standing
def check(wall: Wall, existing: Existing) -> Iterator[RuleResult]:
    """Wind speed and share of the diaphragm; then the engineer's answer."""
    site, edition = wall.project.site, edition_of(wall.project)
    key = "existing.diaphragm_wind"
    if edition is not None and edition >= FIRST_OF_HIGHER_SPEED:
        key = "existing.diaphragm_wind_2021"
    speed, share = site.quantity("wind_speed"), existing.quantity("roofing_removed")
    if wall.part("roof turn-up") is None:
        yield not_applicable("no roof membrane stands on the parapet")
    elif speed is None:
        yield not_stated("design wind speed", site, "wind_speed", "")
    elif at_most(speed, wall.practice.quantity(key)):
        yield not_applicable(f"{speed.text} asks for no evaluation of the roof diaphragm")
    elif share is None:
        yield not_stated("how much of the roof diaphragm is laid open", existing, "roofing_removed", "")
    elif at_most(share, wall.practice.quantity("existing.diaphragm_share")):
        yield ok(
            f"{share.text} of the diaphragm laid open asks for no evaluation", existing.at("roofing_removed")
        )
    else:
        matter = f"wind on the roof diaphragm, with roofing removed from {share.text} of it at {speed.text}"
        yield answered(
            existing,
            "roof_diaphragm",
            matter,
            basis=("existing.diaphragm_share", key, "existing.diaphragm_load"),
        )
