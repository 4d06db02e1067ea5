"""EX03: the parapet is opened and looked at before its repair is specified.

Lists the least number of openings and their places, from what was observed; each place with too few openings
is a query. The list is common practice and no sampling plan.

Right::

    existing:
      openings:
        - {name: T-1, where: below the coping, found: sound and dry}
        - {name: T-2, where: below the coping, found: sound and dry}
        - {name: T-3, where: at the base, found: sound and dry}
        - {name: T-4, where: at a corner, found: sound and dry}

Wrong::

    existing:
      openings:
        - {name: T-1, where: below the coping, found: sound and dry}
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Existing
from specgen.rules.existing.openings import openings_wanted
from specgen.rules.existing.standing import standing
from specgen.rules.rule import Rule, RuleResult, fail, ok
from specgen.rules.wall import Wall

RULE = Rule(
    name="openings before a repair",
    severity=Severity.QUERY,
    applies_to="existing",
    reason="What the plaster hides decides the repair; guessed, it is found out when the wall is open.",
    basis=("existing.opened_first", "table existing_openings"),
    remedy="After the survey for hazardous materials, open the wall there, and close it watertight. "
    "List it in `openings`.",
)


@standing
def check(wall: Wall, existing: Existing) -> Iterator[RuleResult]:
    """Each place, with the openings wanted and there."""
    for wanted in openings_wanted(existing, wall.practice):
        message = (
            f"{wanted.place}: {wanted.done} of {wanted.count} openings; look at: {'; '.join(wanted.why)}"
        )
        because = (f"observed: {', '.join(wanted.seen)}",) if wanted.seen else ()
        say = ok if wanted.done >= wanted.count else fail
        yield say(message, existing.mark, because=because)
