"""CP15: a stone or precast coping is anchored through a sealed membrane.

Holds anchors, their seal at the membrane, stated at the coping or at the flashing, and the joints between the stones.
No anchor at all is a defect: the stone can fall. The membrane itself is looked at by TF01, the drips by CP03.

Right::

    - role: coping
      kind: stone
      anchors: stainless steel
      anchors_sealed: yes
      joint: sealed over a backer

Wrong::

    - role: coping
      kind: stone
      anchors: none
      anchors_sealed: no
      joint: mortar
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.hold import hold
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable
from specgen.rules.wall import Wall
from specgen.wall.facts import coping_stone

RULE = Rule(
    severity=Severity.RISK,
    applies_to="coping",
    reason="The joints of a stone coping leak from the first winter on; the membrane below is the roof of the parapet.",
    basis=("coping.anchors", "coping.anchors_sealed", "coping.stone_joint"),
    remedy="Set the stones on stainless anchors sealed at the membrane, and seal the joints over a backer.",
)


@each_layer("coping")
def check(wall: Wall, coping: Component) -> Iterator[RuleResult]:
    """Anchors, their seal, and the joints."""
    if not coping_stone(wall):
        yield not_applicable("no stone or precast coping is described")
        return
    severity = Severity.DEFECT if coping.word("anchors") == "none" else Severity.RISK
    yield hold(wall, "coping.anchors", coping, severity=severity)
    if coping.word("anchors") != "none":
        wrong = "anchors of the coping are not sealed where they pass the membrane"
        yield hold(wall, "coping.anchors_sealed", coping, wrong)
    yield hold(wall, "coping.stone_joint", coping, because=(f"{coping.kind} coping",))
    flashing = wall.part("top flashing")
    if flashing and flashing.flag("fasteners_through") and flashing.flag("fasteners_sealed") is False:
        wrong, at = "fasteners pass the top flashing and are not sealed", flashing.at("fasteners_sealed")
        yield fail(wrong, at, flashing.id, basis=("coping.anchors_sealed",))
