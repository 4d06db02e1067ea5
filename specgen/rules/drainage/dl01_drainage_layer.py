"""DL01: a drainage layer stands between the plaster and the barrier.

Looks for a drainage layer in the build-up and at its place. Plaster takes up rain and cracks; what gets
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

from specgen.model.finding import Severity
from specgen.rules.drainage.code_demand import drainage_demand, two_layer_facts
from specgen.rules.remedy import DRAINAGE, DRAINED, AddPart, MovePart, Remedy
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall

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
    layer = wall.part("drainage layer")
    if layer is None:
        yield _missing(wall)
        return
    order = list(wall.parapet.build_up)
    before = order[: order.index(layer)]
    plaster, barrier = wall.part("plaster"), wall.barrier
    if (plaster and plaster not in before) or (barrier and barrier in before):
        message = "the drainage layer does not stand between the plaster and the barrier"
        yield fail(message, layer.mark, layer.id, basis=("drainage.between",))
    else:
        yield ok(f"drainage layer is {layer.kind}", layer.mark, layer.id, basis=("drainage.every_parapet",))


def _missing(wall: Wall) -> RuleResult:
    message = "no drainage layer stands behind the plaster"
    demand = drainage_demand(wall)
    if demand.asks:
        return fail(message, because=demand.because, basis=("drainage.every_parapet", *demand.keys))
    facts = two_layer_facts(wall)
    if facts:
        return fail(message, because=facts, basis=("drainage.every_parapet", "barrier.independent_layers"))
    return fail(message, basis=("drainage.every_parapet",))
