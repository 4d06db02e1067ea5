"""SC05: the outlet of a scupper drips clear of the plaster.

Holds the projection of each scupper's outlet clear of the outer face, where that face is plaster.

Right::

    scuppers:
      - name: S-1
        use: primary
        outlet_drip: 2 in

Wrong::

    scuppers:
      - name: S-1
        use: primary
        outlet_drip: 0 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.held import at_place, rule_of
from specgen.rules.rule import RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = rule_of(
    "scupper.drip",
    name="scupper drip",
    severity=Severity.RISK,
    remedy="Carry the sleeve out past the face and bend a drip at its lower edge.",
    reason="Water that leaves a scupper against the plaster wets one strip of it in every rain.",
    applies_to="scuppers",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The projection of each outlet."""
    if not wall.parapet.scuppers or not wall.plastered:
        yield not_applicable("no scupper in a plastered face is listed")
        return
    for scupper in wall.parapet.scuppers:
        what = f"drip of scupper {scupper.word('name')} clear of the plaster"
        yield at_place(wall, "scupper.drip", scupper, "outlet_drip", what)
