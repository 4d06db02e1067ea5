"""SF01: the parapet of a fire-rated wall has the rating of the wall, and is high and noncombustible enough.

Asks once whether the wall has a fire-resistance rating that needs a parapet; the fire separation distance or an
exception of the code (`fire_exception`) may answer. If it has one, a parapet of a lower rating than the wall or lower
than the code's height is a defect, and a roof membrane in its uppermost part on the roof side is a question to the
design professional, closed by `fire_confirmed_by`. A wall close to the lot line that is said to need none is a question
too.

Right::

    fire_rated: yes
    wall_fire_rating: 1 h
    fire_rating: 1 h

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
    severity=Severity.DEFECT,
    applies_to="parapet",
    reason="Fire that leaves the roof climbs over a low or weak parapet, and along a membrane on its roof side.",
    basis=(
        "fire.parapet_rating",
        "fire.parapet_height",
        "fire.noncombustible",
        "fire.parapet_exceptions",
        "fire.separation_rated",
        "fire.separation_free",
    ),
    remedy=(
        "Build the parapet in an assembly of the wall's rating, raise it, keep membrane out of its upper part on the "
        "roof side, or record the exception or who accepts it."
    ),
    options=(Option("height", "fire.parapet_height", "least height of the parapet of a fire-rated wall"),),
)
BURNS = {"noncombustible roof": "wood"}  # exception of the code, and the roof deck that it does not fit


def check(wall: Wall) -> Iterator[RuleResult]:
    """Whether the wall is rated and needs a parapet; then rating, height and facing."""
    rated = wall.parapet.flag("fire_rated")
    if rated:
        yield _rating(wall)
        yield _height(wall)
        yield _facing(wall)
    else:
        yield _not_rated(wall, stated=rated is not None)


def _not_rated(wall: Wall, stated: bool) -> RuleResult:
    """No parapet is asked for: because the project says so, by an exception, or by distance."""
    parapet, exception = wall.parapet, wall.parapet.word("fire_exception")
    distance = parapet.quantity("fire_separation_distance")
    at = parapet.at("fire_exception")
    basis: tuple[str, ...] = ("fire.parapet_exceptions",)
    if exception in BURNS and BURNS[exception] == wall.project.building.word("roof_deck"):
        message = f"the exception `{exception}` does not fit a roof deck of {BURNS[exception]}"
        return fail(message, at, "", Severity.QUERY, basis=basis)
    if exception:
        return ok(f"no parapet is asked for, by exception: {exception}", at, basis=basis)
    near, free = (wall.practice.quantity(f"fire.separation_{one}") for one in ("rated", "free"))
    at = parapet.at("fire_separation_distance")
    if distance is not None and not at_least(distance, near):
        _, asked = wall.beside(distance, "at least", near)
        message = (
            f"fire separation distance is {distance.text}; below {asked} the code rates each exterior wall"
        )
        return fail(message, at, "", Severity.QUERY, basis=("fire.separation_rated",))
    rating = parapet.quantity("wall_fire_rating")
    if stated and rating is not None:
        message = f"the wall is rated {rating.text}, and no exception says why its parapet need not be"
        return fail(message, parapet.at("fire_rated"), "", Severity.QUERY, basis=("fire.parapet_exceptions",))
    if stated:
        return ok("the wall has no fire-resistance rating that needs a parapet", parapet.at("fire_rated"))
    if distance is not None and at_least(distance, free):
        message = f"fire separation distance is {distance.text}; no wall is rated because of it"
        return ok(message, at, basis=("fire.separation_free",))
    message = (
        "whether the wall has a fire-resistance rating that needs a parapet is not stated, nor its fire separation "
        "distance"
    )
    return unknown(message, f"parapet `{parapet.name}`: add `fire_rated`")


def _rating(wall: Wall) -> RuleResult:
    asked, own = (wall.parapet.quantity(one) for one in ("wall_fire_rating", "fire_rating"))
    if asked is None:
        return not_stated("fire-resistance rating of the exterior wall", wall.parapet, "wall_fire_rating", "")
    if own is None:
        return not_stated("fire-resistance rating of the parapet", wall.parapet, "fire_rating", "")
    say = ok if at_least(own, asked) else fail
    message = f"fire-resistance rating of the parapet is {own.text}, that of the wall {asked.text}"
    return say(message, wall.parapet.at("fire_rating"), basis=("fire.parapet_rating",))


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
