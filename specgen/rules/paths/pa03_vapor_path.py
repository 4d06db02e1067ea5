"""PA03: the vapor layer runs unbroken from the roof to the wall below.

Follows the vapor layer from the roof field to the wall field below, where the project declares it. Each
place where it does not pass on is a finding that names the two parts, the missing condition and what would
close it. Breaks that another rule tells are not told again; data that the project
lacks make the break unknown; a path not declared is unknown.

Right::

    vapor_path: over the top

Wrong::

    vapor_path: across at roof level
    build_up:
      - role: base seal
        kind: none
"""

from functools import partial

from specgen.model.finding import Severity
from specgen.rules.paths.broken import LAYER, layer_report
from specgen.rules.rule import Rule

RULE = Rule(
    severity=Severity.RISK,
    applies_to="control layers",
    reason="Where the vapor layer stops, vapor from the rooms or from wet plaster condenses behind the membrane.",
    basis=LAYER,
    remedy="Declare where the vapor layer passes, and join its parts there.",
)
check = partial(layer_report, layer="vapor", severity=RULE.severity)
