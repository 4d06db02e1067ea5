"""PA04: the heat layer runs unbroken from the roof to the wall below.

Follows the heat layer from the roof field to the wall field below, where the project declares it. Each
place where it does not pass on is a finding that names the two parts, the missing condition and what would
close it. Breaks that another rule tells are not told again; data that the project
lacks make the break unknown; a path not declared is unknown.

A thermal break at roof level (`thermal_break`) carries the heat layer across the framing.

Right::

    heat_path: across at roof level

Wrong::

    heat_path: over the top
    build_up:
      - role: insulation
        kind: none
"""

from functools import partial

from specgen.model.finding import Severity
from specgen.rules.paths.broken import LAYER, layer_report
from specgen.rules.rule import Rule

RULE = Rule(
    severity=Severity.RISK,
    applies_to="control layers",
    reason="Where the insulation stops at the parapet, the rooms below have a cold edge that condenses and molds.",
    basis=LAYER,
    remedy="Declare where the insulation passes, and carry it through: a filled cavity or a thermal break at roof level.",
)
check = partial(layer_report, layer="heat", severity=RULE.severity)
