"""PL20: lath over insulation is carried into the framing, by fasteners that are calculated or by furring.

Where insulation stands outside the barrier the fasteners carry the plaster and the wind on a lever as long as the
insulation is thick. Asks which way it is carried. Fasteners through the insulation want the calculation of the lath
fasteners, whose result PL07 holds. Lath and furring over foam plastic have tables in the code, on wood studs and, by
their thickness, on steel studs; what no table covers is designed by someone who is named. The tables carry weight
alone, the calculation wind too: the closer spacing of the two governs, and the rule says which it is.

Right::

    - role: lath
      kind: self-furred expanded metal lath
      over_insulation: furring
      furring_fastener: No. 10 screw
      furring_spacing: 12 in
      furring_embedment: 1 1/4 in

Wrong::

    - role: lath
      kind: self-furred expanded metal lath
      over_insulation: furring
      furring_fastener: 0.131 in nail
      furring_spacing: 24 in
"""

from collections.abc import Iterator
from typing import TypeGuard

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import Held, each_layer, rule_of
from specgen.rules.hold import not_stated
from specgen.rules.rule import RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_most, computed_at_most
from specgen.units.quantity import Quantity, parse
from specgen.wall.facts import insulated_outside
from specgen.wall.over_foam import lath_spacing, through_foam

RULE = rule_of(
    "lath.furring_embedment",
    "lath.furring_spacing",
    name="lath over insulation",
    severity=Severity.DEFECT,
    reason="Plaster over insulation hangs on fasteners that bend; it sags and cracks where nobody has calculated them.",
    basis=(
        "lath.over_insulation",
        "table furring_over_foam",
        "table lath_over_foam",
        "lath.embedment_wood",
        "lath.embedment_steel",
    ),
    remedy="Calculate the fasteners through the insulation, or fasten furring as the code's table or an engineer states.",
)
FURRING = Held(RULE.holds)
SUBJECT = "lath fasteners"
BASIS = ("lath.over_insulation",)
THROUGH = ("lath.over_insulation", "table lath_over_foam")
STEEL = "cold-formed steel studs"


@each_layer("lath")
def check(wall: Wall, lath: Component) -> Iterator[RuleResult]:
    """Which way the plaster is carried, and what that way asks for."""
    if not insulated_outside(wall):
        yield not_applicable("no insulation stands outside the barrier")
    elif lath.word("over_insulation") is None:
        yield not_stated("what carries the lath over the insulation", lath, "over_insulation", lath.id)
    elif lath.word("over_insulation") == "furring":
        yield from _furring(wall, lath)
    else:
        yield from _through(wall, lath)


def _through(wall: Wall, lath: Component) -> Iterator[RuleResult]:
    """Fasteners straight through the insulation: calculated, and over foam plastic held against the code's table."""
    calculation, mark = wall.calculations[SUBJECT], lath.at("over_insulation")
    designer, studs = lath.word("fasteners_designed_by"), wall.part("framing")
    if not calculation.done:
        message = "the fasteners through the insulation are not calculated"
        yield unknown(message, f"layer `{lath.id}`: state {'; '.join(calculation.missing)}", mark, lath.id)
    elif not through_foam(wall) or designer:
        answers = f", and {designer} answers for them" if designer else ""
        yield ok(f"the fasteners through the insulation are calculated{answers}", mark, lath.id)
    elif lath.word("fastener") is None:
        yield not_stated("the fastener of the lath through the foam", lath, "fastener", lath.id)
    elif _thickness_asked(studs):
        yield not_stated("thickness of the steel studs behind the foam", studs, "steel_thickness", studs.id)
    elif (table := lath_spacing(wall)) is None:
        message = (
            "no table of the code that was read carries this plaster on these fasteners through the foam"
        )
        message += "; an approved design is to stand in for it, and nobody is named"
        yield fail(message, mark, lath.id, severity=Severity.QUERY, basis=THROUGH)
    else:
        yield from _table_and_calculation(wall, lath, table)
    yield from _two_diameters(wall, lath)


def _two_diameters(wall: Wall, lath: Component) -> Iterator[RuleResult]:
    """A nail that is named by another diameter than the calculation takes."""
    fastener, stated = lath.word("fastener") or "", lath.quantity("fastener_diameter")
    shank = fastener.removesuffix(" nail")
    if stated is None or shank == fastener:
        return
    nail = parse(shank)
    if not (at_most(stated, nail) and at_most(nail, stated)):
        message = f"the fastener is a nail of {wall.shown(nail)}, and its diameter is stated as {wall.shown(stated)}"
        mark = lath.at("fastener_diameter")
        yield fail(message, mark, lath.id, severity=Severity.QUERY, basis=THROUGH)


def _table_and_calculation(wall: Wall, lath: Component, table: Quantity) -> Iterator[RuleResult]:
    """Which of the two governs; a wider spacing that no requirement holds is told."""
    stated = lath.quantity("fastener_spacing")
    calculated = wall.calculations[SUBJECT].result("largest_spacing")
    assert calculated is not None  # the calculation is done
    governs = "calculation" if computed_at_most(calculated.value, table.value) else "table"
    both = (
        f"the code's table gives {wall.shown(table)} for the weight, the calculation {wall.shown(calculated)}"
    )
    both += f" with the wind: the {governs} governs"
    wide = stated is not None and not at_most(stated, table)
    if wide and wall.requirement("lath.fastener_spacing", lath) is None:
        message = f"the lath fasteners stand wider apart than the code's table; {both}, and nobody is named"
        mark = lath.at("fastener_spacing")
        yield fail(message, mark, lath.id, severity=Severity.QUERY, basis=THROUGH)
    else:
        yield ok(both, lath.at("over_insulation"), lath.id, basis=THROUGH)


def _thickness_asked(studs: Component | None) -> TypeGuard[Component]:
    return studs is not None and studs.kind == STEEL and studs.quantity("steel_thickness") is None


def _furring(wall: Wall, lath: Component) -> Iterator[RuleResult]:
    """Embedment and spacing against their limits; what has no limit has an engineer."""
    designer, studs = lath.word("furring_designed_by"), wall.part("framing")
    if _thickness_asked(studs) and not designer:
        yield not_stated(
            "thickness of the steel studs that the furring is fastened to", studs, "steel_thickness", studs.id
        )
        return
    for result in FURRING.at(wall, lath):
        if result.outcome.value != "not applicable":
            yield result
    if wall.requirement("lath.furring_spacing", lath) is None:
        message = "no table of the code gives the fastener spacing of this furring"
        if designer:
            yield ok(
                f"{message}: {designer} answers for it", lath.at("furring_designed_by"), lath.id, basis=BASIS
            )
        else:
            message += "; it is to be designed, and nobody is named"
            yield fail(message, lath.at("over_insulation"), lath.id, severity=Severity.QUERY, basis=BASIS)
