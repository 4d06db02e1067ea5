"""BT01: a bridging tape is wide enough, fit for both sides, and rolled.

Holds the width on each side against its requirement, asks whether the tape is rolled, and judges the tape
against both sides of each lap that names it. Laps of the top flashing are judged by TF02 and TF03. A tape
that no lap names joins nothing.

Right::

    - role: bridging tape
      kind: butyl tape
      each_side: 3 in
      rolled: yes

Wrong::

    - role: bridging tape
      kind: butyl tape
      each_side: 1 in
      rolled: no
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.hold import hold
from specgen.rules.remedy import Remedy, SetKind, SetValue
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable
from specgen.rules.top.contact import TAPE, over_tape
from specgen.rules.undescribed import undescribed_lap
from specgen.rules.wall import Wall

RULE = Rule(
    severity=Severity.DEFECT,
    applies_to="bridging tape",
    reason="A narrow or unrolled tape opens as a fishmouth; one that suits one side alone lets go of the other.",
    basis=("tape.each_side", "tape.rolled", *TAPE),
    remedy="Use a tape its manufacturer approves for both materials, bond it on each side as asked for, and roll it.",
    options=(Option("each side", "tape.each_side", "least width bonded on each side"),),
)
REMEDIES: tuple[Remedy, ...] = (
    (SetValue("bridging tape", "rolled", True),),
    (SetKind("bridging tape", "butyl tape"),),
    (SetKind("bridging tape", "acrylic tape"),),
    (SetKind("bridging tape", "silicone sheet"),),
    (SetKind("bridging tape", "uncured EPDM tape"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Width, rolling and the two sides of each tape."""
    tapes = wall.parapet.all_of("bridging tape")
    for tape in tapes:
        yield hold(wall, "tape.each_side", tape, severity=Severity.RISK)
        yield hold(wall, "tape.rolled", tape, "the bridging tape is not rolled after placing", Severity.RISK)
        if tape.has("compatible_with"):
            named = ", ".join(tape.words("compatible_with"))
            wrong = f"the manufacturer approves the bridging tape for {named}, not for both sides"
            yield hold(wall, "tape.both_sides", tape, wrong, Severity.RISK)
        yield from _sides(wall, tape)
    if not tapes:
        yield not_applicable("no bridging tape is described")


def _undescribed(wall: Wall) -> RuleResult | None:
    """The first lap of the top flashing that nothing is said of yet, which the tape may be meant for."""
    for flashing in wall.parapet.all_of("top flashing"):
        for role in ("barrier", "roof turn-up"):
            part = wall.part(role)
            if part is not None and not wall.parapet.between(flashing, part):
                return undescribed_lap(wall, flashing, part, f"lap of the top flashing over the {role}")
    return None


def _sides(wall: Wall, tape: Component) -> Iterator[RuleResult]:
    joints = [joint for joint in wall.parapet.transitions if joint.word("tape") == tape.id]
    if not joints and (open_ := _undescribed(wall)):
        yield open_
    elif not joints:
        message = "no lap names the bridging tape: it joins nothing"
        sides = ("top flashing", "barrier", "roof turn-up")
        yield fail(message, tape.mark, tape.id, Severity.RISK, basis=("tape.both_sides",), without=sides)
    for joint in joints:
        ends = [wall.parapet.by_id(end) for end in (joint.first, joint.second)]
        parts = [end for end in ends if end]
        if not any(part.role == "top flashing" for part in parts):
            for side in parts:
                yield over_tape(wall, joint, tape, side)
