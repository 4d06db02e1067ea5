"""EX09: the work on a standing wall is classified by the existing-building code.

A repair restores what was; an alteration may ask for more of the building to be brought up to the code. The authority
having jurisdiction decides which one it is, so the rule asks until it is stated.

Right::

    existing:
      work_class: level 1 alteration

Wrong::

    existing: {by: building enclosure consultant}
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Existing
from specgen.rules.existing.standing import standing
from specgen.rules.rule import Rule, RuleResult, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    name="class of the work",
    severity=Severity.QUERY,
    applies_to="existing",
    reason="The class decides whether bracing, roof, insulation, and access are brought up to the code with the wall.",
    basis=("existing.classified",),
    remedy="Ask the authority having jurisdiction whether the work is a repair or an alteration. State `work_class`.",
)
KEY = "work_class"


@standing
def check(wall: Wall, existing: Existing) -> Iterator[RuleResult]:
    """The stated class."""
    if stated := existing.word(KEY):
        yield ok(f"class of the work: {stated}", existing.at(KEY))
    else:
        message = "nobody states whether the work is a repair or an alteration of the existing-building code"
        yield unknown(message, f"the parapet as it stands: add `{KEY}`", existing.mark)
