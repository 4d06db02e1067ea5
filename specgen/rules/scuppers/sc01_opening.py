"""SC01: a scupper is open wide and high enough not to clog.

Holds the clear width and the clear height of each scupper against the code's least dimension of an opening.

Right::

    scuppers:
      - name: S-1
        use: primary
        width: 8 in
        height: 6 in

Wrong::

    scuppers:
      - name: S-1
        use: primary
        width: 8 in
        height: 3 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.held import at_place, rule_of
from specgen.rules.rule import RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = rule_of(
    "scupper.opening",
    "scupper.width",
    name="scupper opening",
    severity=Severity.DEFECT,
    remedy="Make the opening larger.",
    applies_to="scuppers",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The clear height and the clear width of each scupper."""
    for scupper in wall.parapet.scuppers:
        for name, attribute in zip(RULE.holds, ("height", "width"), strict=True):
            what = f"clear {attribute} of scupper {scupper.word('name')}"
            yield at_place(wall, name, scupper, attribute, what)
    if not wall.parapet.scuppers:
        yield not_applicable("no scupper is listed")
