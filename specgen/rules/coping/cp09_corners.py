"""CP09: the control layers pass unbroken around each corner.

Looks at each named corner: how the coping, the top flashing and the drainage layer are made there. Metal that is
butted and a flashing that is cut and butted are defects; a corner of the coping that is lapped and sealed is a
question, because someone must answer for the upkeep of the seal. A top of stone or plaster has no metal to join:
flashing and drainage alone are looked at.

Right::

    corners:
      - name: northeast
        turn: outside
        coping: welded
        flashing: preformed piece
        drainage: runs around

Wrong::

    corners:
      - name: northeast
        turn: outside
        coping: butted
        flashing: preformed piece
        drainage: runs around
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.paths.broken import place_report
from specgen.rules.rule import Rule, RuleResult
from specgen.rules.wall import Wall

RULE = Rule(
    name="coping corners",
    severity=Severity.DEFECT,
    applies_to="corners",
    reason="Corners are cut, and each cut that is left open stands over the wall.",
    basis=("coping.corners", "table place_details"),
    remedy="Weld or solder the coping's corner, preform that of the flashing, and run the drainage layer around.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The breaks at the corners."""
    coping = wall.part("coping")
    metal = coping is None or wall.kind(coping).metal
    right = f"{'coping, ' if metal else ''}flashing and drainage run around"
    yield from place_report(wall, "corner", "no corner is listed", right)
