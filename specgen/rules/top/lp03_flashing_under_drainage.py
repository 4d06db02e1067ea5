"""LP03: the drainage layer runs over the leg of the top flashing.

Looks at `upper` of the lap between the top flashing and the drainage layer. The flashing turns down over the barrier, so
it lies behind the drainage layer; in front of it, it closes the gap at the top and leaves the barrier's edge open.

Right::

    - between: [top flashing, drainage layer]
      upper: drainage layer

Wrong::

    - between: [top flashing, drainage layer]
      upper: top flashing
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    name="flashing behind the drainage layer",
    severity=Severity.RISK,
    applies_to="transitions",
    reason="A flashing in front of the drainage layer does not reach the barrier, and closes the gap at the top.",
    basis=("flashing.under_drainage",),
    remedy="Turn the flashing down over the barrier, and run the drainage layer over it.",
)


@each_layer("top flashing")
def check(wall: Wall, flashing: Component) -> Iterator[RuleResult]:
    """Which of the two lies on top."""
    layer = wall.part("drainage layer")
    joints = wall.parapet.between(flashing, layer) if layer else ()
    if layer is None or not joints:
        yield not_applicable("no lap of the top flashing with the drainage layer is described")
        return
    for joint in joints:
        between = f"`{joint.first}` and `{joint.second}`"
        if not joint.has("upper"):
            missing = f"transition between {between}: add `upper`"
            yield unknown(f"which of {between} lies on top is not stated", missing, joint.mark, layer.id)
        elif joint.word("upper") == layer.id:
            yield ok("the drainage layer runs over the top flashing", joint.at("upper"), layer.id)
        else:
            yield fail("the top flashing lies over the drainage layer", joint.at("upper"), layer.id)
