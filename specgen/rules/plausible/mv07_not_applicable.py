"""MV07: what does not apply is told with its reason.

A value that does not apply here is neither stated nor left to anybody: `not_applicable` gives the reason. Of a component
that the parapet does not have, `because: {kind: reason}` gives it beside `kind: none`. No requirement stands for such a
value. Where common practice alone asks for it, the question is lifted; where the code, a standard or a requirement in
force asks, or a defect comes of it, the claim fails.

Right::

    - role: barrier
      kind: self-adhered
      not_applicable: {planned_exposure: the wall is clad panel by panel}

Wrong::

    - role: coping
      kind: formed metal
      not_applicable: {color: the owner chooses it}
"""

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.plausible.naming import called, title_of
from specgen.rules.rule import Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall
from specgen.wall.differing import own_records, records_at

RULE = Rule(
    name="what does not apply",
    severity=Severity.QUERY,
    applies_to="every record",
    reason="What is left out without a reason is asked for again at every review.",
    basis=("inapplicable.reasoned",),
    remedy="State the value, or say why it does not apply. The reason stands below `not_applicable`.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Every value that does not apply, and every role that the parapet has no need of, with the reason."""
    known = wall.practice.vocabulary
    yield not_applicable("the file says of nothing that it does not apply")
    for part in wall.parapet.absent:
        if why := part.because.get("kind"):
            stated = not_applicable(f"the parapet has no {part.role}: {why}")
            yield replace(stated, mark=part.mark, layer=part.id, inapplicable=why)
    for _, record in (*own_records(wall.project), *records_at(wall.parapet)):
        for name, why in record.inapplicable.items():
            stated = not_applicable(
                f"{title_of(known, record, name)} of {called(known, record)} does not apply: {why}"
            )
            layer = record.id if isinstance(record, Component) else ""
            yield replace(stated, mark=record.at(name), layer=layer, inapplicable=why, attribute=name)
