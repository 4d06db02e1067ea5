"""WB15: the barrier is tested against water.

Holds what the project states of the barrier's water resistance against its requirement, by its kind: a bonded barrier by
the pressure difference at which no water passes its assembly, a fastened sheet by its type, a fluid-applied one by its
evaluation as a coating as well. What is not stated is left to the sections.

Right::

    - role: barrier
      kind: self-adhered
      water_resistance: 6.24 psf

Wrong::

    - role: barrier
      kind: self-adhered
      water_resistance: 2.86 psf
"""

from specgen.model.finding import Severity
from specgen.rules.held import Held, rule_of

RULE = rule_of(
    "barrier.water_resistance",
    "barrier.sheet_type",
    "barrier.coating",
    name="barrier against water",
    severity=Severity.DEFECT,
    remedy="Use a barrier whose assembly, sheet, or coating was tested as the requirement asks, and name the report.",
)
check = Held(
    RULE.holds,
    if_stated=True,
    wrong={"barrier.coating": "the barrier was not evaluated as a water-resistive coating"},
)
