"""RT10: no flame and no hot bitumen is used at what burns or melts.

Where the base flashing is torched or set in hot asphalt, judges what it lies on, and the blocking at the top where the
base flashing ends under the top flashing, by the table of families in heat. A bituminous base flashing next to wood or
foam whose application is not stated is unknown.

Right::

    - role: roof turn-up
      kind: SBS-modified bitumen
      application: self-adhered

Wrong::

    - role: roof turn-up
      kind: SBS-modified bitumen
      application: torched
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.practice.compatibility import Judgement, may_touch
from specgen.rules.held import each_layer
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, RuleResult, not_applicable, ok
from specgen.rules.top.contact import WEIGHT, contact_result
from specgen.rules.wall import Wall
from specgen.wall.facts import turn_up_bituminous

RULE = Rule(
    name="flame at the base flashing",
    severity=Severity.DEFECT,
    applies_to="roof turn-up",
    reason="A fire that starts in a parapet smolders behind the membrane and is found when it is in the roof.",
    basis=("turnup.no_flame", "table compatibility"),
    remedy="Bond the ply on wood and foam without flame: self-adhered, or in cold adhesive.",
)
HOT = ("torched", "hot asphalt")


@each_layer("roof turn-up")
def check(wall: Wall, turn_up: Component) -> Iterator[RuleResult]:
    """How the base flashing is bonded, then what the heat reaches."""
    application = turn_up.word("application")
    if application is None and not turn_up_bituminous(wall):
        yield not_applicable(f"a {turn_up.kind} base flashing is not bonded with heat")
    elif application is None:
        burning = [part for part, known in _reached(wall, turn_up) if known.answer in WEIGHT]
        if burning:
            what = f"whether flame or hot bitumen is used beside the {burning[0].role} ({burning[0].kind})"
            yield not_stated(what, turn_up, "application", turn_up.id)
        else:
            yield not_applicable("nothing that burns is described at the base flashing")
    elif application not in HOT:
        yield ok(f"the base flashing is {application}", turn_up.at("application"), turn_up.id)
    else:
        for part, known in _reached(wall, turn_up):
            meeting = f"{application} base flashing beside the {part.role} ({part.kind})"
            yield contact_result(known, meeting, "", "", turn_up.at("application"), turn_up.id)


def _reached(wall: Wall, turn_up: Component) -> Iterator[tuple[Component, Judgement]]:
    """What the heat reaches, judged: the layer behind the base flashing, the blocking above it."""
    layers = wall.parapet.build_up
    behind = layers[: layers.index(turn_up)][-1:]
    above = wall.parapet.all_of("blocking") if turn_up.word("termination") == "under the top flashing" else ()
    for part in (*behind, *above):
        if (family := wall.family(part)) is not None:
            yield part, may_touch(wall.practice, wall.family(turn_up) or "", family, adjacency="heat")
