"""BK03: someone answers for the anchors of the blocking.

The tool does not design the anchors of the blocking. It asks once who does, and states what it knows of the load: the
calculated pressures on face and top. A recorded name closes the question.

Right::

    - role: blocking
      kind: preservative-treated wood
      anchors_by: structural engineer of record

Wrong::

    - role: blocking
      kind: preservative-treated wood
      anchors_by:
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.rule import Rule, RuleResult, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    name="anchors of the blocking",
    severity=Severity.QUERY,
    applies_to="blocking",
    reason="The wind load of the coping goes on through cleat and blocking into the wall; each of them can let go.",
    basis=("blocking.anchors",),
    remedy="Ask the structural engineer for the anchors. Record who answers for them: `anchors_by`.",
)
LOADS = {"face_outward_allowable": "outward on the face", "top_uplift_allowable": "up on the top"}


@each_layer("blocking")
def check(wall: Wall, blocking: Component) -> Iterator[RuleResult]:
    """Who answers for the anchors, and what load is known."""
    if blocking.has("anchors_by"):
        message = f"the anchors of the blocking are by {blocking.word('anchors_by')}"
        yield ok(message, blocking.at("anchors_by"), blocking.id)
    else:
        message = "who answers for the anchors of the blocking is not recorded"
        missing = f"layer `{blocking.id}`: add `anchors_by`"
        yield unknown(message, missing, blocking.mark, blocking.id, _loads(wall))


def _loads(wall: Wall) -> tuple[str, ...]:
    wind = wall.calculations.get("coping wind")
    if wind is None or not wind.done:
        return ()
    known = {name: wind.result(name) for name in LOADS if name in wind.results}
    return tuple(
        f"wind {LOADS[name]}, allowable level: {wall.shown(value)}" for name, value in known.items() if value
    )
