"""May two membranes meet? Directly by the table of families; over a tape, each side with the tape."""

from __future__ import annotations

from collections.abc import Iterator

from specgen.files.marks import Mark
from specgen.model.finding import Severity
from specgen.model.project import Component, Transition
from specgen.practice.compatibility import may_touch
from specgen.rules.hold import not_stated
from specgen.rules.rule import Said, fail, ok
from specgen.rules.wall import Wall

MATRIX = ("compatibility.matrix", "table compatibility")
TAPE = (*MATRIX, "tape.both_sides")
# What an answer of the table weighs where nothing stands between; all other answers are questions.
WEIGHT = {"not allowed": Severity.DEFECT, "with separation": Severity.RISK}


def meet(wall: Wall, one: Component, other: Component) -> Iterator[Said]:
    """What is to be said of two membranes that meet at a lap, described or not."""
    unknown = [part for part in (one, other) if wall.family(part) is None]
    for part in unknown:
        yield not_stated(f"material family of the {part.role}", part, "family", part.id)
    if unknown:
        return
    joints = wall.parapet.between(one, other)
    taped = [(joint, tape) for joint in joints if (tape := _tape(wall, joint))]
    for joint, tape in taped:
        for side in (one, other):
            yield over_tape(wall, joint, tape, side)
    if not taped:
        yield _direct(wall, one, other, joints[0].mark if joints else one.mark)


def _tape(wall: Wall, joint: Transition) -> Component | None:
    named = joint.word("tape")
    return wall.parapet.by_id(named) if named else None


def _direct(wall: Wall, one: Component, other: Component, mark: Mark) -> Said:
    first, second = wall.family(one) or "", wall.family(other) or ""
    known = may_touch(wall.practice, first, second)
    meeting = f"{one.role} ({first}) meets {other.role} ({second})"
    if known.answer == "allowed":
        return ok(f"{meeting}: {known.mechanism}", mark, one.id, basis=MATRIX)
    if known.answer in WEIGHT:
        message = f"{meeting} without a tape between them: {known.mechanism}"
        return fail(message, mark, one.id, WEIGHT[known.answer], basis=MATRIX)
    message = f"{meeting}: compatibility is not confirmed; {known.mechanism}"
    return fail(message, mark, one.id, Severity.QUERY, basis=MATRIX)


def over_tape(wall: Wall, joint: Transition, tape: Component, side: Component) -> Said:
    """What is to be said of a tape and one of the two components it joins.

    The tape maker's letter lifts what is only unconfirmed; a pair the table forbids needs the other maker's
    letter too.
    """
    family, own = wall.family(side), wall.family(tape)
    if family is None or own is None:
        lacking = side if family is None else tape
        return not_stated(f"material family of the {lacking.role}", lacking, "family", lacking.id)
    known = may_touch(wall.practice, own, family)
    approved = family in tape.words("compatible_with")
    meeting = f"bridging tape ({own}) meets {side.role} ({family})"
    mark = joint.at("tape")
    if known.answer in WEIGHT:
        if approved:
            message = f"{meeting}: the tape's maker approves it, a letter of the other maker is missing"
            return fail(message, mark, tape.id, Severity.QUERY, basis=TAPE)
        return fail(f"{meeting}: {known.mechanism}", mark, tape.id, WEIGHT[known.answer], basis=TAPE)
    if known.answer == "allowed" or approved:
        why = "approved by the tape's maker" if approved else known.mechanism
        return ok(f"{meeting}: {why}", mark, tape.id, basis=TAPE)
    message = f"{meeting}: compatibility is not confirmed; `compatible_with` does not name {family}"
    return fail(message, mark, tape.id, Severity.QUERY, basis=TAPE)
