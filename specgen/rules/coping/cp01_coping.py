"""CP01: a coping covers the whole width of the parapet.

Looks for a coping and whether it covers the whole thickness with the finishes of both faces. An uncovered
edge is an open joint toward the sky.

Right::

    - role: coping
      kind: formed metal
      covers_width: yes

Wrong::

    - role: coping
      kind: formed metal
      covers_width: no
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of
from specgen.rules.remedy import AddPart, Known, Remedy

RULE = rule_of(
    "coping.covers_width",
    name="coping covers the top",
    severity=Severity.DEFECT,
    remedy="Cover the parapet with a coping over its whole thickness, finishes included.",
    reason="Without a cover over the full width, rain enters the open top of the wall.",
    basis=("coping.covers_width", "coping.required"),
)
REMEDIES: tuple[Remedy, ...] = (
    (
        AddPart(
            "coping",
            "formed metal",
            (
                ("slope", Known("coping.slope")),
                ("slope_toward", Known("coping.slope_toward")),
                ("outer_drip", Known("coping.drip")),
                ("inner_drip", Known("coping.drip")),
                ("covers_width", True),
            ),
        ),
    ),
)
check = Held(
    RULE.holds,
    wrong="the coping does not cover the full width of the parapet with its finishes",
    without="the parapet has no coping",
)
