"""PL10: where plaster returns into a horizontal face, it drips and drains.

Looks at `horizontal_return`: a plastered underside, a projecting band, the roof-side underside of an opening.
There both faces end in casing beads, the vertical one lower as a drip, with a gap left open.

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

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold, not_stated
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    code="PL10",
    name="plaster at horizontal faces",
    title="Where plaster returns into a horizontal face, it drips and drains",
    severity=Severity.DEFECT,
    applies_to="plaster",
    reason="Without a drip the water runs back along the horizontal face; without a gap it stays behind it.",
    basis=("plaster.horizontal_return", "field.drip_gap"),
    remedy="End both faces in casing beads, the vertical one lower, and leave the gap between them open.",
    options=(Option("drip and gap", "length", "field.drip_gap", "least depth of the drip and of the gap"),),
)
HELD = ("return_drip", "return_gap")


def check(wall: Wall) -> Iterator[RuleResult]:
    """Whether the plaster returns; then its drip and its gap."""
    plaster = wall.part("plaster")
    if plaster is None:
        yield not_applicable("no plaster is described")
        return
    if not plaster.has("horizontal_return"):
        what = "whether the plaster returns into a horizontal face"
        yield not_stated(what, plaster, "horizontal_return", plaster.id)
        return
    if not plaster.flag("horizontal_return"):
        message = "the plaster does not return into a horizontal face"
        yield ok(message, plaster.at("horizontal_return"), plaster.id)
        return
    for attribute in HELD:
        if plaster.has(attribute):
            yield hold(wall, f"plaster.{attribute}", plaster)
    lacking = ", ".join(f"`{attribute}`" for attribute in HELD if not plaster.has(attribute))
    if lacking:
        message, missing = "the return is not fully stated", f"layer `{plaster.id}`: add {lacking}"
        yield unknown(message, missing, plaster.mark, plaster.id)
