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
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.remedy import DRAINAGE, Remedy, SetKind, SetValue
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.wall.order import same_side

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
    parapet = wall.parapet
    if not wall.plastered:
        yield not_applicable("no face of the parapet is plaster")
    elif parapet.flag("relies_on_sealed_face"):
        message = "the parapet relies on its sealed plaster face to keep water out"
        yield fail(message, parapet.at("relies_on_sealed_face"))
    elif parapet.part("plaster") is None:  # a face of plaster that no layer describes
        yield _behind(wall, [*parapet.all_of("drainage layer"), *parapet.all_of("barrier")])
    else:
        yield from _second_line(wall)


@each_layer("plaster")
def _second_line(wall: Wall, plaster: Component) -> Iterator[RuleResult]:
    """What stands behind one plaster, on its side of the framing."""
    roles = ("drainage layer", "barrier")
    yield _behind(wall, [one for role in roles for one in same_side(wall.parapet, plaster, role)], plaster)


def _behind(wall: Wall, parts: list[Component], plaster: Component | None = None) -> RuleResult:
    several = plaster is not None and len(wall.parapet.all_of("plaster")) > 1
    mark, layer = (plaster.mark, plaster.id) if plaster and several else (None, "")
    if any(one.role == "drainage layer" or wall.kind(one).bonded for one in parts):
        return ok("a second line of defense stands behind the plaster", mark, layer)
    message = "neither a drainage layer nor a bonded barrier stands behind the plaster"
    roles = ("drainage layer", *(() if any(one.role == "barrier" for one in parts) else ("barrier",)))
    return fail(f"{message}: the sealed face alone keeps water out", mark, layer, without=roles)
