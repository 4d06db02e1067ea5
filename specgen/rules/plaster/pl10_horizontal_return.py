"""PL10: where plaster returns into a horizontal face, it drips and drains.

Looks at `horizontal_return`: a plastered underside, a projecting band, the roof-side underside of an opening.
There both faces end in casing beads, the vertical one lower as a drip, with a gap left open. A drip screed is accepted in
their place.

Right::

    - role: plaster
      kind: portland cement plaster
      horizontal_return: yes
      return_drip: 3/8 in
      return_gap: 1/4 in

Wrong::

    - role: plaster
      kind: portland cement plaster
      horizontal_return: yes
      return_drip: 0 in
      return_gap: 0 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import Held, each_layer, rule_of
from specgen.rules.hold import not_stated
from specgen.rules.rule import RuleResult, ok
from specgen.rules.wall import Wall
from specgen.wall.facts import DRIP_SCREED
from specgen.wall.specified import left_open

RULE = rule_of(
    "plaster.return_drip",
    "plaster.return_gap",
    name="plaster at horizontal faces",
    severity=Severity.RISK,
    remedy="End both faces in casing beads, the vertical one lower, and leave the gap between them open.",
    reason="Without a drip the water runs back along the horizontal face; without a gap it stays behind it.",
    basis=("plaster.horizontal_return", "field.drip_gap"),
)
RETURN = Held(RULE.holds, together="the return is not fully stated")


@each_layer("plaster")
def check(wall: Wall, plaster: Component) -> Iterator[RuleResult]:
    """Whether the plaster returns; then its drip and its gap."""
    if left_open(wall.at(plaster), plaster, "horizontal_return"):
        yield from RETURN.at(wall, plaster)
    elif not plaster.has("horizontal_return"):
        what = "whether the plaster returns into a horizontal face"
        yield not_stated(what, plaster, "horizontal_return", plaster.id)
    elif plaster.flag("horizontal_return") and plaster.word("return_edge") == DRIP_SCREED:
        message = "a drip screed ends the plaster where it returns into a horizontal face"
        yield ok(message, plaster.at("return_edge"), plaster.id)
    elif plaster.flag("horizontal_return"):
        yield from RETURN.at(wall, plaster)
    else:
        message = "the plaster does not return into a horizontal face"
        yield ok(message, plaster.at("horizontal_return"), plaster.id)
