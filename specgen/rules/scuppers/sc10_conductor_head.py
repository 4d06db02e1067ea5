"""SC10: a conductor head catches what its scupper pours, and spills before it backs up.

Looks at each scupper that empties into a conductor head: the head is wider than the scupper, and where it has no overflow
opening its rim lies below the bottom of the scupper.

Right::

    scuppers:
      - name: S-1
        use: primary
        outlet: conductor head
        head_margin: 4 in
        head_overflow: no
        head_drop: 1 in

Wrong::

    scuppers:
      - name: S-1
        use: primary
        outlet: conductor head
        head_margin: 0 in
        head_overflow: no
        head_drop: 0 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.held import at_place, rule_of
from specgen.rules.rule import RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = rule_of(
    "scupper.head_margin",
    "scupper.head_drop",
    name="conductor head",
    severity=Severity.RISK,
    remedy="Widen the conductor head, and set its rim below the scupper or cut an overflow opening into it.",
    reason="A narrow head splashes on the plaster, and a full one backs the water up through the scupper.",
    applies_to="scuppers",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The conductor head of each scupper that has one."""
    heads = [one for one in wall.parapet.scuppers if one.word("outlet") == "conductor head"]
    for scupper in heads:
        head = f"conductor head of scupper {scupper.word('name')}"
        yield at_place(wall, "scupper.head_margin", scupper, "head_margin", f"margin of the {head}")
        if scupper.flag("head_overflow") is not True:
            what = f"drop from the scupper to the rim of the {head}"
            yield at_place(wall, "scupper.head_drop", scupper, "head_drop", what)
    if not heads:
        yield not_applicable("no scupper is said to empty into a conductor head")
