"""EX11: what the survey found has the designer of its abatement.

Where a survey found hazardous materials, asks which, and who designs their abatement. The sections on it are that
designer's: 02 82 00 for asbestos, 02 83 00 for lead, 02 84 00 for polychlorinated biphenyls. Section 02 41 19 names them,
holds the cutting until the part is cleared, and specifies no abatement itself.

Right::

    existing:
      hazardous_materials: found
      found_materials: [asbestos]
      abatement_by: licensed asbestos designer, Sections of 9 September

Wrong::

    existing:
      hazardous_materials: found
      found_materials: [asbestos]
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Existing
from specgen.rules.existing.standing import standing
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.answers import FOUND

RULE = Rule(
    name="abatement of what was found",
    severity=Severity.QUERY,
    applies_to="existing",
    reason="A plasterer who cuts what the survey found sets it free over the street and the rooms below.",
    basis=("existing.abated", "existing.asbestos_notice"),
    remedy=(
        "Have a licensed designer write the sections on abatement for the Owner. State `found_materials` and "
        "`abatement_by`."
    ),
)


@standing
def check(wall: Wall, existing: Existing) -> Iterator[RuleResult]:
    """What was found, and who designs its abatement."""
    found, named = existing.word("hazardous_materials"), existing.words("found_materials")
    designer = existing.word("abatement_by")
    alone = [key for key in ("found_materials", "abatement_by") if existing.has(key)]
    if found != FOUND and alone:
        message = f"`{alone[0]}` is stated, and `hazardous_materials` does not say found"
        yield fail(message, existing.at(alone[0]), severity=Severity.RISK)
    elif found != FOUND:
        yield not_applicable("no survey states that it found hazardous materials")
    elif not named:
        message = "which hazardous materials the survey found is not stated"
        yield unknown(message, "`found_materials` below `existing`", existing.at("hazardous_materials"))
    elif designer is None:
        message = f"{', '.join(named)}: nobody is named who designs the abatement; the sections hold the work for it"
        yield fail(message, existing.at("found_materials"))
    else:
        yield ok(f"{', '.join(named)}: abatement by {designer}", existing.at("abatement_by"))
