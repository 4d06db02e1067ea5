"""SQ02: the order of work that a project states keeps its laps.

A parapet may name the order in which its parts are installed (`work_order`). Looks at each lap, tape, and layer of which
both parts are named: the lower piece of a lap that is put on after its upper piece is a defect, since one of the two must
be lifted again; a part that comes before what it stands on or covers is a risk.

Right::

    work_order: barrier, top flashing, coping

Wrong::

    work_order: flashing, wrb, coping
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.paths.sequence import against_order
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.units.counted import many
from specgen.wall.order import stated_order

RULE = Rule(
    name="stated order of work",
    severity=Severity.DEFECT,
    applies_to="parapet",
    reason="A lower piece that comes after its upper piece is pushed under a finished lap, or lapped over it.",
    basis=("path.sequence",),
    remedy="Change the order of work, or the lap: the lower piece first, then its tape, then the upper piece.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Each pair that the stated order turns around."""
    named = stated_order(wall.parapet)
    if not named:
        yield not_applicable("no order of work is stated")
        return
    turned = against_order(wall.parapet, wall.practice)
    at = wall.parapet.at("work_order")
    for first, then, joint in turned:
        trades = " and ".join(f"`{one}` ({_trade(wall, one)})" for one in (first, then))
        if joint is None:
            message = f"{trades}: the second is to go first, and it stands on or covers the first"
            yield fail(message, at, then, Severity.RISK)
        else:
            message = f"{trades}: the first lies below the second in their lap, and is put on after it"
            yield fail(message, at, then)
    if not turned:
        yield ok(f"{many(len(named), 'part')} in the stated order keep each lap", at)


def _trade(wall: Wall, name: str) -> str:
    part = wall.parapet.by_id(name)
    return wall.practice.vocabulary.roles[part.role].trade_of(part.kind) if part else "no trade"
