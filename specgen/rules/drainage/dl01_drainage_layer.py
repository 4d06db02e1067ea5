"""DL01: a drainage layer stands between the plaster and the barrier.

Looks for a drainage layer behind each plaster, and at its place. Plaster takes up rain and cracks; what gets
behind it must find a gap to run down in.

Right::

    - role: plaster
      kind: portland cement plaster
    - role: drainage layer
      kind: dimpled sheet
    - role: barrier
      kind: fluid-applied

Wrong::

    - role: plaster
      kind: portland cement plaster
    - role: barrier
      kind: fluid-applied
"""

from collections.abc import Iterator
from itertools import takewhile

from specgen.model.finding import Outcome, Severity
from specgen.model.project import Component
from specgen.rules.drainage.code_demand import drainage_demand, two_layer_facts
from specgen.rules.held import each_layer
from specgen.rules.remedy import DRAINAGE, DRAINED, AddPart, MovePart, Remedy
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.wall.order import roof_side, same_side

RULE = Rule(
    name="drainage layer present",
    severity=Severity.DEFECT,
    applies_to="drainage layer",
    reason="Water gets behind plaster; without a gap it stays there and is pressed against the barrier.",
    basis=(
        "drainage.every_parapet",
        "drainage.between",
        "drainage.code_zones",
        "drainage.code_zones_2018",
        "barrier.independent_layers",
    ),
    remedy="Put a drainage layer between the plaster and the barrier.",
)
REMEDIES: tuple[Remedy, ...] = (
    (DRAINAGE,),
    (AddPart("drainage layer", "mesh", (*DRAINED, ("filter_fabric", True)), ("barrier", "sheathing")),),
    (MovePart("drainage layer", "barrier"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Whether the drainage layer is there, and in its place."""
    if not wall.plastered:
        yield not_applicable("no face of the parapet is plaster")
        return
    if wall.part("drainage layer") is None:
        yield _missing(wall, "the plaster")
        return
    placed = list(_placed(wall))
    yield from placed
    if all(
        one.outcome is Outcome.PASS for one in placed
    ):  # else the layer that is in the wrong place is meant for it
        for plaster in wall.parapet.all_of("plaster"):
            if not same_side(wall.parapet, plaster, "drainage layer"):
                yield _missing(wall, f"the plaster `{plaster.id}`", plaster)


@each_layer("drainage layer")
def _placed(wall: Wall, layer: Component) -> Iterator[RuleResult]:
    """Whether a drainage layer stands behind the plaster of its side and in front of the barrier."""
    parapet = wall.parapet
    inward = reversed(parapet.build_up) if layer in roof_side(parapet, layer.role) else parapet.build_up
    before = list(takewhile(lambda part: part is not layer, inward))
    barriers = same_side(parapet, layer, "barrier")
    barrier = next((one for one in barriers if wall.kind(one).bonded), next(iter(barriers), None))
    plaster = parapet.part("plaster") is None or any(part.role == "plaster" for part in before)
    if plaster and barrier not in before:
        yield ok(f"drainage layer is {layer.kind}", layer.mark, layer.id, basis=("drainage.every_parapet",))
    else:
        message = "the drainage layer does not stand between the plaster and the barrier"
        yield fail(message, layer.mark, layer.id, basis=("drainage.between",))


def _missing(wall: Wall, what: str, plaster: Component | None = None) -> RuleResult:
    message = f"no drainage layer stands behind {what}"
    mark, layer = (plaster.mark, plaster.id) if plaster else (None, "")
    demand, facts = drainage_demand(wall), two_layer_facts(wall)
    if demand.asks:
        facts, keys = demand.because, demand.keys
    else:
        keys = ("barrier.independent_layers",) if facts else ()
    basis = ("drainage.every_parapet", *keys)
    return fail(message, mark, layer, because=facts, basis=basis, without=("drainage layer",))
