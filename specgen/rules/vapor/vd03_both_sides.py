"""VD03: a wall between two vapor-tight layers has a way to dry.

Looks at the wall barrier on one side and at the roof membrane's base flashing on the other. Where both are class I
vapor retarders, what is between them dries only by a path of its own (`drying_path`). Without one it is a
defect where wood stands between them, else a risk; a question where a kept hourly result holds and finds it dry.

Right::

    - role: barrier
      kind: self-adhered
      vapor_permeance: 14 perm

Wrong::

    - role: barrier
      kind: self-adhered
      vapor_permeance: 0.05 perm
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.hold import not_stated
from specgen.rules.hourly.kept import governed
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.wall.facts import vapor_tight, wood_studs

RULE = Rule(
    name="tight on both sides",
    severity=Severity.RISK,
    applies_to="barrier",
    reason="Water that gets between two vapor-tight layers stays there.",
    basis=("vapor.both_sides", "vapor.class_1"),
    remedy="Use a vapor-open barrier, or vent the cavity. State what is vented as `drying_path`.",
    options=(Option("vapor-tight", "vapor.class_1", "most vapor a class I layer lets through"),),
)


@each_layer("barrier")
def check(wall: Wall, barrier: Component) -> Iterator[RuleResult]:
    """Both layers, then the way out."""
    membrane = wall.part("roof turn-up")
    if membrane is None or vapor_tight(wall, membrane) is False:
        yield not_applicable("no vapor-tight membrane stands on the roof side")
        return
    tight = vapor_tight(wall, barrier)
    path = wall.parapet.word("drying_path")
    mark = barrier.at("vapor_permeance")
    if tight is None:
        yield not_stated("vapor permeance of the barrier", barrier, "vapor_permeance", barrier.id)
    elif not tight:
        yield ok("the barrier is no class I vapor retarder", mark, barrier.id)
    elif path not in (None, "none"):
        message = f"barrier and roof membrane are vapor-tight; the wall dries to: {path}"
        yield ok(message, wall.parapet.at("drying_path"), barrier.id)
    else:
        severity = Severity.DEFECT if _wood(wall) else Severity.RISK
        between = "wood" if _wood(wall) else "the wall"
        message = f"barrier and roof membrane are vapor-tight, and {between} between them has no way to dry"
        yield governed(wall, fail(message, mark, barrier.id, severity))


def _wood(wall: Wall) -> bool:
    boards = wall.parapet.all_of("sheathing")
    return any(wall.kind(board).wood for board in boards) or any(
        map(wood_studs, wall.parapet.all_of("framing"))
    )
