"""WB07: the film of a fluid-applied barrier is as thick as its maker states.

Asks for two values: the dry film thickness of the project, and the least that the maker states for this use.
Tests of tightness, adhesion and crack bridging hold for the film they were made on.

Right::

    - role: barrier
      kind: fluid-applied
      thickness: 40 mil
      least_thickness: 40 mil

Wrong::

    - role: barrier
      kind: fluid-applied
      thickness: 20 mil
      least_thickness: 40 mil
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Rule, RuleResult, not_applicable, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    code="WB07",
    name="film thickness",
    title="The film of a fluid-applied barrier is as thick as its maker states",
    severity=Severity.RISK,
    applies_to="barrier",
    reason="Tightness and crack bridging are tested at a film thickness, and hold for no thinner film.",
    basis=("barrier.film_thickness",),
    remedy="Specify the thickness the maker states, and check the wet film as it is applied.",
)
NEEDED = ("thickness", "least_thickness")


def check(wall: Wall) -> Iterator[RuleResult]:
    """Both thicknesses, then one against the other."""
    barrier = wall.barrier
    if barrier is None or barrier.kind != "fluid-applied":
        yield not_applicable("no fluid-applied barrier is described")
        return
    lacking = ", ".join(f"`{name}`" for name in NEEDED if not barrier.has(name))
    if lacking:
        message, missing = "dry film thickness is not fully stated", f"layer `{barrier.id}`: add {lacking}"
        yield unknown(message, missing, barrier.mark, barrier.id)
    else:
        yield hold(wall, "barrier.film_thickness", barrier)
