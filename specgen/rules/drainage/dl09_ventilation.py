"""DL09: a gap that dries by ventilation is open at its top and at its bottom.

Looks at parapets that count on drying by ventilation (`ventilated_drying`). Air moves through a gap with two
openings; one opening drains and does not ventilate. The depth that ventilation needs is held by DL02; here
it must be stated, because a drainage efficiency says nothing of air.

Right::

    ventilated_drying: yes
    build_up:
      - role: drainage layer
        kind: dimpled sheet
        depth: 7/16 in
        open_at_top: yes

Wrong::

    ventilated_drying: yes
    build_up:
      - role: drainage layer
        kind: dimpled sheet
        depth: 7/16 in
        open_at_top: no
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.requirements.catalogue_file import Beside
from specgen.requirements.weigh import of_rule
from specgen.rules.held import each_layer
from specgen.rules.hold import not_stated
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.wall.facts import ventilation_counted

RULE = Rule(
    name="ventilation openings",
    severity=Severity.RISK,
    applies_to="drainage layer",
    reason="Air moves through a gap with two openings; one opening drains and does not ventilate.",
    basis=("drainage.ventilation_open", "drainage.ventilation_depth"),
    remedy="Leave a screened opening under the coping, or do not count on drying by ventilation.",
)

REMOVED = Beside(
    "gap ventilation.removed",
    "vapor that the air can carry off in one afternoon",
    "the rule of thumb governs the depth, no limit is stated for the vapor carried off",
)


@each_layer("drainage layer")
def check(wall: Wall, layer: Component) -> Iterator[RuleResult]:
    """The opening at the top and the depth, where ventilation is counted on."""
    if not ventilation_counted(wall):
        yield not_applicable("drying by ventilation of the gap is not counted on")
        return
    least = wall.practice.quantity("drainage.ventilation_depth")
    because = (
        "drying by ventilation is counted on",
        *of_rule(wall, "drainage.ventilation_depth", f"at least {wall.limit(least, 'at least')}", REMOVED),
    )
    if not layer.has("open_at_top"):
        yield not_stated("opening of the gap at its top", layer, "open_at_top", layer.id, because)
    else:
        open_there = layer.flag("open_at_top")
        say = ok if open_there else fail
        message = f"the gap is {'open' if open_there else 'closed'} at its top"
        yield say(message, layer.at("open_at_top"), layer.id, because=because)
    if not layer.has("depth"):
        yield not_stated("depth of the gap", layer, "depth", layer.id, because)
