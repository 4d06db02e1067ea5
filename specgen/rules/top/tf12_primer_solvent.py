"""TF12: the solvent of a primer leaves unharmed what it touches, and flashes off.

Looks at each lap that names the solvent of its primer: at both sides of the lap, its tape, and foam beside them. The
table `solvents` says what the solvent dissolves (a defect) or softens (a risk); what it does not list is a query to the
manufacturer. A primer with solvent needs its flash-off time. A primer sold as water-borne that carries a solvent, and one
sold as solvent-borne that carries none, are told: one of the two is a slip.

Right::

    - between: [top flashing, roof turn-up]
      lap: 4 in
      upper: top flashing
      primer_kind: membrane primer
      solvent: aliphatic hydrocarbon
      flash_off: 10 min

Wrong::

    - between: [top flashing, barrier]
      lap: 4 in
      upper: top flashing
      primer_kind: solvent-borne rubber primer
      solvent: ketone or ester
      flash_off: 10 min
"""

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.model.project import Component, Transition
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.wall.order import beside
from specgen.wall.place import primer_of
from specgen.wall.settled import SOLVENT_PRIMER

RULE = Rule(
    severity=Severity.DEFECT,
    applies_to="transitions",
    reason="A solvent eats what is made of its own kind, and what is closed in under a sheet eats for months.",
    basis=("primer.solvent", "table solvents"),
    remedy="Take a primer of water or of a solvent that neither side is made with, and let it flash off.",
)
DRY = ("none", "water")
BY_KIND = {
    "water-borne acrylic primer": True,
    SOLVENT_PRIMER: False,
}  # without solvent by its name
GRAVITY = {"dissolves": Severity.DEFECT, "softens": Severity.RISK}


def check(wall: Wall) -> Iterator[RuleResult]:
    """Each lap that names the solvent of its primer."""
    named = [joint for joint in wall.parapet.transitions if primer_of(joint) and joint.has("solvent")]
    if not named:
        yield not_applicable("no lap names the solvent of its primer")
    for joint in named:
        yield from _contradicted(joint)
        if joint.word("solvent") in DRY:
            yield ok(f"the {primer_of(joint)} carries no organic solvent", joint.at("solvent"))
            continue
        for part in _touched(wall, joint):
            yield _on(wall, joint, part)
        if joint.has("flash_off"):
            yield ok("the flash-off time of the primer is stated", joint.at("flash_off"))
        else:
            yield not_stated("flash-off time of the primer", joint, "flash_off", "")


def _contradicted(joint: Transition) -> Iterator[RuleResult]:
    dry = BY_KIND.get(primer_of(joint))
    solvent = joint.word("solvent")
    if dry is not None and dry != (solvent in DRY):
        message = f"a {primer_of(joint)} is stated with the solvent `{solvent}`"
        yield fail(message, joint.at("solvent"), severity=Severity.RISK)


def _touched(wall: Wall, joint: Transition) -> Iterator[Component]:
    """Both sides of the lap, its tape, and foam next to any of them."""
    seen = set()
    for end in (joint.first, joint.second, joint.word("tape") or ""):
        part = wall.parapet.by_id(end)
        foams = beside(wall.parapet, part, "insulation", "top insulation") if part else ()
        for one in (*((part,) if part else ()), *foams):
            if one.id not in seen:
                seen.add(one.id)
                yield one


def _on(wall: Wall, joint: Transition, part: Component) -> RuleResult:
    solvent, family, at = joint.word("solvent"), wall.family(part), joint.at("solvent")
    if family is None:
        return not_stated(f"material family of the {part.role}", part, "family", part.id)
    table = wall.practice.table("solvents")
    rows = table.where(solvent=solvent, family=family)
    what = f"{part.role} ({family})"
    if not rows:
        message = f"what {solvent} does to the {what} is not known"
        result = fail(message, at, part.id, Severity.QUERY)
    elif (effect := str(rows[0]["effect"])) == "none":
        result = ok(f"{solvent} leaves the {what} unharmed once it has flashed off", at, part.id)
    else:
        result = fail(f"{solvent} {effect} the {what}", at, part.id, GRAVITY[effect])
    return replace(result, sources=(table.source,))
