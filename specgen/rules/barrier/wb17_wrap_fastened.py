"""WB17: a wrap is held by caps, and is not perforated.

Holds three values of a wrap (a fastened sheet, woven or reinforced): fasteners with caps, their spacing along each
framing member, and that it is not perforated. What is not stated is left to the sections. That a wrap is not bonded
at all is found by WB01.

Right::

    - role: barrier
      kind: woven wrap
      fastener: cap nail
      fastener_spacing: 12 in
      perforated: no

Wrong::

    - role: barrier
      kind: woven wrap
      fastener: staple without cap
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "barrier.wrap_fastener",
    "barrier.wrap_fastener_spacing",
    "barrier.wrap_perforated",
    name="fastening of a wrap",
    severity=Severity.RISK,
    remedy="Fasten the wrap through caps into each framing member; take a sheet without perforations.",
)
check = Held(RULE.holds, if_stated=True)
