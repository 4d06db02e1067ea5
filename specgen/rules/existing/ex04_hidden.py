"""EX04: what the openings show is known, and the repair answers it.

Lists the conditions that no one can know from outside. Each stays unknown until an opening at its place
is recorded. An opening that found anything but sound and dry work fails, unless a proposed repair answers it;
rot and corrosion reach behind the sheathing, so someone must also answer for the framing.

Right::

    existing:
      openings:
        - {name: T-1, where: below the coping, found: sound and dry}
        - {name: T-2, where: at the base, found: gap blocked}
      repairs:
        - what: reclad with drainage gap

Wrong::

    existing:
      openings:
        - {name: T-1, where: below the coping, found: rotten or corroded}
      repairs:
        - what: replace coping
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Existing, Record
from specgen.rules.existing.answers import answered_by, answers_to
from specgen.rules.existing.openings import hidden_conditions
from specgen.rules.existing.standing import standing
from specgen.rules.rule import Rule, RuleResult, fail, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    name="hidden conditions",
    severity=Severity.DEFECT,
    applies_to="existing",
    reason="A repair over wet, rotten or blocked work fails from inside.",
    basis=("existing.opened_first", "table existing_hidden", "table existing_found"),
    remedy="Remove what is damaged to sound work, have the structure looked at by an engineer, and repair from there.",
)
SOUND = "sound and dry"
ROT = "rotten or corroded"


@standing
def check(wall: Wall, existing: Existing) -> Iterator[RuleResult]:
    """Each opening, then each hidden condition without one."""
    for one in existing.openings:
        yield _opened(wall, existing, one)
    for condition, place in hidden_conditions(existing, wall.practice):
        message = f"the condition of {condition.removeprefix('the ')} is hidden"
        yield unknown(message, f"an opening {place}, recorded below `openings`", existing.mark)


def _opened(wall: Wall, existing: Existing, one: Record) -> RuleResult:
    """What one opening found, and what of the repair answers it."""
    found, where = one.word("found") or "", one.word("where") or ""
    message, mark = f"opening {one.word('name')} {where}: {found}", one.at("found")
    if found == SOUND:
        return ok(message, mark)
    answers = answered_by(found, where, existing, wall.practice)
    if not answers:
        known = ", ".join(answers_to(found, where, wall.practice))
        return fail(f"{message}; no proposed repair answers it; known to: {known}", mark)
    framing = wall.part("framing")
    if found == ROT and (framing is None or not framing.has("designed_by")):
        message = f"{message}; no one answers for the framing behind it"
        return fail(message, mark, without=() if framing else ("framing",))
    return ok(f"{message}; answered by: {', '.join(answers)}", mark)
