"""EX12: whether the work is renovation under the rule on lead is known.

Housing and child-occupied facilities built before 1978 may have their paint disturbed for compensation by certified firms
alone (40 CFR 745). Asks for the year and, where it is an early one, for the use of the parts that the work disturbs.
Section 02 41 19 then asks for the firm, its renovator, and their records.

Right::

    building:
      year_built: 1961
      child_occupied: yes
    existing: {by: an architect}

Wrong::

    building:
      year_built: 1961
    existing: {by: an architect}
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Existing
from specgen.rules.existing.standing import standing
from specgen.rules.rule import Rule, RuleResult, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.answers import lead_safe

RULE = Rule(
    name="lead-safe renovation",
    severity=Severity.QUERY,
    applies_to="existing",
    reason="Dust of old paint poisons the children who live or learn behind the wall.",
    basis=("existing.lead_year", "existing.lead_renovation"),
    remedy="Find out the year of construction, and who occupies the parts that the work disturbs. "
    "State `building.year_built` and `building.child_occupied`.",
)


@standing
def check(wall: Wall, existing: Existing) -> Iterator[RuleResult]:
    """Year and use of the building."""
    building, answer = wall.project.building, lead_safe(wall)
    year = building.values.get("year_built")
    built = f"built in {year}" if year else "year of construction not stated"
    if answer is None:
        asked = "`building.child_occupied` is not stated" if year else "nor is `building.child_occupied` no"
        message = f"whether the work is renovation under the rule on lead is not known: {built}, {asked}"
        missing = f"add {'' if year else '`building.year_built` or '}`building.child_occupied`"
        yield unknown(message, missing, building.at("year_built") if year else existing.mark)
    elif answer:
        message = f"{built}, housing or a child-occupied facility: the sections ask for a certified firm"
        yield ok(message, building.at("year_built"))
    elif building.flag("child_occupied") is False:
        yield ok("neither housing nor a child-occupied facility", building.at("child_occupied"))
    else:
        yield ok(f"{built}: too late for the rule", building.at("year_built"))
