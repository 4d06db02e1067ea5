"""EX04: what the openings show is known and sound.

Lists the conditions that no one can know from outside. Each stays undetermined until an opening at its place
is recorded; an opening that found anything but sound and dry work fails.

Right::

    existing:
      openings:
        - {name: T-1, where: below the coping, found: sound and dry}

Wrong::

    existing:
      openings:
        - {name: T-1, where: below the coping, found: rotten or corroded}
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Rule, Said, fail, not_applicable, ok, undetermined
from specgen.rules.wall import Wall

RULE = Rule(
    code="EX04",
    name="hidden conditions",
    title="What the openings show is known and sound",
    severity=Severity.DEFECT,
    applies_to="existing",
    reason="A repair over wet, rotten or blocked work fails from inside.",
    basis=("existing.opened_first", "table existing_hidden"),
    remedy="Remove what is damaged to sound work, have the structure looked at by an engineer, and repair from there.",
)
SOUND = "sound and dry"


def check(wall: Wall) -> Iterator[Said]:
    """Each opening, then each hidden condition without one."""
    existing = wall.parapet.existing
    if existing is None:
        yield not_applicable("the project does not describe the parapet as existing")
        return
    for one in existing.openings:
        message = f"opening {one.word('name')} {one.word('where')}: {one.word('found')}"
        say = ok if one.word("found") == SOUND else fail
        yield say(message, one.at("found"))
    opened = {one.word("where") for one in existing.openings}
    for row in wall.practice.table("existing_hidden").rows:
        if row["place"] not in opened:
            message = f"the condition of {str(row['condition']).removeprefix('the ')} is hidden"
            yield undetermined(
                message, f"an opening {row['place']}, recorded below `openings`", existing.mark
            )
