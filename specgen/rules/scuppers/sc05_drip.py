"""SC05: the outlet drips clear of the plaster.

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

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Record
from specgen.rules.hold import not_stated
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall

RULE = Rule(
    code="SC05",
    name="scupper drip",
    title="The outlet of a scupper drips clear of the plaster",
    severity=Severity.RISK,
    applies_to="scuppers",
    reason="Water that leaves a scupper against the plaster wets one strip of it in every rain.",
    basis=("scupper.drip",),
    remedy="Carry the sleeve out past the face and bend a drip at its lower edge.",
    options=(Option("drip", "length", "scupper.drip", "least projection of the outlet"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The projection of each outlet."""
    if not wall.parapet.scuppers or not wall.plastered:
        yield not_applicable("no scupper in a plastered face is listed")
        return
    for scupper in wall.parapet.scuppers:
        yield _drip(wall, scupper)


def _drip(wall: Wall, scupper: Record) -> RuleResult:
    least, drip = wall.practice.quantity("scupper.drip"), scupper.quantity("outlet_drip")
    what = f"drip of scupper {scupper.word('name')} clear of the plaster"
    if drip is None:
        return not_stated(what, scupper, "outlet_drip", "")
    say = ok if drip.value >= least.value * (1 - 1e-9) else fail
    asked = f"at least {wall.shown(least, 'up')}"
    return say(f"{what} is {drip.text}; asked for: {asked}", scupper.at("outlet_drip"))
