"""BK02: metal at treated blocking withstands the preservative.

Holds the fasteners into treated wood against their requirement, and looks whether coping or cleat lies bare against
the wood: with no membrane between, aluminum is a defect, thin zinc a risk. A tape at an edge is no membrane between.

Right::

    - role: blocking
      kind: preservative-treated wood
      fasteners: hot-dip galvanized steel

Wrong::

    - role: blocking
      kind: preservative-treated wood
      fasteners: electrogalvanized steel
"""

from collections.abc import Iterator
from dataclasses import replace

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.practice.compatibility import may_touch
from specgen.rules.held import each_layer
from specgen.rules.hold import hold
from specgen.rules.rule import Rule, RuleResult, not_applicable, ok
from specgen.rules.top.contact import contact_result
from specgen.rules.wall import Wall
from specgen.wall.facts import TREATED

RULE = Rule(
    name="treated blocking",
    severity=Severity.DEFECT,
    applies_to="blocking",
    reason="Copper in the preservative eats aluminum and thin zinc wherever the wood stays damp.",
    basis=("blocking.fasteners", "blocking.bare_metal", "table compatibility"),
    remedy="Use hot-dip galvanized or stainless fasteners, and keep bare aluminum and zinc off the wood by the membrane.",
)
NARROW = ("bridging tape", "cleat")  # they cover an edge of the wood and leave the rest bare


@each_layer("blocking")
def check(wall: Wall, blocking: Component) -> Iterator[RuleResult]:
    """Fasteners into the wood, then the metals that could lie against it."""
    if blocking.kind != TREATED:
        yield not_applicable("no treated blocking is described")
        return
    yield hold(wall, "blocking.fasteners", blocking)
    for role in ("cleat", "coping"):
        part = wall.part(role)
        if part is not None and part.has("metal"):
            yield _against(wall, part, blocking)


def _against(wall: Wall, part: Component, blocking: Component) -> RuleResult:
    metal = part.word("metal") or ""
    meeting = f"{part.role} of {metal} against treated blocking"
    at = part.at("metal")
    if part.flag("separated") or _apart(wall, part, blocking):
        message = f"{meeting}: another layer lies between"
        return ok(message, at, part.id, basis=("blocking.bare_metal",))
    touch = may_touch(wall.practice, metal, TREATED)
    result = contact_result(touch, meeting, ", nothing between", "", at, part.id)
    return replace(result, without=("top flashing",))


def _apart(wall: Wall, part: Component, blocking: Component) -> bool:
    """Whether a layer over the whole top lies between a metal part and the blocking."""
    top = wall.parapet.top
    first, last = sorted((top.index(part), top.index(blocking)))
    return any(one.role not in NARROW for one in top[first + 1 : last])
