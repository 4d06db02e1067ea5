"""SC01: the opening of each scupper is high enough.

Holds the clear height of each scupper against the code's least height.

Right::

    scuppers:
      - name: S-1
        use: primary
        height: 6 in

Wrong::

    scuppers:
      - name: S-1
        use: primary
        height: 3 in
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Record
from specgen.requirements.catalogue_file import Beside
from specgen.requirements.weigh import of_rule
from specgen.rules.hold import not_stated
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall

RULE = Rule(
    code="SC01",
    name="scupper opening",
    title="A scupper is open high enough not to clog",
    severity=Severity.DEFECT,
    applies_to="scuppers",
    reason="Leaves and ice close a low opening, and the water stands on the roof.",
    basis=("scupper.opening_height",),
    remedy="Make the opening higher.",
    options=(
        Option("opening height", "length", "scupper.opening_height", "least clear height of a scupper"),
    ),
)

HEAD = Beside(
    "scuppers.primary_head",
    "head of water at the design rainfall",
    "the greater governs: the rule against leaves and ice, the calculation for the water",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The clear height of each scupper."""
    for scupper in wall.parapet.scuppers:
        yield _height(wall, scupper)
    if not wall.parapet.scuppers:
        yield not_applicable("no scupper is listed")


def _height(wall: Wall, scupper: Record) -> RuleResult:
    least, height = wall.practice.quantity("scupper.opening_height"), scupper.quantity("height")
    what = f"clear height of scupper {scupper.word('name')}"
    if height is None:
        return not_stated(what, scupper, "height", "")
    say = ok if height.value >= least.value * (1 - 1e-9) else fail
    asked = f"at least {wall.shown(least, 'up')}"
    because = of_rule(wall, "scupper.opening_height", asked, HEAD)
    return say(f"{what} is {height.text}; asked for: {asked}", scupper.at("height"), because=because)
