"""Which bridging tape could stand between two components: searched in the table of pairs."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.paths.graph import Node, WallGraph

TAPE_ROLE = "bridging tape"


@dataclass(frozen=True)
class TapeChoice:
    """A generic tape that nothing excludes; ``confirm`` are the families its manufacturer must still approve."""

    kind: str
    family: str
    confirm: tuple[str, ...]

    @property
    def text(self) -> str:
        """The change in words."""
        if not self.confirm:
            return f"bridge the lap with {self.kind}"
        return f"bridge the lap with {self.kind}, its contact with {' and '.join(self.confirm)} confirmed by letter"


def tapes_for(wall: WallGraph, one: Node, other: Node) -> tuple[TapeChoice, ...]:
    """The generic tapes that may stand between two components, those with the fewest open confirmations.

    A tape of the family of one side is left out where the other side must confirm it: it would only move the
    question. The manufacturers' letters of the project count.

    Args:
        wall: the parapet with its practice and letters.
        one: a component.
        other: the component on the other side.

    Returns:
        Tapes in the order of the vocabulary; empty if every one is excluded.
    """
    found = []
    for kind in wall.practice.vocabulary.roles[TAPE_ROLE].kinds.values():
        tape = Node(kind.name, TAPE_ROLE, kind.name, kind.family, (), wall.parapet.mark)
        answers = {side.family: wall.meet(tape, side) for side in (one, other)}
        confirm = tuple(
            side for side, known in answers.items() if side and known and known.answer == "confirm"
        )
        fits = all(known is not None and known.answer in ("allowed", "confirm") for known in answers.values())
        if fits and not (confirm and kind.family in answers):
            found.append(TapeChoice(kind.name, kind.family, confirm))
    fewest = min((len(tape.confirm) for tape in found), default=0)
    return tuple(tape for tape in found if len(tape.confirm) == fewest)


def tape_changes(wall: WallGraph, one: Node, other: Node) -> tuple[str, ...]:
    """The tapes that would close a joint, in words.

    A tape the parapet has already comes first. Where the pair itself waits for one letter, a tape that waits for
    letters too is no lesser change and is left out.
    """
    present = []
    for tape in wall.with_role([TAPE_ROLE]):
        answers = [wall.meet(tape, side) for side in (one, other)]
        if all(answer is not None and answer.answer == "allowed" for answer in answers):
            present.append(f"name the tape of this parapet at the lap: `tape: {tape.id}`")
    if present:
        return tuple(present)
    pair = wall.meet(one, other)
    waits = pair is not None and pair.answer == "confirm"
    return tuple(tape.text for tape in tapes_for(wall, one, other) if not (waits and tape.confirm))
