"""WB14: a self-adhered barrier is primed where its substrate asks for it.

Looks at the part behind a self-adhered barrier and at the table of primers. The primer is stated at the transition
between the two. Where the table asks for one, none or another one is a risk, and one that is not stated is
unknown. A pair that the table does not name is left to the manufacturer's letter, which WB06 asks for.

Right::

    - role: barrier
      kind: self-adhered
      family: SBS bitumen
    - role: sheathing
      kind: glass-mat gypsum
    - between: [barrier, sheathing]
      upper: barrier
      primer_kind: water-borne acrylic primer

Wrong::

    - role: barrier
      kind: self-adhered
      family: SBS bitumen
    - role: sheathing
      kind: glass-mat gypsum
    - between: [barrier, sheathing]
      upper: barrier
      primer_kind: none
"""

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.facts import self_adhered

RULE = Rule(
    name="primer under the barrier",
    severity=Severity.RISK,
    applies_to="barrier",
    reason="Dust and loose glass fibers hold the adhesive off the board: the sheet lets go in the first heat.",
    basis=("flashing.primer_chain", "table primers"),
    remedy="Prime the substrate with a primer that the manufacturer of the sheet names for it.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The primer between each self-adhered barrier and what lies behind it."""
    results = [one for part in wall.parapet.all_of("barrier") for one in _under(wall, part)]
    yield from results
    if not results:
        yield not_applicable("no self-adhered barrier lies on a substrate that asks for a primer")


def _under(wall: Wall, barrier: Component) -> Iterator[RuleResult]:
    behind = _behind(wall, barrier)
    if not self_adhered(barrier) or behind is None:
        return
    stuck, below = wall.family(barrier), wall.family(behind)
    table = wall.practice.table("primers")
    rows = [row for row in table.where(adhesive=stuck, substrate=below) if row["need"] == "required"]
    fitting = [str(row["primer"]) for row in rows]
    if not fitting:
        return
    pair = f"barrier ({stuck}) on {behind.role} ({below})"
    joints = [one for one in wall.parapet.between(barrier, behind) if one.has("primer_kind")]
    if not joints:
        missing = f"add a transition `between: [{barrier.id}, {behind.id}]` with `primer_kind: {' or '.join(fitting)}`"
        message = f"the primer under the {pair} is not stated"
        yield unknown(message, missing, barrier.mark, barrier.id)
    for joint in joints:
        given, at = joint.word("primer_kind"), joint.at("primer_kind")
        if given in fitting:
            result = ok(f"{given} under the {pair}", at, barrier.id)
        else:
            wrong = "there is no primer under" if given == "none" else f"a {given} does not suit"
            result = fail(f"{wrong} the {pair}", at, barrier.id)
        yield replace(result, sources=(table.source,))


def _behind(wall: Wall, barrier: Component) -> Component | None:
    """The part that the barrier is stuck on."""
    parts = wall.parapet.build_up
    return next((one for one in parts[parts.index(barrier) + 1 :] if wall.family(one)), None)
