"""PL09: lath is lapped where its sheets meet.

Holds the laps at sides and ends against their requirements. That lath stops at control joints is PL01.

Right::

    - role: lath
      kind: self-furred expanded metal lath
      side_lap: 1 in
      end_lap: 2 in

Wrong::

    - role: lath
      kind: self-furred expanded metal lath
      side_lap: 0 in
      end_lap: 0 in
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "lath.side_lap",
    "lath.end_lap",
    severity=Severity.RISK,
    remedy="Lap the sheets at sides and ends, and tie the laps between supports.",
)
check = Held(RULE.holds, together="laps of the lath are not fully stated")
