"""PA01: the water layer runs unbroken from the roof to the wall below.

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

from functools import partial

from specgen.model.finding import Severity
from specgen.rules.paths.broken import LAYER, layer_report
from specgen.rules.rule import Rule

RULE = Rule(
    severity=Severity.DEFECT,
    applies_to="control layers",
    reason="Water that finds one gap in its layer runs down the whole wall behind it.",
    basis=LAYER,
    remedy="Close the break by one of the changes named in the finding.",
)
check = partial(layer_report, layer="water", severity=RULE.severity)
