"""TF01: a membrane covers the full width of the parapet top.

Looks for a top flashing and at its width. The joints of a coping leak; the membrane under it is the roof of
the parapet.

Right::

    - role: top flashing
      kind: self-adhered butyl
      full_width: yes

Wrong::

    - role: top flashing
      kind: self-adhered butyl
      full_width: no
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of
from specgen.rules.remedy import AddPart, Known, Remedy, SetLap

RULE = rule_of(
    "flashing.full_width",
    name="top flashing present",
    severity=Severity.DEFECT,
    remedy="Run a flashing membrane across the full width of the top and turn it down both faces.",
)
LAPS = (
    SetLap("top flashing", "barrier", Known("flashing.lap_barrier")),
    SetLap("top flashing", "roof turn-up", Known("flashing.lap_turnup")),
)
VALUES = (("full_width", True), ("service_temperature", Known("flashing.service_temperature")))
REMEDIES: tuple[Remedy, ...] = (
    (AddPart("top flashing", "self-adhered butyl", VALUES, ("bridging tape", "cleat", "coping")), *LAPS),
    (AddPart("top flashing", "self-adhered acrylic", VALUES, ("bridging tape", "cleat", "coping")), *LAPS),
)
check = Held(
    RULE.holds,
    wrong="the top flashing does not cover the full width of the parapet top",
    without="no membrane runs across the parapet top",
)
