"""EX08: the warranty of a standing roof outlives the work on its parapet.

Where roof membrane stands on the parapet, asks whether the roof is under warranty. One in force is a question until the
manufacturer of the membrane has accepted the work in writing, and the sections let nobody cut the membrane before.

Right::

    existing:
      roof_warranty: in force and work accepted

Wrong::

    existing:
      roof_warranty: in force
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Existing
from specgen.rules.existing.standing import standing
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    name="warranty of the standing roof",
    severity=Severity.QUERY,
    applies_to="existing",
    reason="A membrane cut without its manufacturer's consent ends the warranty of the whole roof.",
    basis=("existing.roof_accepted",),
    remedy="Have the manufacturer of the membrane accept the work and its installer in writing before it is cut.",
)
KEY = "roof_warranty"


@standing
def check(wall: Wall, existing: Existing) -> Iterator[RuleResult]:
    """The stated warranty, where the work reaches the membrane."""
    if wall.part("roof turn-up") is None:
        yield not_applicable("no roof membrane stands on the parapet")
    elif (stated := existing.word(KEY)) is None:
        missing = f"`{KEY}` below `existing`"
        yield unknown("nobody states whether the roof is under warranty", missing, existing.mark)
    elif stated == "in force":
        message = "the roof is under warranty, and its manufacturer has not accepted the work"
        yield fail(message, existing.at(KEY))
    else:
        yield ok(f"warranty of the roof: {stated}", existing.at(KEY))
