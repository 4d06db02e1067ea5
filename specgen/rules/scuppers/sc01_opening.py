"""SC01: a scupper is open high enough not to clog.

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

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.held import at_place, rule_of
from specgen.rules.rule import RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = rule_of(
    "scupper.opening",
    name="scupper opening",
    severity=Severity.DEFECT,
    remedy="Make the opening higher.",
    applies_to="scuppers",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The clear height of each scupper."""
    for scupper in wall.parapet.scuppers:
        what = f"clear height of scupper {scupper.word('name')}"
        yield at_place(wall, "scupper.opening", scupper, "height", what)
    if not wall.parapet.scuppers:
        yield not_applicable("no scupper is listed")
