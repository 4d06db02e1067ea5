"""CP03: the coping drips clear of both faces.

Holds the projection of both drips against the requirement. Short of it is a risk. No drip, or less than German trade
rules accept over a face that is not rendered, is a defect: the water then follows the face. Over rendered faces the
same rules ask 40 mm, and so do Austrian ones; for copper 50 mm. They bind no project here. The requirement is 1 in,
as American practice has it: the top drains to the roof, and a drained gap and a bonded barrier stand behind the
plaster. A finding on a plastered side or on copper notes what those rules ask, and an office that follows them sets
the option `drip`.

Right::

    - role: coping
      kind: formed metal
      outer_drip: 1 in
      inner_drip: 1 in

Wrong::

    - role: coping
      kind: formed metal
      outer_drip: 0 in
      inner_drip: 1/2 in
"""

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Outcome, Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.hold import hold
from specgen.rules.remedy import Known, Remedy, SetValue
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall
from specgen.units.compare import at_least

RULE = Rule(
    name="coping drips",
    severity=Severity.DEFECT,
    applies_to="coping",
    reason="Without a clear drip the runoff follows the face below, soils it, and wets the upper edge of the plaster.",
    basis=("coping.drip", "coping.drip_floor", "coping.drip_rendered"),
    remedy="Form a drip on both sides that stands clear of the face below.",
    options=(
        Option("drip", "coping.drip", "least projection of a drip"),
        Option("floor", "coping.drip_floor", "projection below which a drip is a defect over any face"),
    ),
)
REMEDIES: tuple[Remedy, ...] = (
    (
        SetValue("coping", "outer_drip", Known("coping.drip")),
        SetValue("coping", "inner_drip", Known("coping.drip")),
    ),
)


@each_layer("coping")
def check(wall: Wall, coping: Component) -> Iterator[RuleResult]:
    """Both drips."""
    if wall.requirement("coping.outer_drip") is None:
        yield not_applicable("no coping with drips is described")
    else:
        yield _drip(wall, coping, "outer_drip")
        yield _drip(wall, coping, "inner_drip")


def _german(wall: Wall, coping: Component, side: str) -> tuple[str, ...]:
    """What German trade rules ask for at this side of the coping, as a note."""
    notes = []
    if wall.parapet.word(f"{side}_face") == "stucco":
        notes.append(("coping.drip_rendered", "over rendered faces"))
    if coping.word("metal") == "copper":
        notes.append(("coping.drip_copper", "for copper"))
    return tuple(
        f"note: {wall.practice.source(key)}: {wall.practice.quantity(key).text} {where}"
        for key, where in notes
    )


def _drip(wall: Wall, coping: Component, name: str) -> RuleResult:
    floor = wall.practice.quantity("coping.drip_floor")
    stated = coping.quantity(name)
    below = stated is not None and not at_least(stated, floor)
    side = name.removesuffix("_drip")
    wrong = f"the coping has no drip on its {side} side" if stated is not None and stated.value == 0 else ""
    severity = Severity.DEFECT if below else Severity.RISK
    result = hold(wall, f"coping.{name}", coping, wrong, severity, _german(wall, coping, side))
    return replace(result, basis=RULE.basis[:2]) if result.outcome is Outcome.FAIL else result
