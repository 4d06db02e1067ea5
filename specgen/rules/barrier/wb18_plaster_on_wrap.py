"""WB18: plaster does not bear on the one wrap that keeps the water out.

Looks at each wrap (a fastened sheet, woven or reinforced) and at what lies next outside it. Where that is lath or
plaster, and the wrap is one layer with no other barrier behind it, wet plaster presses its surfactants and its bond into
the very sheet that must keep the water out. A drainage layer, insulation, or a second sheet in front of it answers this.

Right::

    - role: plaster
      kind: portland cement plaster
    - role: drainage layer
      kind: dimpled sheet
    - role: barrier
      kind: reinforced wrap

Wrong::

    - role: plaster
      kind: portland cement plaster
    - role: barrier
      kind: reinforced wrap
      layers: 1
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.wall.facts import WRAPS

RULE = Rule(
    severity=Severity.RISK,
    applies_to="barrier",
    reason="Surfactants of wet plaster make a wrap leak, and plaster that bonds to it closes the way down.",
    basis=("barrier.plaster_on_wrap",),
    remedy="Set a drainage layer between plaster and wrap, or two layers of the sheet, the outer one to be spent.",
)
PRESSES = ("plaster", "lath")


def check(wall: Wall) -> Iterator[RuleResult]:
    """Each wrap with what lies next outside it."""
    wraps = [part for part in wall.parapet.all_of("barrier") if part.kind in WRAPS]
    if not wraps:
        yield not_applicable("no barrier is a wrap")
    for part in wraps:
        yield _outside(wall, part)


def _outside(wall: Wall, wrap: Component) -> RuleResult:
    parts = wall.parapet.build_up
    at = parts.index(wrap)
    outer = next((one for one in reversed(parts[:at]) if one.role != "weep screed"), None)
    if outer is None or outer.role not in PRESSES:
        between = f"{outer.role} lies outside it" if outer else "nothing lies outside it"
        return ok(f"no plaster bears on the {wrap.kind}: {between}", wrap.mark, wrap.id)
    if any(one.role == "barrier" for one in parts[at + 1 :]):
        return ok(f"another barrier stands behind the {wrap.kind}", wrap.mark, wrap.id)
    if not wrap.has("layers"):
        return not_stated(f"number of layers of the {wrap.kind}", wrap, "layers", wrap.id)
    if wrap.values["layers"] != 1:
        return ok(f"the outer layer of the {wrap.kind} is there to be spent", wrap.at("layers"), wrap.id)
    message = f"{outer.role} bears on the {wrap.kind}, the one line against water"
    return fail(message, wrap.at("layers"), wrap.id, without=("drainage layer",))
