"""TF05: no fastener passes the flashing on the flat top.

Under a metal coping nothing needs to be fastened through the flat top. A fastener there is a defect; one that is
sealed is a risk, because its seal cannot be seen again. Anchors of a stone coping are looked at by CP15.

Right::

    - role: top flashing
      kind: self-adhered butyl
      fasteners_through: no

Wrong::

    - role: top flashing
      kind: self-adhered butyl
      fasteners_through: yes
      fasteners_sealed: no
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import Held, each_layer, rule_of
from specgen.rules.rule import RuleResult, not_applicable
from specgen.rules.wall import Wall

RULE = rule_of(
    "flashing.no_fasteners",
    name="fasteners through the flat top",
    severity=Severity.DEFECT,
    remedy="Move the fasteners to the faces. Where one must stay on the top, seal it below a gasketed washer.",
)


@each_layer("top flashing")
def check(wall: Wall, flashing: Component) -> Iterator[RuleResult]:
    """Fasteners through the flat top, and whether they are sealed."""
    coping = wall.part("coping")
    if coping is None or not wall.kind(coping).metal:
        yield not_applicable("no membrane lies under a metal coping")
        return
    sealed = flashing.flag("fasteners_sealed") is True
    how = "sealed" if sealed else "not sealed" if flashing.has("fasteners_sealed") else "not stated as sealed"
    passing = Held(RULE.holds, f"fasteners pass the top flashing on the flat top, {how}")
    yield from passing.at(wall, flashing, severity=Severity.RISK if sealed else None)
