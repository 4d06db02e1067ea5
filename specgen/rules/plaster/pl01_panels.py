"""PL01: control joints divide the plaster into panels that do not crack.

Holds the largest panel's area, length and ratio against their requirements, and asks whether the lath stops
at the joints.

Right::

    - role: plaster
      kind: portland cement plaster
      panel_area: 120 ft2
      panel_length: 16 ft
      panel_ratio: 2.2
      lath_stops_at_joints: yes

Wrong::

    - role: plaster
      kind: portland cement plaster
      panel_area: 200 ft2
      panel_length: 25 ft
      panel_ratio: 4
      lath_stops_at_joints: no
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "plaster.panel_area",
    "plaster.panel_length",
    "plaster.panel_ratio",
    "plaster.lath_stops",
    name="plaster panels",
    severity=Severity.RISK,
    remedy="Add control joints until every panel is within the limits, and stop the lath at each joint.",
    reason="Large, long or slender panels crack as they shrink, and lath that runs through a joint ties them together.",
)
check = Held(
    RULE.holds,
    wrong={"plaster.lath_stops": "lath runs through the control joints"},
    together="plaster panels are not fully stated",
)
