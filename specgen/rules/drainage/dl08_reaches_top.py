"""DL08: the drainage layer reaches the upper edge of the plaster.

Looks at `reaches_top`. Most water enters at the top; plaster that stands directly on the barrier there wets it.

Right::

    - role: drainage layer
      kind: dimpled sheet
      reaches_top: yes

Wrong::

    - role: drainage layer
      kind: dimpled sheet
      reaches_top: no
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="DL08",
    name="drainage up to the top",
    title="The drainage layer reaches the upper edge of the plaster",
    severity=Severity.DEFECT,
    applies_to="drainage layer",
    reason="Plaster above the gap wets the barrier where most water enters.",
    basis=("drainage.reaches_top",),
    remedy="Carry the drainage layer up to the casing bead under the coping.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Whether the layer reaches the top."""
    layer = wall.part("drainage layer")
    if layer is None or wall.requirement("drainage.reaches_top") is None:
        yield not_applicable("no drainage layer is described")
    else:
        wrong = "the drainage layer ends below the upper edge of the plaster"
        yield hold(wall, "drainage.reaches_top", layer, wrong)
