"""TF08: tape, primer and substrate suit each other at every lap.

Looks at the chain of three at every lap: what is stuck, the primer, and what it is stuck on. A pair that needs a
primer and has none or another, and a solvent-borne primer on a material that its solvent attacks (EPS, XPS), are
defects; a primer not stated where one is needed is unknown. A solvent-borne primer on insulation next to the
base flashing or the flashing is looked at too.

Right::

    - between: [top flashing, roof turn-up]
      lap: 4 in
      upper: top flashing
      primer_kind: membrane primer

Wrong::

    - between: [top flashing, roof turn-up]
      lap: 4 in
      upper: top flashing
      primer_kind: solvent-borne rubber primer
"""

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.model.project import Component, Transition
from specgen.practice.compatibility import may_touch
from specgen.rules.paths.broken import break_result, plain_run
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.wall.order import beside
from specgen.wall.settled import SOLVENT, SOLVENT_PRIMER

RULE = Rule(
    severity=Severity.DEFECT,
    applies_to="transitions",
    reason="A tape without its primer peels; the solvent of a wrong one dissolves what it is put on.",
    basis=("flashing.primer_chain", "table primers", "table compatibility", "compatibility.matrix"),
    remedy="Use the primer that the manufacturer of the tape names for the substrate, and one without solvent on foam.",
)
FOAMS = ("EPS", "XPS")


def check(wall: Wall) -> Iterator[RuleResult]:
    """The chain at every lap, then solvent-borne primers beside foam."""
    breaks = [one for one in plain_run(wall) if one.cause == "primer"]
    for one in breaks:
        yield break_result(wall, one, Severity.DEFECT)
    harmed = list(_on_foam(wall))
    yield from harmed
    primed = [joint for joint in wall.parapet.transitions if joint.has("primer_kind")]
    if not breaks and not harmed:
        for joint in primed:
            message = f"{joint.word('primer_kind')} suits `{joint.first}` and `{joint.second}`"
            yield ok(message, joint.at("primer_kind"))
    if not breaks and not harmed and not primed:
        yield not_applicable("no lap needs a primer, and none is stated")


def _on_foam(wall: Wall) -> Iterator[RuleResult]:
    """Foam next to a part that is primed with solvent: the primer runs onto it."""
    for joint in wall.parapet.transitions:
        if joint.word("primer_kind") != SOLVENT_PRIMER:
            continue
        for end in (joint.first, joint.second):
            part = wall.parapet.by_id(end)
            for foam in _foam_beside(wall, part) if part else ():
                yield _harm(wall, joint, foam)


def _foam_beside(wall: Wall, part: Component) -> list[Component]:
    foams = beside(wall.parapet, part, "insulation", "top insulation")
    return [foam for foam in foams if wall.family(foam) in FOAMS]


def _harm(wall: Wall, joint: Transition, foam: Component) -> RuleResult:
    known = may_touch(wall.practice, SOLVENT, wall.family(foam) or "", adjacency="solvent")
    message = f"{SOLVENT_PRIMER} beside `{foam.id}` ({wall.family(foam)}): {known.mechanism}"
    return replace(fail(message, joint.at("primer_kind"), foam.id), sources=(known.source,))
