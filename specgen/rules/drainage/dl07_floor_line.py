"""DL07: the drainage gap passes the line where the parapet meets the wall below, or drains out there.

Looks at `floor_line`: the gap runs past into the gap of the wall below, or an outlet drains it there. A gap
that stops at the line empties into the wall.

Right::

    - role: drainage layer
      kind: dimpled sheet
      floor_line: runs past

Wrong::

    - role: drainage layer
      kind: dimpled sheet
      floor_line: stops
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="DL07",
    name="drainage at the floor line",
    title="The drainage gap passes the line where the parapet meets the wall below, or drains out there",
    severity=Severity.DEFECT,
    applies_to="drainage layer",
    reason="Water that comes down the parapet must pass the floor line or leave there.",
    basis=("drainage.floor_line",),
    remedy="Run the drainage layer on into the wall below, or set an outlet at the line.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The stated passage at the floor line."""
    layer = wall.part("drainage layer")
    if layer is None or wall.requirement("drainage.floor_line") is None:
        yield not_applicable("no drainage layer is described")
    else:
        wrong = "the drainage gap stops where the parapet meets the wall below"
        yield hold(wall, "drainage.floor_line", layer, wrong)
