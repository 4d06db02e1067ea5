"""WB05: a bonded barrier holds to its substrate.

Holds the stated pull adhesion against its requirement. The field tests of the section repeat it on the wall.

Right::

    - role: barrier
      kind: self-adhered
      pull_adhesion: 40 psi

Wrong::

    - role: barrier
      kind: self-adhered
      pull_adhesion: 10 psi
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "barrier.pull_adhesion",
    "barrier.concrete_adhesion",
    name="barrier adhesion",
    severity=Severity.DEFECT,
    remedy="Use a primer or a barrier that reaches the value on this substrate, and state the test result.",
)
check = Held(RULE.holds)
