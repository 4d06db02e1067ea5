"""RT05: a bituminous membrane turns up over a cant strip.

A bituminous membrane needs a cant strip at the foot of the parapet. A single-ply sheet is turned up without one:
a cant strip stated there is a question, because the manufacturer's detail decides. A fluid-applied membrane takes either.

Right::

    - role: roof turn-up
      kind: SBS-modified bitumen
      cant: cant strip

Wrong::

    - role: roof turn-up
      kind: SBS-modified bitumen
      cant: none
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import Held, each_layer, rule_of
from specgen.rules.rule import RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.wall.facts import turn_up_bituminous

RULE = rule_of(
    "turnup.cant",
    name="cant at the base flashing",
    severity=Severity.RISK,
    remedy="Set a cant strip under a bituminous base flashing; omit it under a single ply, or follow its manufacturer.",
    basis=("turnup.cant", "turnup.cant_single_ply"),
)
CANT = Held(RULE.holds)


@each_layer("roof turn-up")
def check(wall: Wall, turn_up: Component) -> Iterator[RuleResult]:
    """The cant, by the kind of membrane."""
    if turn_up_bituminous(wall):
        yield from CANT.at(wall, turn_up)
    elif turn_up.kind == "fluid-applied":
        yield not_applicable("a fluid-applied base flashing takes a cant or none")
    elif turn_up.word("cant") == "cant strip":
        message = f"a cant strip under a {turn_up.kind} base flashing: the detail of its manufacturer decides"
        at, basis = turn_up.at("cant"), ("turnup.cant_single_ply",)
        yield fail(message, at, turn_up.id, Severity.QUERY, basis=basis)
    else:
        message = f"a {turn_up.kind} base flashing needs no cant strip"
        yield ok(message, turn_up.at("cant"), turn_up.id, basis=("turnup.cant_single_ply",))
