"""FR05: the seismic design category is not lower than SDS and risk category give.

The acceleration at a long period may raise the category, and nothing lowers it: a lower one that stands beside its SDS
is a slip in one of the three values.

Right::

    building:
      risk_category: II
      seismic_design_category: D
      sds: 0.92

Wrong::

    building:
      risk_category: II
      seismic_design_category: A
      sds: 0.92
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.practice.entries import cell
from specgen.rules.rule import Rule, RuleResult, fail, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_least

RULE = Rule(
    name="seismic design category",
    severity=Severity.DEFECT,
    applies_to="framing",
    reason="A category that is too low takes the earthquake off the parapet.",
    basis=("table seismic_categories",),
    remedy="Ask the structural engineer for risk category, seismic design category, and SDS of this site.",
)
NEEDED = ("risk_category", "seismic_design_category", "sds")


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated category against that of the table."""
    building = wall.project.building
    lacking = [name for name in NEEDED if not building.has(name)]
    sds = building.quantity("sds")
    if lacking or sds is None:
        missing = ", ".join(f"`building.{name}`" for name in lacking or ["sds"])
        yield unknown("the seismic design category cannot be held against SDS", f"add {missing}")
        return
    risk, category = building.word("risk_category") or "", building.word("seismic_design_category") or ""
    column = "essential" if risk == "IV" else "ordinary"
    rows = wall.practice.table("seismic_categories").rows
    least = next(str(row[column]) for row in rows if at_least(sds, cell(row, "sds")))
    message = f"Seismic Design Category is {category}; SDS {sds.text} gives at least {least} in Risk Category {risk}"
    mark = building.at("seismic_design_category")
    yield ok(message, mark) if category >= least else fail(message, mark)
