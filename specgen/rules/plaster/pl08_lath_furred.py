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

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import Held, catalogue_entry, each_layer, rule_of, unmet_conditions
from specgen.rules.rule import RuleResult, ok
from specgen.rules.wall import Wall

RULE = rule_of(
    "lath.furred",
    severity=Severity.RISK,
    remedy="Use self-furred lath, or fur the lath with the fasteners made for it.",
)
FURRED = Held(RULE.holds, "flat lath lies on the drainage layer without furring")


@each_layer("lath")
def check(wall: Wall, lath: Component) -> Iterator[RuleResult]:
    """The kind of the lath, or its furring."""
    if unmet_conditions(wall, catalogue_entry("lath.furred"), lath):
        yield ok(f"lath is {lath.kind}", lath.at("kind"), lath.id)
    else:
        yield from FURRED.at(wall, lath)
