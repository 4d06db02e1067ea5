"""DL06: the drainage layer runs around each corner.

Looks at each corner the parapet lists. A layer that stops at a corner lets the plaster touch the barrier
there; a butt joint fills with mortar.

Right::

    corners:
      - name: C-1
        turn: outside
        drainage: runs around

Wrong::

    corners:
      - name: C-1
        turn: outside
        drainage: stops
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    name="drainage around corners",
    severity=Severity.RISK,
    applies_to="corners",
    reason="Where the layer is interrupted the plaster bridges the gap and wets the barrier.",
    basis=("drainage.corners",),
    remedy="Wrap the drainage layer around the corner, or lap it there.",
    options=(Option("makings", "drainage.corners", "how the layer may pass a corner"),),
)


@each_layer("drainage layer")
def check(wall: Wall, layer: Component) -> Iterator[RuleResult]:
    """Each listed corner."""
    if not wall.parapet.corners:
        yield not_applicable("no corner of a parapet with a drainage layer is listed")
        return
    for corner in wall.parapet.corners:
        name, making = corner.word("name"), corner.word("drainage")
        if making is None:
            message = f"how the drainage layer passes corner {name} is not stated"
            yield unknown(message, f"corner `{name}`: add `drainage`", corner.mark, layer.id)
        elif making in wall.practice.entry("drainage.corners").words():
            yield ok(f"corner {name}: the drainage layer {_verb(making)}", corner.at("drainage"), layer.id)
        else:
            severity = Severity.DEFECT if making == "stops" else Severity.RISK
            message = f"corner {name}: the drainage layer {_verb(making)}"
            yield fail(message, corner.at("drainage"), layer.id, severity)


def _verb(making: str) -> str:
    return making if making.startswith(("runs", "stops")) else f"is {making}"
