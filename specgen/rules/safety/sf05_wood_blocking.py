"""SF05: wood blocking in noncombustible construction is answered by the authority.

In Types I and II the code permits blocking of wood for purposes that it names, and a parapet is none of them; opinions
differ on whether it counts. The tool asks, once, and never decides: `building.wood_blocking` records the answer.

Right::

    building:
      construction_type: II-B
      wood_blocking: accepted by the building official, letter of 2 November

Wrong::

    building:
      construction_type: II-B
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.wall.code import NONCOMBUSTIBLE, construction_of

RULE = Rule(
    name="wood blocking in noncombustible construction",
    severity=Severity.QUERY,
    applies_to="blocking",
    reason="Where the structure does not burn, wood at the roof's edge is for the authority to accept.",
    basis=("fire.blocking",),
    remedy="Ask the authority having jurisdiction and record the answer: `building.wood_blocking`.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The type of construction, then the recorded answer."""
    building, blocking = wall.project.building, wall.part("blocking")
    answer, type_ = building.word("wood_blocking"), construction_of(wall.project)
    if blocking is None:
        yield not_applicable("no blocking is described")
    elif type_ not in NONCOMBUSTIBLE:
        yield not_applicable("the type of construction is not stated as I or II")
    elif answer:
        yield ok(f"answer on wood blocking: {answer}", building.at("wood_blocking"))
    else:
        message = f"blocking of {blocking.kind} in construction of Type {type_}; `building.wood_blocking` is not stated"
        yield fail(message, blocking.at("kind"), blocking.id)
