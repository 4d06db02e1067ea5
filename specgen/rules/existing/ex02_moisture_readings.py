"""EX02: a moisture reading names its method and its material, and wet wood is taken out.

A number without its method says nothing: a pin meter in plaster, a pinless meter over lath and a probe in the
cavity read different things. Readings in wood are held against the moisture at which wood may be covered;
wetter wood is a risk, unless a proposed repair takes it out.

Right::

    existing:
      observations:
        - name: M-1
          what: moisture reading
          where: below the coping
          reading: 14 %
          material: wood
          method: pin meter

Wrong::

    existing:
      observations:
        - name: M-1
          what: moisture reading
          where: below the coping
          reading: 28 %
          material: wood
          method: pin meter
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Existing, Record
from specgen.rules.existing.answers import WET_WOOD, answered_by
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_most

RULE = Rule(
    severity=Severity.RISK,
    applies_to="existing",
    reason="A reading without its method cannot be compared; wet wood behind plaster rots.",
    basis=("existing.method", "field.wood_moisture", "table existing_found"),
    remedy="Find the way of the water, and replace the wet wood, or let it dry and read it again before it is covered.",
    options=(Option("moisture", "field.wood_moisture", "highest moisture content of wood"),),
)
NEEDED = ("reading", "material", "method")


def check(wall: Wall) -> Iterator[RuleResult]:
    """Each moisture reading."""
    existing = wall.parapet.existing
    readings = (
        [one for one in existing.observations if one.word("what") == "moisture reading"] if existing else []
    )
    if existing is None or not readings:
        yield not_applicable("no moisture reading is described")
        return
    for one in readings:
        yield _judged(wall, existing, one)


def _judged(wall: Wall, existing: Existing, one: Record) -> RuleResult:
    name, value = one.word("name"), one.quantity("reading")
    lacking = ", ".join(f"`{attribute}`" for attribute in NEEDED if not one.has(attribute))
    if value is None or lacking:
        message = f"moisture reading {name} is not fully stated"
        return unknown(message, f"observation `{name}`: add {lacking}", one.mark)
    what = f"moisture reading {name}: {value.text} in {one.word('material')} by {one.word('method')}"
    most = wall.practice.quantity("field.wood_moisture")
    if one.word("material") == "wood" and not at_most(value, most):
        message = f"{what}, more than {most.text}"
        answers = answered_by(WET_WOOD, one.word("where") or "", existing, wall.practice)
        if not answers:
            return fail(message, one.at("reading"))
        return ok(f"{message}; the wet wood goes out with: {', '.join(answers)}", one.at("reading"))
    return ok(what, one.at("reading"))
