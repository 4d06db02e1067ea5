"""CP11: fasteners of a metal coping.

Holds three values of a metal coping: no fastener exposed on the top, the inner leg fastened through slotted holes
with gasketed washers, and the spacing of these fasteners.

Right::

    - role: coping
      kind: formed metal
      exposed_fasteners: no
      inner_fasteners: slotted and gasketed
      inner_fastener_spacing: 24 in

Wrong::

    - role: coping
      kind: formed metal
      exposed_fasteners: yes
      inner_fasteners: without gaskets
      inner_fastener_spacing: 36 in
"""

from __future__ import annotations

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.hold import hold
from specgen.rules.rule import Option, Rule, RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = Rule(
    code="CP11",
    name="coping fasteners",
    title="The coping has no exposed fastener on top and a free inner leg",
    severity=Severity.RISK,
    applies_to="coping",
    reason="A fastener on the top is a hole in it; one that holds the inner leg fast shears when the metal moves.",
    basis=("coping.exposed_fasteners", "coping.inner_fasteners", "coping.inner_fastener_spacing"),
    remedy="Hold the coping by its cleat and by gasketed fasteners in slotted holes of the inner leg.",
    options=(
        Option(
            "inner spacing", "length", "coping.inner_fastener_spacing", "greatest spacing at the inner leg"
        ),
    ),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Exposed fasteners, kind and spacing of those of the inner leg."""
    coping = wall.part("coping")
    if coping is None or not wall.kind(coping).metal:
        yield not_applicable("no metal coping is described")
        return
    wrong = "fasteners are exposed on the top of the coping"
    yield hold(wall, "coping.exposed_fasteners", coping, wrong)
    yield hold(wall, "coping.inner_fasteners", coping)
    yield hold(wall, "coping.inner_fastener_spacing", coping)
