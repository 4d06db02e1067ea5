"""CP11: the coping has no exposed fastener on top and a free interior face.

Holds three values of a metal coping: no fastener exposed on the top, the interior face fastened through slotted holes
with gasketed washers, and the spacing of these fasteners.

Right::

    - role: coping
      kind: formed metal
      exposed_fasteners: no
      inner_fasteners: slotted and gasketed
      inner_fastener_spacing: 24 in

Wrong::

    - role: coping
      kind: formed metal
      exposed_fasteners: yes
      inner_fasteners: without gaskets
      inner_fastener_spacing: 36 in
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "coping.exposed_fasteners",
    "coping.inner_fasteners",
    "coping.inner_fastener_spacing",
    name="coping fasteners",
    severity=Severity.RISK,
    remedy="Hold the coping by its cleat and by gasketed fasteners in slotted holes of the interior face.",
    reason="A fastener on the top is a hole in it; one that holds the interior face fast shears when the metal moves.",
)
check = Held(RULE.holds, wrong={"coping.exposed_fasteners": "fasteners are exposed on the top of the coping"})
