"""PL02: the wall does not rely on a sealed plaster face.

Fails where the project says that it relies on the sealed face, and where neither a drainage layer nor a
bonded barrier stands behind the plaster: then nothing else keeps the water out. Plaster cracks again.

Right::

    relies_on_sealed_face: no

Wrong::

    relies_on_sealed_face: yes
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.remedy import DRAINAGE, Remedy, SetKind, SetValue
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall

RULE = Rule(
    name="no face-sealed reliance",
    severity=Severity.DEFECT,
    applies_to="parapet",
    reason="Plaster cracks with movement and wetting; a wall that relies on its face has no second line of defense.",
    basis=("plaster.not_face_sealed",),
    remedy="Put a drainage layer and a bonded barrier behind the plaster.",
)
REMEDIES: tuple[Remedy, ...] = (
    (SetValue("parapet", "relies_on_sealed_face", False),),
    (SetKind("barrier", "fluid-applied"),),
    (
        DRAINAGE,
        SetKind("barrier", "fluid-applied"),
    ),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The project's own word, then the build-up."""
    parapet, barrier = wall.parapet, wall.barrier
    if not wall.plastered:
        yield not_applicable("no face of the parapet is plaster")
    elif parapet.flag("relies_on_sealed_face"):
        message = "the parapet relies on its sealed plaster face to keep water out"
        yield fail(message, parapet.at("relies_on_sealed_face"))
    elif wall.part("drainage layer") is None and (barrier is None or not wall.kind(barrier).bonded):
        message = "neither a drainage layer nor a bonded barrier stands behind the plaster"
        yield fail(f"{message}: the sealed face alone keeps water out")
    else:
        yield ok("a second line of defense stands behind the plaster")
