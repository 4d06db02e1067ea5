"""PL03: the top of the parapet is not plaster.

A plaster-covered top has no drip and takes in rain from above. It is a defect, unless the drainage gap runs
unbroken up the face, across the top and down the back over a flashing membrane that no fastener of the lath
passes on the top; then it is still a risk.

Right::

    - role: coping
      kind: formed metal

Wrong::

    - role: coping
      kind: plaster-covered
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.hold import not_stated
from specgen.rules.remedy import Known, Remedy, SetKind, SetValue
from specgen.rules.rule import Rule, RuleResult, fail, ok
from specgen.rules.wall import Wall
from specgen.wall.facts import plaster_covered

RULE = Rule(
    name="no plaster on top",
    severity=Severity.DEFECT,
    applies_to="coping",
    reason="Plaster on a weather-exposed top has no drip, and takes in rain from above.",
    basis=("plaster.covered_top", "coping.required", "flashing.no_fasteners"),
    remedy="Cover the top with a metal coping that drips on both sides.",
)
COVERED = ("plaster.covered_top", "coping.required")
DRAINED = ("plaster.covered_top", "flashing.no_fasteners")
REMEDIES: tuple[Remedy, ...] = (
    (
        SetKind("coping", "formed metal"),
        SetValue("coping", "outer_drip", Known("coping.drip")),
        SetValue("coping", "inner_drip", Known("coping.drip")),
    ),
)


@each_layer("coping")
def check(wall: Wall, coping: Component) -> Iterator[RuleResult]:
    """The kind of the top, and what makes a plaster top tolerable."""
    if not plaster_covered(coping):
        yield ok(f"the top is {coping.kind}", coping.at("kind"), coping.id, basis=COVERED)
    elif coping.flag("drainage_over_top") and (flashings := wall.parapet.all_of("top flashing")):
        yield from _drained(coping, flashings)
    else:
        lacking = "drainage gap" if wall.part("top flashing") else "flashing membrane"
        message = f"the top is plaster, and no unbroken {lacking} runs under it from face to back"
        sought = ("top flashing",) if coping.flag("drainage_over_top") else ()
        yield fail(message, coping.at("kind"), coping.id, basis=COVERED, without=sought)


def _drained(coping: Component, flashings: tuple[Component, ...]) -> Iterator[RuleResult]:
    """A drained plaster top: a risk, and a defect where the lath is fastened through a flashing under it."""
    pierced = [one for one in flashings if one.flag("fasteners_through")]
    for flashing in pierced:
        message = "the top is plaster, and fasteners pass the flashing membrane under it"
        yield fail(message, flashing.at("fasteners_through"), flashing.id, basis=DRAINED)
    if pierced:
        return
    message = "the top is plaster over a drainage gap and a flashing membrane"
    yield fail(message, coping.at("kind"), coping.id, Severity.RISK, basis=COVERED)
    for flashing in flashings:
        if not flashing.has("fasteners_through"):
            what = "whether fasteners pass the flashing membrane under the plaster top"
            yield not_stated(what, flashing, "fasteners_through", flashing.id)
