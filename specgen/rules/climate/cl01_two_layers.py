"""CL01: plaster over wood has the layers of barrier that the adopted code asks for.

Editions to 2018 ask everywhere for two layers of barrier behind plaster over wood-based sheathing, or for one
layer kept apart from the plaster by a drainage space. Editions 2021 and later ask for it in dry climates; in
moist and marine ones they ask for a drainage space on top of it (DL01, DL02). A single layer then has to resist
water as one layer of ASTM E2556 type II does, which this rule does not look at.

Right::

    - role: drainage layer
      kind: dimpled sheet
    - role: barrier
      kind: self-adhered

Wrong::

    site: {climate_zone: 5B}
    build_up:
      - role: plaster
        kind: portland cement plaster
      - role: barrier
        kind: self-adhered
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.drainage.code_demand import (
    FIRST_WITH_MOISTURE_REGIMES,
    drainage_demand,
    two_layer_facts,
    zone_words,
)
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.code import beyond_rules

RULE = Rule(
    name="two layers of barrier",
    severity=Severity.DEFECT,
    applies_to="barrier",
    reason="Plaster bonds to the outer layer; the inner one stays free to drain.",
    basis=("barrier.independent_layers",),
    remedy="Set a drainage layer between plaster and barrier, or a second layer of barrier.",
    options=(Option("layers", "barrier.independent_layers", "least number of layers"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Edition and climate first, then the layers."""
    zone, edition = wall.project.site.word("climate_zone"), wall.edition
    covered = not beyond_rules(wall.project)
    if not wall.plastered or not any(wall.kind(board).wood for board in wall.parapet.all_of("sheathing")):
        yield not_applicable("no plaster over wood-based sheathing is described")
    elif covered and edition is None:
        yield unknown("which layers the code asks for cannot be told", "add `site.code`")
    elif covered and edition is not None and edition >= FIRST_WITH_MOISTURE_REGIMES and not zone:
        yield unknown("which layers the code asks for cannot be told", "add `site.climate_zone`")
    elif wall.part("drainage layer"):
        yield ok("a drainage space keeps plaster and barrier apart", because=_facts(edition, zone))
    elif drainage_demand(wall).asks:
        yield not_applicable("the code asks for a drainage space here: DL01 reports it")
    elif facts := two_layer_facts(wall):
        yield fail(facts[-1], because=facts[:-1])
    else:
        yield ok("two layers of barrier stand behind the plaster", because=_facts(edition, zone))


def _facts(edition: int | None, zone: str | None) -> tuple[str, ...]:
    code = (f"IBC {edition}",) if edition else ()
    return (*code, *((zone_words(zone),) if zone else ()))
