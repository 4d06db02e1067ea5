"""FR02: studs carry sheathing on each side that a membrane is bonded to.

Looks between the studs and the barrier, and between the studs and the roof turn-up. Where no sheathing is described, what
the membrane is bonded to is a question.

Right::

    - role: sheathing
      id: roof-side sheathing
      kind: plywood

Wrong::

    - role: insulation
      id: roof-side sheathing
      kind: mineral wool
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.wall.facts import solid_framing

RULE = Rule(
    name="sheathing on the studs",
    severity=Severity.QUERY,
    applies_to="sheathing",
    reason="A membrane spans no stud bay: without a board behind it, it is bonded to nothing.",
    basis=("sheathing.described",),
    remedy="Describe the sheathing on each side of the studs.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The sheathing behind the barrier and behind the roof turn-up."""
    framing = wall.part("framing")
    sides = [part for role in ("barrier", "roof turn-up") for part in wall.parapet.all_of(role)]
    if framing is None or solid_framing(wall) or not sides:
        yield not_applicable("no membrane on studs is described")
        return
    for part in sides:
        yield _behind(wall, framing, part)


def _behind(wall: Wall, framing: Component, part: Component) -> RuleResult:
    layers = wall.parapet.build_up
    first, last = sorted((layers.index(framing), layers.index(part)))
    board = next((one for one in layers[first:last] if one.role == "sheathing"), None)
    if board is None:
        message = f"no sheathing stands between the studs and the {part.role}"
        return fail(message, part.mark, part.id, without=("sheathing",))
    return ok(f"{board.kind} stands between the studs and the {part.role}", board.mark, part.id)
