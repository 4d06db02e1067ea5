"""PL08: lath over the gap stands off its backing.

Passes self-furred lath. Flat lath lies against the drainage layer unless it is furred, and plaster cannot
close around it.

Right::

    - role: lath
      kind: self-furred expanded metal lath

Wrong::

    - role: lath
      kind: expanded metal lath
      furred: no
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Rule, RuleResult, not_applicable, ok
from specgen.rules.wall import Wall

RULE = Rule(
    code="PL08",
    name="lath furred",
    title="Lath over the gap stands off its backing",
    severity=Severity.RISK,
    applies_to="lath",
    reason="Plaster cannot embed lath that lies flat on its backing, and bare lath rusts.",
    basis=("lath.furred",),
    remedy="Use self-furred lath, or fur the lath with the fasteners made for it.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The kind of lath, or its furring."""
    lath = wall.part("lath")
    if lath is None:
        yield not_applicable("no lath is described")
    elif wall.requirement("lath.furred") is None:
        yield ok(f"lath is {lath.kind}", lath.at("kind"), lath.id)
    else:
        yield hold(wall, "lath.furred", lath, "flat lath lies on the drainage layer without furring")
