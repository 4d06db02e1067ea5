"""CP05: the coping metal is thick enough for its face.

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

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.requirements.lookups import thickness_by_face
from specgen.rules.held import Held, each_layer, rule_of
from specgen.rules.hold import not_stated
from specgen.rules.remedy import Asked, Remedy, SetValue
from specgen.rules.rule import RuleResult, fail, not_applicable, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_least

RULE = rule_of(
    "coping.thickness",
    name="coping metal thickness",
    severity=Severity.RISK,
    remedy="Use thicker metal, or a lower face.",
)
REMEDIES: tuple[Remedy, ...] = ((SetValue("coping", "thickness", Asked("coping.thickness")),),)
TABLE = ("table coping_thickness",)
THICKNESS = Held(RULE.holds)


@each_layer("coping")
def check(wall: Wall, coping: Component) -> Iterator[RuleResult]:
    """The thickness against the floor of the code, then against the table."""
    if not wall.kind(coping).metal:
        yield not_applicable("no metal coping is described")
        return
    lacking = [name for name in ("metal", "thickness") if not coping.has(name)]
    for name in lacking:
        title = wall.practice.vocabulary.roles["coping"].fields[name].title
        yield not_stated(f"{title} of the coping", coping, name, coping.id)
    if not lacking:
        yield from _thickness(wall, coping)


def _thickness(wall: Wall, coping: Component) -> Iterator[RuleResult]:
    floor, stated = wall.practice.quantity("coping.metal_floor"), coping.quantity("thickness")
    mark = coping.at("thickness")
    face = coping.quantity("outer_face_height") or coping.quantity("outer_leg")
    because = (f"outer face {face.text} high",) if face else ()
    if stated is not None and not at_least(stated, floor):
        _, asked = wall.beside(stated, "at least", floor)
        message = f"metal thickness of the coping is {stated.text}; the code asks for at least {asked}"
        result = fail(message, mark, coping.id, Severity.DEFECT, basis=("coping.metal_floor",))
        held = wall.requirement(RULE.holds[0], coping)
        yield replace(result, requirement=held.id, attribute=held.attribute) if held else result
    elif face is None:
        message = "height of the outer face of the coping is not stated; its thickness depends on it"
        missing = f"layer `{coping.id}`: add `outer_face_height`"
        yield unknown(message, missing, coping.mark, coping.id, basis=TABLE)
    elif thickness_by_face(wall) is None:
        message = f"no thickness is tabulated for {coping.word('metal')} with an outer face of {face.text}"
        missing = "a thickness by the structural engineer or the sheet-metal worker, or a lower face"
        yield unknown(message, missing, mark, coping.id, because, TABLE)
    else:
        yield from THICKNESS.at(wall, coping, because)
