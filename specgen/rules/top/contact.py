"""May two membranes meet? By the table of families and manufacturers' letters; over a tape, each side with the tape."""

from collections.abc import Iterator
from dataclasses import replace

from specgen.files.marks import Mark
from specgen.model.finding import Severity
from specgen.model.project import Component, Transition
from specgen.practice.compatibility import Judgement
from specgen.rules.hold import not_stated
from specgen.rules.rule import RuleResult, fail, ok
from specgen.rules.wall import Wall

MATRIX = ("compatibility.matrix", "table compatibility")
TAPE = (*MATRIX, "tape.both_sides")
# What an answer of the table weighs where nothing stands between; all other answers are questions.
WEIGHT = {"not allowed": Severity.DEFECT, "with separation": Severity.RISK}


def meet(wall: Wall, one: Component, other: Component) -> Iterator[RuleResult]:
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


def judged(wall: Wall, one: Component, other: Component) -> Judgement | None:
    """What table and manufacturers' letters say of two components in contact; None if a family is not known."""
    return wall.graph.meet(wall.graph.nodes[one.id], wall.graph.nodes[other.id])


def contact_result(
    known: Judgement, meeting: str, apart: str, open_: str, mark: Mark, layer: str
) -> RuleResult:
    """A judgement in words.

    Args:
        known: the judgement.
        meeting: what meets what.
        apart: what is missing between the two where they may not touch; may be empty.
        open_: what keeps the question open where the manufacturers must confirm.
        mark: where the project says that they meet.
        layer: the component the finding is about.

    Returns:
        A pass, a failure, or a query. A contact the table does not allow stays a query where both manufacturers allow
        it: someone accepts the letters against the table.
    """
    if known.answer == "allowed" and known.listed in WEIGHT:
        message = f"{meeting}: {known.letters}; the table says {known.listed}, {known.mechanism}"
        result = fail(message, mark, layer, Severity.QUERY)
    elif known.answer == "allowed":
        result = ok(f"{meeting}: {known.letters or known.mechanism}", mark, layer)
    elif known.answer in WEIGHT:
        refused = f"{known.letters}; " if known.letters else ""
        result = fail(f"{meeting}{apart}: {refused}{known.mechanism}", mark, layer, WEIGHT[known.answer])
    else:
        message = f"{meeting}: compatibility is not confirmed; {open_ or known.mechanism}"
        result = fail(message, mark, layer, Severity.QUERY)
    return replace(result, sources=(known.source,))


def _tape(wall: Wall, joint: Transition) -> Component | None:
    named = joint.word("tape")
    return wall.parapet.by_id(named) if named else None


def _direct(wall: Wall, one: Component, other: Component, mark: Mark) -> RuleResult:
    known = judged(wall, one, other)
    assert known is not None
    meeting = f"{one.role} ({wall.family(one)}) meets {other.role} ({wall.family(other)})"
    return contact_result(known, meeting, " without a tape between them", "", mark, one.id)


def over_tape(wall: Wall, joint: Transition, tape: Component, side: Component) -> RuleResult:
    """What is to be said of a tape and one of the two components it joins.

    The tape manufacturer's letter lifts what is only unconfirmed; a pair the table forbids needs the other manufacturer's
    letter too.
    """
    family, own = wall.family(side), wall.family(tape)
    if family is None or own is None:
        lacking = side if family is None else tape
        return not_stated(f"material family of the {lacking.role}", lacking, "family", lacking.id)
    known = judged(wall, tape, side)
    assert known is not None
    apart = ""
    if known.answer in WEIGHT and not known.letters and family in tape.words("compatible_with"):
        apart = ": the tape's manufacturer approves it, a letter of the other manufacturer is missing"
    meeting = f"bridging tape ({own}) meets {side.role} ({family})"
    result = contact_result(
        known, meeting, apart, f"`compatible_with` does not name {family}", joint.at("tape"), tape.id
    )
    return replace(result, sources=(*result.sources, wall.practice.source("tape.both_sides")))
