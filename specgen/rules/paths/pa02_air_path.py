"""PA02: the air layer runs unbroken from the roof to the wall below.

Follows the air layer from the roof field to the wall field below, where the project declares it. Each
place where it does not pass on is a finding that names the two parts, the missing condition and what would
close it. Breaks that another rule tells are not told again; data that the project
lacks make the break unknown; a path not declared is unknown.

Right::

    air_path: over the top

Wrong::

    air_path: across at roof level
    build_up:
      - role: base seal
        kind: none
"""

from functools import partial

from specgen.model.finding import Severity
from specgen.rules.paths.broken import LAYER, layer_report
from specgen.rules.rule import Rule

RULE = Rule(
    severity=Severity.DEFECT,
    applies_to="control layers",
    reason="Air that passes the parapet carries more moisture into it than diffusion does.",
    basis=LAYER,
    remedy="Declare where the air barrier passes, and join its parts there.",
)
check = partial(layer_report, layer="air", severity=RULE.severity)
