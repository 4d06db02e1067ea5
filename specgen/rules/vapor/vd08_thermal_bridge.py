"""VD08: the thermal bridge at the roof line is answered.

Passes where the insulation runs over the top, where a thermal break is stated, or where the calculation of the
junction with the roof finds its inner edge warm enough; too cold by that calculation is a risk. Otherwise the
parapet is a fin through the insulation, and someone must answer for it.

Right::

    heat_path: across at roof level
    thermal_break: 4 in

Wrong::

    heat_path: across at roof level
    thermal_break:  # not stated, and not calculated
"""

from collections.abc import Iterator

from specgen.model.calculation import Calculation
from specgen.model.finding import Severity
from specgen.rules.hold import words
from specgen.rules.rule import Rule, RuleResult, fail, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_least
from specgen.units.show import show

RULE = Rule(
    name="thermal bridge at the roof line",
    severity=Severity.QUERY,
    applies_to="parapet",
    reason="A parapet through the insulation loses heat, and its inner edge is cold enough for mold.",
    basis=("heat.roof_line", "junction.f_rsi"),
    remedy="Set a thermal break under the parapet, wrap it with insulation, or calculate the roof junction.",
)
ROOF_LINE = ("heat.roof_line",)
SUBJECT, LEAST = "roof junction", "junction.f_rsi"


def check(wall: Wall) -> Iterator[RuleResult]:
    """The heat path, the break, or the calculation."""
    parapet, path = wall.parapet, wall.parapet.word("heat_path")
    if path is None:
        message = "where the insulation passes the parapet is not stated"
        yield unknown(message, f"parapet `{parapet.name}`: add `heat_path`")
    elif path == "over the top":
        yield ok("the insulation runs over the top", parapet.at("heat_path"), basis=ROOF_LINE)
    elif parapet.has("thermal_break"):
        stated = words(parapet.values["thermal_break"])
        yield ok(f"a thermal break of {stated} is stated", parapet.at("thermal_break"), basis=ROOF_LINE)
    elif (calculation := wall.calculations.get(SUBJECT)) is not None and calculation.done:
        yield _calculated(wall, calculation)
    else:
        message = (
            "the parapet crosses the insulation at the roof line; no thermal break is stated or calculated"
        )
        yield fail(message, parapet.at("heat_path"), basis=ROOF_LINE, without=("framing",))


def _calculated(wall: Wall, calculation: Calculation) -> RuleResult:
    """The finished calculation of the junction: its lowest inside surface against mold."""
    factor, least = calculation.result("f_rsi"), wall.practice.quantity(LEAST)
    assert factor is not None  # the calculation is done
    # Rounded down, so that what fails by a hair is not printed as what is asked for.
    message = (
        f"the junction with the roof is calculated: its temperature factor is {show(factor, rounding='down')}; "
        f"asked for against mold: at least {least.text}"
    )
    plain = calculation.result("f_rsi_wall")
    if plain is not None and not at_least(plain, least):
        itself = show(plain, rounding="down")
        message += (
            f"; the wall by itself has {itself}: insulate it, no thermal break of the parapet is enough"
        )
    mark = wall.parapet.at("heat_path")
    if calculation.verdict("f_rsi_met") == "yes":
        return ok(message, mark)
    return fail(message, mark, severity=Severity.RISK)
