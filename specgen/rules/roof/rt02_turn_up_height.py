"""RT02: the roof membrane turns up high enough, and is the membrane of the roof.

Holds the height of the base flashing against its requirement, and compares its kind with the membrane named for
the field of the roof. Two kinds are a question to the project: the seam between them is not described.

Right::

    - role: roof turn-up
      kind: TPO
      height: 12 in

Wrong::

    - role: roof turn-up
      kind: TPO
      height: 6 in
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import Held, rule_of
from specgen.rules.remedy import Remedy, SetKind, Stated
from specgen.rules.rule import RuleResult, fail, ok, unknown
from specgen.rules.wall import Wall

RULE = rule_of(
    "turnup.height",
    name="base flashing height",
    severity=Severity.RISK,
    remedy="Carry the roof membrane higher on the parapet; name one membrane for roof and parapet.",
    basis=("turnup.height", "turnup.same_membrane"),
)
REMEDIES: tuple[Remedy, ...] = ((SetKind("roof turn-up", Stated("building", "roof_membrane")),),)
HEIGHT = Held(("turnup.height",))


def check(wall: Wall) -> Iterator[RuleResult]:
    """Height against its requirement, kind against the roof's."""
    yield from HEIGHT(wall)
    for turn_up in wall.parapet.all_of("roof turn-up"):
        yield _same_membrane(wall, turn_up)


def _same_membrane(wall: Wall, turn_up: Component) -> RuleResult:
    field, basis = wall.project.building.word("roof_membrane"), ("turnup.same_membrane",)
    mark = turn_up.at("kind")
    if field is None:
        message = "the roof membrane in the field of the roof is not stated"
        return unknown(message, "add `building.roof_membrane`", mark, turn_up.id, basis=basis)
    message = f"base flashing is {turn_up.kind}, the roof membrane is {field}"
    if field == turn_up.kind:
        here, there = wall.family(turn_up), wall.project.building.word("roof_membrane_family")
        if there is None and not wall.practice.kind("roof turn-up", field).family:
            of_what = f"{message}, of a material family that is not stated"
            return unknown(of_what, "add `building.roof_membrane_family`", mark, turn_up.id, basis=basis)
        if None in (here, there) or here == there:
            return ok(message, mark, turn_up.id, basis=basis)
        message = f"base flashing is {turn_up.kind}, {here}; the roof membrane is {there}"
    return fail(f"{message}: confirm the seam", mark, turn_up.id, Severity.QUERY, basis=basis)
