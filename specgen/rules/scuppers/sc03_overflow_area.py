"""SC03: the overflow is large enough, or its size is calculated.

Compares the openings of the overflow scuppers with those of the primary scuppers they back up. Smaller overflows
pass where the calculation `scuppers` shows that the base flashing stands above the water. Primary scuppers without an
overflow at this parapet are a question until `building.roof_overflow` says how the water leaves.

Right::

    scuppers:
      - name: S-1
        use: primary
        width: 6 in
        height: 4 in
      - name: S-2
        use: overflow
        width: 18 in
        height: 4 in

Wrong::

    scuppers:
      - name: S-1
        use: primary
        width: 6 in
        height: 4 in
      - name: S-2
        use: overflow
        width: 6 in
        height: 4 in
"""

from collections.abc import Iterator
from fractions import Fraction

from specgen.model.finding import Severity
from specgen.model.project import Record
from specgen.requirements.catalogue_file import Beside
from specgen.requirements.weigh import of_rule
from specgen.rules.hold import not_stated
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_least
from specgen.units.quantity import exactly

RULE = Rule(
    severity=Severity.RISK,
    applies_to="scuppers",
    reason="When the drains are blocked the overflow alone stands between the rain and the roof structure.",
    basis=("scupper.overflow_area", "scupper.overflow"),
    remedy="Enlarge the overflow scuppers, size them by calculation, or state how the roof drains. Calculate `scuppers`.",
    options=(
        Option("area", "scupper.overflow_area", "area of the overflow over that of the primary scuppers"),
    ),
)

WATER = Beside(
    "scuppers.spare",
    "base flashing above the water and its freeboard:",
    "the calculation governs, the rule stands in where the openings are not calculated",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The areas, the calculation, or the stated other way out."""
    primary = [one for one in wall.parapet.scuppers if one.word("use") == "primary"]
    overflow = [one for one in wall.parapet.scuppers if one.word("use") == "overflow"]
    lacking = [
        (one, name) for one in (*primary, *overflow) for name in ("width", "height") if not one.has(name)
    ]
    if not primary:
        yield not_applicable("no primary scupper is listed")
    elif not overflow:
        yield _elsewhere(wall, primary[0])
    elif lacking:
        for one, name in lacking:
            yield not_stated(f"clear {name} of scupper {one.word('name')}", one, name, "")
    else:
        yield _areas(wall, primary, overflow)


def _elsewhere(wall: Wall, primary: Record) -> RuleResult:
    basis, stated = ("scupper.overflow",), wall.project.building.word("roof_overflow")
    if stated:
        at = wall.project.building.at("roof_overflow")
        return ok(f"when the drains are blocked: {stated}", at, basis=basis)
    message = (
        f"no overflow backs up scupper {primary.word('name')}, and `building.roof_overflow` is not stated"
    )
    return unknown(message, "add `building.roof_overflow`", primary.mark, basis=basis)


def _areas(wall: Wall, primary: list[Record], overflow: list[Record]) -> RuleResult:
    factor = wall.practice.quantity("scupper.overflow_area")
    ratio = exactly(_area(overflow) / _area(primary), factor)
    shown, _ = wall.beside(ratio, "at least", factor)
    message = f"overflow scuppers have {shown} times the area of the primary ones; asked for: at least {factor.text}"
    mark, basis = overflow[0].mark, ("scupper.overflow_area",)
    because = of_rule(wall, "scupper.overflow_area", f"at least {factor.text} times the area", WATER)
    if at_least(ratio, factor):
        return ok(message, mark, because=because, basis=basis)
    done = wall.calculations.get("scuppers")
    spare = done.result("spare") if done is not None else None
    if spare is not None and spare.value >= 0.0:
        message = f"{message}, or sized by calculation, which they are"
        return ok(message, mark, because=because, basis=basis)
    return fail(message, mark, because=because, basis=basis)


def _area(scuppers: list[Record]) -> Fraction:
    sizes = [(one.quantity("width"), one.quantity("height")) for one in scuppers]
    return sum((wide.exact * high.exact for wide, high in sizes if wide and high), Fraction(0))
