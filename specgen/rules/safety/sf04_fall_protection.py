"""SF04: someone answers for fall protection at the roof's edge.

Where the parapet is lower than a guard, asks once who answers for fall protection during the work (29 CFR 1926 Subpart M)
and in maintenance (29 CFR 1910.28(b)(13)), which are two duties.
A recorded answer closes the question.

Right::

    building:
      fall_protection: contractor's plan; anchors by the roof access plan

Wrong::

    height: 30 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, RuleResult, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_least

RULE = Rule(
    severity=Severity.QUERY,
    applies_to="building",
    reason="Work at the edge of a roof kills more roofers than anything else they do.",
    basis=("guard.fall_protection", "guard.height"),
    remedy="Name who answers for fall protection in the work and in maintenance. Record it: `building.fall_protection`.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The recorded answer, or a parapet that guards."""
    building, parapet = wall.project.building, wall.parapet
    height, least = parapet.quantity("height"), wall.practice.quantity("guard.height")
    answer = building.word("fall_protection")
    if height is None:
        yield not_stated("height of the parapet", parapet, "height", "")
        return
    if answer:
        yield ok(f"fall protection: {answer}", building.at("fall_protection"))
    elif not wall.country_covered:
        message = "fall protection at the roof's edge: not covered outside US codes"
        wanted = "not covered: what the law at the site asks for; `building.fall_protection` records it too"
        yield unknown(message, wanted)
    elif at_least(height, least):
        yield ok(f"the parapet is {height.text} high and guards the edge", parapet.at("height"))
    else:
        message = f"the parapet is {height.text} high, and `building.fall_protection` is not stated"
        yield unknown(message, "add `building.fall_protection`", parapet.at("height"))
