"""CP05: the coping metal is thick enough.

Less than the code's least thickness of metal flashing is a defect; less than the table for this metal and
this height of face asks for is a risk. A gauge is read together with its metal.

Right::

    - role: coping
      kind: formed metal
      metal: aluminum
      thickness: 0.050 in
      outer_face_height: 6 in

Wrong::

    - role: coping
      kind: formed metal
      metal: aluminum
      thickness: 0.016 in
      outer_face_height: 6 in
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.requirements.lookups import thickness_by_face
from specgen.rules.hold import hold, not_stated
from specgen.rules.remedy import Asked, Remedy, SetValue
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    code="CP05",
    name="coping metal thickness",
    title="The coping metal is thick enough for its face",
    severity=Severity.RISK,
    applies_to="coping",
    reason="A thin face oil-cans, and wind unhooks it from its cleat.",
    basis=("coping.metal_floor", "table coping_thickness"),
    remedy="Use thicker metal, or a lower face.",
    options=(Option("floor", "length", "coping.metal_floor", "least thickness of metal flashing in code"),),
)
REMEDIES: tuple[Remedy, ...] = ((SetValue("coping", "thickness", Asked("coping.thickness")),),)
TABLE = ("table coping_thickness",)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The thickness against the floor of the code, then against the table."""
    coping = wall.part("coping")
    if coping is None or not wall.kind(coping).metal:
        yield not_applicable("no metal coping is described")
        return
    lacking = [name for name in ("metal", "thickness") if not coping.has(name)]
    for name in lacking:
        title = wall.practice.vocabulary.roles["coping"].fields[name].title
        yield not_stated(f"{title} of the coping", coping, name, coping.id)
    if not lacking:
        yield _thickness(wall, coping)


def _thickness(wall: Wall, coping: Component) -> RuleResult:
    floor, stated = wall.practice.quantity("coping.metal_floor"), coping.quantity("thickness")
    assert stated is not None
    mark = coping.at("thickness")
    if stated.value < floor.value * (1 - 1e-9):
        asked = wall.shown(floor, "up")
        message = f"metal thickness of the coping is {stated.text}; the code asks for at least {asked}"
        return fail(message, mark, coping.id, Severity.DEFECT, basis=("coping.metal_floor",))
    face = coping.quantity("outer_face_height") or coping.quantity("outer_leg")
    if face is None:
        message = "height of the outer face of the coping is not stated; its thickness depends on it"
        missing = f"layer `{coping.id}`: add `outer_face_height`"
        return unknown(message, missing, coping.mark, coping.id, basis=TABLE)
    because = (f"outer face {face.text} high",)
    if thickness_by_face(wall) is None:
        message = f"no thickness is tabulated for {coping.word('metal')} with an outer face of {face.text}"
        missing = "a thickness by the structural engineer or the sheet-metal worker, or a lower face"
        return unknown(message, missing, mark, coping.id, because, TABLE)
    return hold(wall, "coping.thickness", coping, because=because)
