"""SF03: people near the roof's edge are guarded.

A parapet of the height of a guard passes. A lower one is a question until `building.guard` says how people are guarded;
where it says by the parapet itself, a lower parapet is a defect.

Right::

    building:
      guard: by roof access plan

Wrong::

    height: 30 in
    building:
      guard: by parapet height
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import not_stated
from specgen.rules.rule import Option, Rule, RuleResult, fail, ok, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import at_least

RULE = Rule(
    name="guard at the roof edge",
    severity=Severity.QUERY,
    applies_to="building",
    reason="A parapet that looks like a guard and is lower than one lets people fall.",
    basis=("guard.height",),
    remedy="Raise the parapet, add a railing, or plan the access to the roof. Record the plan: `building.guard`.",
    options=(Option("height", "guard.height", "least height of a guard"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Height of the parapet, or what guards in its place."""
    building, parapet = wall.project.building, wall.parapet
    height, least = parapet.quantity("height"), wall.practice.quantity("guard.height")
    if height is None:
        yield not_stated("height of the parapet", parapet, "height", "")
        return
    guard = building.word("guard")
    _, asked = wall.beside(height, "at least", least)
    message = f"parapet is {height.text} high; a guard is at least {asked}"
    if at_least(height, least):
        yield ok(message, parapet.at("height"))
    elif guard == "by parapet height":
        yield fail(
            f"{message}, and the parapet is stated as the guard", parapet.at("height"), "", Severity.DEFECT
        )
    elif guard is None:
        yield unknown(
            f"{message}; `building.guard` is not stated", "add `building.guard`", parapet.at("height")
        )
    else:
        yield ok(f"people are guarded {guard}", building.at("guard"))
