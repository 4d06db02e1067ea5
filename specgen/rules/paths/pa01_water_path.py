"""PA01: the water layer is one unbroken path.

Follows the water layer from the roof field to the wall field below, over the top. Each
place where it does not pass on is a finding that names the two parts, the missing condition and what would
close it. Breaks that another rule tells are not told again; data that the project lacks make the break unknown.

Right::

    - between: [barrier, weep screed]
      lap: 3 in
      upper: barrier

Wrong::

    - between: [barrier, weep screed]
      lap: 1 in
      upper: barrier
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.paths.broken import layer_report
from specgen.rules.rule import Rule, RuleResult
from specgen.rules.wall import Wall

RULE = Rule(
    code="PA01",
    name="water path",
    title="The water layer runs unbroken from the roof to the wall below",
    severity=Severity.DEFECT,
    applies_to="control layers",
    reason="Water that finds one gap in its layer runs down the whole wall behind it.",
    basis=(
        "path.unbroken",
        "path.declared",
        "table control_routes",
        "table control_laps",
        "table compatibility",
    ),
    remedy="Close the break by one of the changes named in the finding.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The breaks of the water layer that no other rule tells."""
    yield from layer_report(wall, "water", Severity.DEFECT)
