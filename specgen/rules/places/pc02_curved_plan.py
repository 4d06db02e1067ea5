"""PC02: what is made of straight lengths follows a curve in plan.

Looks at a parapet with a radius. A metal coping says how it follows the curve, of straight segments or formed to it, and
its manufacturer accepts the curve in writing, since straight lengths are what was tested. A coping formed to a smaller
radius than a shop can form is a risk, and so is a board bent tighter than its kind and thickness allow, by the table
`bend_radius`. The drips of segments are held by CP03, the panels of the plaster by PL01.

Right::

    radius: 30 ft
    curve: outward
    build_up:
      - role: coping
        kind: formed metal
        on_curve: straight segments
        curve_accepted: yes

Wrong::

    radius: 6 ft
    curve: outward
    build_up:
      - role: coping
        kind: formed metal
        on_curve: formed to the curve
        curve_accepted: no
"""

from collections.abc import Iterator
from dataclasses import replace

from specgen.files.marks import Mark
from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.practice.entries import cell
from specgen.rules.held import rule_of
from specgen.rules.hold import hold, not_stated
from specgen.rules.rule import RuleResult, fail, not_applicable, ok
from specgen.rules.undescribed import absent
from specgen.rules.wall import Wall
from specgen.units.compare import at_least
from specgen.units.quantity import Quantity

RULE = rule_of(
    "coping.on_curve",
    "coping.curve_accepted",
    name="curved plan",
    severity=Severity.RISK,
    applies_to="parapet",
    basis=("coping.on_curve", "coping.curve_accepted", "coping.formed_radius", "table bend_radius"),
    reason="A board forced to a curve breaks its core, and a coping forced to it opens its joints and drips.",
    remedy="Make the coping of short segments, and the face of thinner boards in two layers or of boards cut narrow.",
)
FORMED = "formed to the curve"


def check(wall: Wall) -> Iterator[RuleResult]:
    """The coping and the boards of a parapet that is curved in plan."""
    if not wall.parapet.has("radius"):
        yield not_applicable("the parapet is straight in plan, as far as its file says")
        return
    copings = (one for one in wall.parapet.all_of("coping") if wall.kind(one).metal)
    found = [result for coping in copings for result in _coping(wall, coping)]
    found += [result for board in wall.parapet.all_of("sheathing") for result in _board(wall, board)]
    open_ = [absent(wall, role) for role in ("coping", "sheathing") if not wall.parapet.all_of(role)]
    yield from found or open_ or [not_applicable("nothing here is bent to the curve")]


def _coping(wall: Wall, coping: Component) -> Iterator[RuleResult]:
    if not coping.has("on_curve"):
        yield not_stated("how the coping follows the curve", coping, "on_curve", coping.id)
    elif coping.word("on_curve") == FORMED:
        least = wall.practice.quantity("coping.formed_radius")
        bent = _bent(wall, f"a coping {FORMED}", least, coping.at("on_curve"), coping.id)
        yield replace(bent, basis=("coping.formed_radius",))
    yield replace(hold(wall, "coping.curve_accepted", coping), basis=("coping.curve_accepted",))


def _board(wall: Wall, board: Component) -> Iterator[RuleResult]:
    table = wall.practice.table("bend_radius")
    rows = table.where(kind=board.kind)
    if not rows and not wall.kind(board).wood:
        return
    thickness = board.quantity("thickness")
    if thickness is None:
        yield not_stated(f"thickness of the {board.role} on the curve", board, "thickness", board.id)
        return
    enough = [row for row in rows if at_least(cell(row, "thickness"), thickness)]
    if not enough:
        message = f"how far {board.kind} of {thickness.text} bends is not known: its manufacturer says"
        result = fail(message, board.at("thickness"), board.id, Severity.QUERY)
    else:
        least = cell(min(enough, key=lambda row: cell(row, "thickness").value), "radius")
        result = _bent(wall, f"{board.kind} of {thickness.text}", least, board.mark, board.id)
    yield replace(result, sources=(table.source,))


def _bent(wall: Wall, what: str, least: Quantity, mark: Mark, layer: str) -> RuleResult:
    radius = wall.parapet.quantity("radius")
    if radius is None:
        return not_stated("radius of the outer face in plan", wall.parapet, "radius", "")
    words = f"the radius is {radius.text}; {what} bends to no less than {wall.limit(least, 'at least')}"
    return (ok if at_least(radius, least) else fail)(words, mark, layer)
