"""FR01: someone answers for the framing of the parapet.

The tool does not design the parapet. It asks once who does, and states its height and framing. A recorded name closes
the question.

Right::

    - role: framing
      kind: wood studs
      designed_by: structural engineer of record

Wrong::

    - role: framing
      kind: wood studs
      designed_by:
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.rule import Rule, RuleResult, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    severity=Severity.QUERY,
    applies_to="framing",
    reason="A parapet stands as a cantilever in the wind, and a railing or a coping adds to it.",
    basis=("framing.parapet",),
    remedy="Ask the structural engineer for the framing and its base. Record who answers for it: `designed_by`.",
)


@each_layer("framing", needed=True)
def check(wall: Wall, framing: Component) -> Iterator[RuleResult]:
    """Who answers for the framing."""
    if framing.has("designed_by"):
        message = f"the framing of the parapet is by {framing.word('designed_by')}"
        yield ok(message, framing.at("designed_by"), framing.id)
    else:
        height = wall.parapet.quantity("height")
        because = (f"{framing.kind}, {height.text} above the roof",) if height else ()
        message = "who answers for the framing of the parapet is not recorded"
        yield unknown(message, f"layer `{framing.id}`: add `designed_by`", framing.mark, framing.id, because)
