"""SC08: the overflow is sized for the storm that the code names, not for the hourly rain of the primary drains.

Reads the two design rainfalls of the site. The rain of 15 minutes is heavier than that of an hour; editions of the
code to 2015 named the hourly rate for both. ASCE 7-22 asks for a return period by the risk category of the building.

Right::

    site:
      design_rainfall: 4.6 in/h
      secondary_rainfall: 9.2 in/h
    scuppers:
      - {name: S-2, use: overflow, width: 24 in, height: 6 in, inlet_height: 2 in, area_served: 1400 ft2}

Wrong::

    site:
      design_rainfall: 4.6 in/h
      secondary_rainfall: 4.6 in/h
    scuppers:
      - {name: S-2, use: overflow, width: 24 in, height: 6 in, inlet_height: 2 in, area_served: 1400 ft2}
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.practice.entries import cell
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_least, at_most
from specgen.wall.code import BY_RISK_CATEGORY, load_standard

RULE = Rule(
    name="rain at the overflow",
    severity=Severity.DEFECT,
    applies_to="scuppers",
    reason="A cloudburst fills a roof in minutes: an overflow sized for the rain of an hour lets it stand too deep.",
    basis=("rain.secondary", "rain.secondary_factor", "table rain_return_periods"),
    remedy="State the rain of 15 minutes for the place, of the return period that the risk category asks for.",
)
HOURLY_TO = 2015  # the last edition whose 1611.1 names the hourly rate and whose ASCE 7 names none


def check(wall: Wall) -> Iterator[RuleResult]:
    """The secondary rainfall against the primary, and its return period."""
    site = wall.project.site
    hourly, rate = site.quantity("design_rainfall"), site.quantity("secondary_rainfall")
    if not any(one.word("use") == "overflow" for one in wall.parapet.scuppers):
        yield not_applicable("no overflow scupper is listed")
        return
    if hourly is None or rate is None:
        yield not_applicable("the two rainfalls are not stated; SC06 tells what is missing")
        return
    at = site.at("secondary_rainfall")
    message = f"primary drainage {hourly.text}, secondary drainage {rate.text}"
    same_by_code = wall.edition is not None and wall.edition <= HOURLY_TO and at_least(rate, hourly)
    if at_most(rate, hourly) and not same_by_code:
        yield fail(f"{message}: the rain of 15 minutes is heavier than that of an hour", at)
    else:
        yield ok(message, at)
    if load_standard(wall.project, wall.practice) == BY_RISK_CATEGORY:
        yield _return_period(wall)


def _return_period(wall: Wall) -> RuleResult:
    basis = ("table rain_return_periods",)
    site, building = wall.project.site, wall.project.building
    category, period = building.word("risk_category"), site.quantity("secondary_rainfall_return")
    if category is None or period is None:
        what = "building.risk_category" if category is None else "site.secondary_rainfall_return"
        message = "the return period of the secondary rainfall cannot be held against the risk category"
        return unknown(message, f"add `{what}`", site.at("secondary_rainfall"), basis=basis)
    (row,) = wall.practice.table("rain_return_periods").where(risk_category=category)
    asked = cell(row, "years")
    message = f"secondary rainfall of {period.text}, risk category {category} asks for {asked.text}"
    outcome = ok if at_least(period, asked) else fail
    return outcome(message, site.at("secondary_rainfall_return"), basis=basis)
