"""PN01: each penetration is closed against water and air.

Looks at each named penetration of a part that carries a control layer: how it is sealed, and whether the seal may touch
that part. Sealant alone is a question, because it tears around what moves; nothing at all is a defect. A hole in a
part that carries no layer asks how the membrane behind is passed.

Right::

    penetrations:
      - name: G-1
        what: gas vent
        through: flashing
        sealed_by: boot
        seal_family: acrylic adhesive

Wrong::

    penetrations:
      - name: G-1
        what: gas vent
        through: flashing
        sealed_by: none
"""

from functools import partial

from specgen.model.finding import Severity
from specgen.rules.paths.broken import place_report
from specgen.rules.rule import Rule

RULE = Rule(
    name="penetrations",
    severity=Severity.DEFECT,
    applies_to="penetrations",
    reason="A hole in the membrane of the top leaks straight into the parapet.",
    basis=(
        "penetration.sealed",
        "path.places",
        "table place_details",
        "compatibility.matrix",
        "table compatibility",
    ),
    remedy="Close the penetration with a boot, a flange or fluid-applied flashing of a family the membrane accepts.",
)
check = partial(
    place_report, kind="penetration", none="no penetration is listed", right="closed against water and air"
)
