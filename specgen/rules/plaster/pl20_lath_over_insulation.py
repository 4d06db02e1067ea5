"""PL20: lath over insulation is carried into the framing, by fasteners that are calculated or by furring.

Where insulation stands outside the barrier the fasteners carry the plaster and the wind on a lever as long as the
insulation is thick. Asks which way it is carried. Fasteners through the insulation want the calculation of the lath
fasteners, whose result PL07 holds. Furring over foam plastic has tables in the code, on wood studs and, by their
thickness, on steel studs; what no table covers is designed by someone who is named.

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

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import Held, each_layer, rule_of
from specgen.rules.hold import not_stated
from specgen.rules.rule import RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.facts import insulated_outside

RULE = rule_of(
    "lath.furring_embedment",
    "lath.furring_spacing",
    name="lath over insulation",
    severity=Severity.DEFECT,
    reason="Plaster over insulation hangs on fasteners that bend; it sags and cracks where nobody has calculated them.",
    basis=("lath.over_insulation", "table furring_over_foam", "lath.embedment_wood", "lath.embedment_steel"),
    remedy="Calculate the fasteners through the insulation, or fasten furring as the code's table or an engineer states.",
)
FURRING = Held(RULE.holds)
SUBJECT = "lath fasteners"
BASIS = ("lath.over_insulation",)
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
    elif (calculation := wall.calculations[SUBJECT]).done:
        yield ok("the fasteners through the insulation are calculated", lath.at("over_insulation"), lath.id)
    else:
        message = "the fasteners through the insulation are not calculated"
        missing = f"layer `{lath.id}`: state {'; '.join(calculation.missing)}"
        yield unknown(message, missing, lath.at("over_insulation"), lath.id)


def _furring(wall: Wall, lath: Component) -> Iterator[RuleResult]:
    """Embedment and spacing against their limits; what has no limit has an engineer."""
    designer, studs = lath.word("furring_designed_by"), wall.part("framing")
    if studs and studs.kind == STEEL and studs.quantity("steel_thickness") is None and not designer:
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
