"""EX06: a standing wall is surveyed for hazardous materials before it is cut.

Asks for the survey by an accredited inspector, its day, and its report. No age of a building excepts it; a residential
building of four or fewer dwelling units is no facility of 40 CFR 61, but OSHA protects who works on it. A wall that was
opened before its survey is a risk, and an opening without a day does not tell; a survey that is still to come, or an old
one, is a question, and the sections hold the work for the first.

Right::

    existing:
      hazardous_materials: none found
      surveyed: 2026-08-25
      surveyed_by: accredited inspector, report H-2619

Wrong::

    existing:
      hazardous_materials: not surveyed
      openings:
        - {name: T-1, where: below the coping, found: sound and dry}
"""

from collections.abc import Iterator
from datetime import date

from specgen.model.finding import Severity
from specgen.model.project import Existing, Value
from specgen.rules.existing.standing import standing
from specgen.rules.rule import Option, Rule, RuleResult, fail, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_most
from specgen.units.quantity import quantity

RULE = Rule(
    name="survey for hazardous materials",
    severity=Severity.RISK,
    applies_to="existing",
    reason="Old plaster, coating, sealant, felt, and roofing may hold asbestos or lead, which a cut sets free.",
    basis=("existing.surveyed", "existing.inspector", "existing.surfacing", "existing.survey_age"),
    remedy="Have the parts that are cut surveyed by an accredited inspector; let nobody cut before the report is there.",
    options=(
        Option("age", "existing.survey_age", "age of a survey beyond which the inspector is asked again"),
    ),
)
KEY = "hazardous_materials"


@standing
def check(wall: Wall, existing: Existing) -> Iterator[RuleResult]:
    """The survey, its papers, and the openings that did not wait for it."""
    found = existing.word(KEY)
    lacking = [one for one in (KEY, "surveyed", "surveyed_by") if not existing.has(one)]
    if found == "not surveyed" and existing.has("surveyed"):
        yield fail(f"`{KEY}` says not surveyed, and `surveyed` names a day", existing.at("surveyed"))
    elif found == "not surveyed":
        names = ", ".join(one.word("name") or "" for one in existing.openings)
        message = "the wall is not surveyed for hazardous materials"
        message += f", and was opened at {names}" if names else "; the sections hold the work for it"
        yield fail(message, existing.at(KEY), severity=None if names else Severity.QUERY)
    elif lacking:
        missing = f"below `existing`: {', '.join(f'`{one}`' for one in lacking)}"
        yield unknown("the survey for hazardous materials is not fully stated", missing, existing.at(KEY))
    elif _later(existing.values["surveyed"], wall.project.info.values.get("issue_date")):
        message = (
            f"the survey of {existing.values['surveyed']} lies after the issue date, and states what it found"
        )
        yield fail(message, existing.at("surveyed"))
    elif early := _before_the_survey(existing):
        message = (
            f"the wall was opened at {', '.join(early)} before its survey of {existing.values['surveyed']}"
        )
        yield fail(message, existing.at("surveyed"))
    elif undated := [one.word("name") or "" for one in existing.openings if not one.has("date")]:
        message = f"whether the survey came before the wall was opened at {', '.join(undated)} is not stated"
        yield unknown(message, "`date` of each opening", existing.at("surveyed"))
    elif old := _too_old(wall, existing):
        yield fail(old, existing.at("surveyed"), severity=Severity.QUERY, basis=("existing.survey_age",))
    else:
        yield ok(f"surveyed {existing.values['surveyed']}: {found}", existing.at(KEY))


def _before_the_survey(existing: Existing) -> list[str]:
    """The openings with a day before that of the survey."""
    day = existing.values["surveyed"]
    return [one.word("name") or "" for one in existing.openings if _later(day, one.values.get("date"))]


def _too_old(wall: Wall, existing: Existing) -> str:
    """That the survey is older at the issue than one that is still relied on; "" where it is not."""
    day, issued = existing.values["surveyed"], wall.project.info.values.get("issue_date")
    if not isinstance(day, date) or not isinstance(issued, date):
        return ""
    age, most = quantity((issued - day).days, "day"), wall.practice.quantity("existing.survey_age")
    if at_most(age, most):
        return ""
    return f"the survey of {day} is older at the issue date than {wall.limit(most, 'at most')}"


def _later(day: Value | None, other: Value | None) -> bool:
    """Whether both are days, and the first is the later one."""
    return isinstance(day, date) and isinstance(other, date) and day > other
