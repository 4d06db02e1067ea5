"""MV06: a product is asked for no more than the wall needs, or the project says why.

A measured value of a product that the project states becomes what every product must meet. Where it is stricter than
code, practice and calculation ask for, it excludes products that would do. The reason stands in `because`.

Right::

    - role: barrier
      kind: fluid-applied
      air_permeance: 0.001 cfm/ft2 @ 75 Pa
      because: {air_permeance: "the Owner asks for half of what the code allows"}

Wrong::

    - role: barrier
      kind: fluid-applied
      air_permeance: 0.001 cfm/ft2 @ 75 Pa
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component, Stated
from specgen.model.requirement import Requirement
from specgen.requirements.judge import Standing, judge
from specgen.rules.hold import words
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.units.quantity import Quantity
from specgen.wall.specified import new_work

RULE = Rule(
    severity=Severity.QUERY,
    applies_to="every component",
    reason="A value copied from one product excludes the others, without anybody having decided it.",
    basis=("product.not_narrowed",),
    remedy="Ask for what the wall needs. Leave the line out, or say in `because` why no less will do.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Every measured value of a component that is stricter than what is asked for without it."""
    at = (wall.project, wall.parapet, wall.practice)
    # What stands is no choice, and what a product states is its own.
    own = [part for part in wall.parapet.components() if new_work(*at, part)]
    asked = wall.requirements.at_parapet(wall.parapet.name)
    found = [
        (part, one) for part in own for one in asked if one.role == part.role and _excludes(wall, part, one)
    ]
    idle = [(part, name) for part in own for name in part.because if _idle(part, name)]
    for part, name in idle:
        message = f"`because` gives a reason for `{name}` of the {part.role}, which is not stated"
        yield fail(message, part.mark, part.id)
    if not found and not idle:
        yield not_applicable("no measured value is stated stricter than asked for")
    for part, requirement in found:
        yield _reasoned(wall, part, requirement)


def _idle(part: Component, name: str) -> bool:
    """Whether a reason stands without the value that it is for."""
    return not part.states(name) and name not in part.doubted


def _excludes(wall: Wall, part: Component, requirement: Requirement) -> bool:
    """Whether a part states a measured value that what is asked for without it would not meet."""
    name, floor = requirement.attribute, requirement.floor
    field = wall.practice.vocabulary.roles[part.role].fields.get(name)
    if field is None or not field.method or floor is None or requirement.stage != "product":
        return False
    if requirement.origin.kind != "choice" or not part.states(name):
        return False
    if not requirement.holds_at(wall.parapet.name, part.id) or not isinstance(floor.stated, Quantity):
        return False
    return judge(requirement, Stated(floor.stated), wall.practice).standing is Standing.MISSED


def _reasoned(wall: Wall, part: Component, requirement: Requirement) -> RuleResult:
    name, floor = requirement.attribute, requirement.floor
    assert floor is not None and isinstance(floor.value, Quantity)
    asked = wall.limit(floor.value, floor.comparison)
    message = (
        f"{requirement.title} of the {part.role} is {words(part.values[name])}; asked for without it: {asked}"
    )
    if (why := part.because.get(name)) is not None:
        return ok(f"{message}; because {why}", part.at(name), part.id)
    return fail(f"{message}; no reason is given", part.at(name), part.id)
