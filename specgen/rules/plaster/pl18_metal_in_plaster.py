"""PL18: metal that the plaster touches withstands its lime.

Looks at the weep screed and at the lath, which the plaster embeds. Aluminum is a defect; a metal that needs a coating
between is a risk; a metal that the table does not name is for the manufacturers to confirm.

Right::

    - role: weep screed
      kind: vented weep screed
      family: galvanized steel

Wrong::

    - role: weep screed
      kind: vented weep screed
      family: aluminum
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.practice.compatibility import may_touch
from specgen.rules.rule import Rule, RuleResult, not_applicable
from specgen.rules.top.contact import contact_result
from specgen.rules.wall import Wall

RULE = Rule(
    severity=Severity.DEFECT,
    applies_to="plaster",
    reason="Fresh plaster is strongly alkaline, and it is alkaline again each time it gets wet.",
    basis=("compatibility.matrix", "table compatibility"),
    remedy="Use galvanized steel, stainless steel or copper where the plaster touches the metal.",
)
EMBEDDED = ("weep screed", "lath")


def check(wall: Wall) -> Iterator[RuleResult]:
    """Every embedded part of metal against the plaster."""
    plaster = wall.part("plaster")
    metals = {str(row["metal"]) for row in wall.practice.table("anodic_index").rows}
    embedded = [
        (part, family)
        for role in EMBEDDED
        for part in wall.parapet.all_of(role)
        if (family := wall.family(part)) in metals
    ]
    if plaster is None or not embedded:
        yield not_applicable("no plaster with metal in it is described")
        return
    cement = wall.family(plaster) or "cement"
    for part, family in embedded:
        meeting = f"`{plaster.id}` ({cement}) touches `{part.id}` ({family})"
        at = part.at("family") if part.has("family") else part.mark
        yield contact_result(may_touch(wall.practice, str(family), cement), meeting, "", "", at, part.id)
