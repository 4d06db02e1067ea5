"""CP03: the coping drips clear of both faces.

Holds the projection of both drips against the requirement. Short of it is a risk; no drip, or less than the
least that any of the known rules accepts, and only over faces that are not rendered, is a defect: the water then follows
the face. A finding notes what German trade rules ask for over rendered faces and for copper, which is more; they bind no
project here.

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
    reason="Without a clear drip the runoff follows the face below.",
    basis=("coping.drip", "coping.drip_floor"),
    remedy="Form a drip on both sides that stands clear of the face below.",
    options=(
        Option("drip", "coping.drip", "least projection of a drip"),
        Option("floor", "coping.drip_floor", "projection below which a drip is a defect"),
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


def _german(wall: Wall, coping: Component) -> tuple[str, ...]:
    """What German trade rules ask for at this coping, as a note."""
    notes = []
    if wall.plastered:
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
    result = hold(wall, f"coping.{name}", coping, wrong, severity, _german(wall, coping))
    return replace(result, basis=RULE.basis) if result.outcome is Outcome.FAIL else result
