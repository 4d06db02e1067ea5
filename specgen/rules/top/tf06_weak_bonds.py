"""TF06: where the flashing laps over another material its edge is bridged or sealed.

Looks at the laps of the top flashing over the wall barrier and over the roof turn-up. Where the two are of
different material families, a tape or a sealed edge keeps the lap closed. Whether the materials may touch at all
is looked at by TF02 and TF03.

Right::

    - between: [top flashing, roof turn-up]
      lap: 4 in
      upper: top flashing
      sealed: yes

Wrong::

    - between: [top flashing, roof turn-up]
      lap: 4 in
      upper: top flashing
      tape:
      sealed: no
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component, Transition
from specgen.rules.held import each_layer
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    name="weak bonds at the flashing",
    severity=Severity.RISK,
    applies_to="transitions",
    reason="An edge that bonds poorly curls up in the sun and opens as a fishmouth.",
    basis=("flashing.weak_bond",),
    remedy="Bridge the edge with a tape compatible with both materials, or seal the edge of the lap.",
)


@each_layer("top flashing")
def check(wall: Wall, flashing: Component) -> Iterator[RuleResult]:
    """The edge of each lap of the flashing over another material."""
    others = [part for role in ("barrier", "roof turn-up") for part in wall.parapet.all_of(role)]
    laps = [(joint, other) for other in others for joint in wall.parapet.between(flashing, other)]
    for joint, other in laps:
        yield _edge(wall, joint, flashing, other)
    if not laps:
        yield not_applicable("no lap of the top flashing is described")


def _edge(wall: Wall, joint: Transition, flashing: Component, other: Component) -> RuleResult:
    one, two = wall.family(flashing), wall.family(other)
    what = f"edge of the top flashing on the {other.role}"
    if joint.has("tape"):
        return ok(f"a tape bridges the {what}", joint.at("tape"), flashing.id)
    if one is not None and one == two:
        return ok(f"the {what} lies on its own material, {one}", joint.mark, flashing.id)
    if joint.flag("sealed"):
        return ok(f"the {what} is sealed", joint.at("sealed"), flashing.id)
    pair = f"{one or 'family not known'} on {two or 'family not known'}"
    if joint.has("sealed"):
        return fail(f"the {what} ({pair}) is neither sealed nor bridged", joint.at("sealed"), flashing.id)
    missing = f"transition between `{joint.first}` and `{joint.second}`: add `sealed` or `tape`"
    return unknown(f"how the {what} ({pair}) is kept closed is not stated", missing, joint.mark, flashing.id)
