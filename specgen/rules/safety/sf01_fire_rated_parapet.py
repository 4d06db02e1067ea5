"""SF01: the parapet of a fire-rated wall is high and noncombustible enough.

Asks once whether the wall has a fire-resistance rating that needs a parapet. If so, a parapet lower than the code's
height is a defect, and a roof membrane in its uppermost part on the roof side is a question to the design
professional, closed by `fire_confirmed_by`.

Right::

    fire_rated: no

Wrong::

    fire_rated: yes
    height: 24 in
"""

from collections.abc import Iterator
from fractions import Fraction

from specgen.model.finding import Severity
from specgen.rules.hold import not_stated
from specgen.rules.rule import Option, Rule, RuleResult, fail, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_least
from specgen.units.quantity import exactly

RULE = Rule(
    name="parapet of a fire-rated wall",
    severity=Severity.QUERY,
    applies_to="parapet",
    reason="Fire that leaves the roof climbs over a low parapet, and along a membrane on its roof side.",
    basis=("fire.parapet_height", "fire.noncombustible"),
    remedy="Raise the parapet, keep membrane out of its upper part on the roof side, or record who accepts it.",
    options=(Option("height", "fire.parapet_height", "least height of the parapet of a fire-rated wall"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Whether the wall is rated; then height and facing."""
    parapet = wall.parapet
    rated = parapet.flag("fire_rated")
    if rated is None:
        yield fail(
            "whether the wall has a fire-resistance rating that needs a parapet is not stated: `fire_rated`"
        )
    elif not rated:
        yield ok("the wall has no fire-resistance rating that needs a parapet", parapet.at("fire_rated"))
    else:
        yield _height(wall)
        yield _facing(wall)


def _height(wall: Wall) -> RuleResult:
    least, height = wall.practice.quantity("fire.parapet_height"), wall.parapet.quantity("height")
    if height is None:
        return not_stated("height of the parapet", wall.parapet, "height", "")
    _, asked = wall.beside(height, "at least", least)
    message = f"parapet of a fire-rated wall is {height.text} high; asked for: at least {asked}"
    mark, basis = wall.parapet.at("height"), ("fire.parapet_height",)
    if at_least(height, least):
        return ok(message, mark, basis=basis)
    return fail(message, mark, severity=Severity.DEFECT, basis=basis)


def _facing(wall: Wall) -> RuleResult:
    upper, turn_up = wall.practice.quantity("fire.noncombustible"), wall.part("roof turn-up")
    basis, accepted = ("fire.noncombustible",), wall.parapet.word("fire_confirmed_by")
    height, reach = wall.parapet.quantity("height"), turn_up.quantity("height") if turn_up else None
    if accepted:
        return ok(f"the facing is accepted by {accepted}", wall.parapet.at("fire_confirmed_by"), basis=basis)
    if turn_up is None or reach is None or height is None:
        message = "how high the roof membrane reaches on the parapet is not stated"
        return unknown(message, "`height` of the roof turn-up", wall.parapet.mark, basis=basis)
    free = exactly(max(height.exact - reach.exact, Fraction(0)), height)
    shown, asked = wall.beside(free, "at least", upper)
    message = f"the uppermost {shown} on the roof side are free of roof membrane; asked for: at least {asked}"
    mark = turn_up.at("height")
    if at_least(free, upper):
        return ok(message, mark, turn_up.id, basis=basis)
    return fail(message, mark, turn_up.id, Severity.QUERY, basis=basis)
