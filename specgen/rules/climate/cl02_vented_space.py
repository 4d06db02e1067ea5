"""CL02: under IBC 2018 the space behind plaster is vented in hot moist zones.

Looks at projects under the 2018 edition in climate zones 1A, 2A and 3A, over wood-based sheathing. The code
asks for a vented air space and does not define it. A space open at its bottom and its top is vented; one that is open
at its bottom alone drains and does not ventilate, and the authority having jurisdiction says whether it will do.

Right::

    site: {code: IBC 2018, climate_zone: 2A}
    build_up:
      - role: drainage layer
        kind: dimpled sheet
        open_at_top: yes
      - role: weep screed
        kind: perforated weep screed
        open: yes

Wrong::

    site: {code: IBC 2018, climate_zone: 2A}
    build_up:
      - role: weep screed
        kind: perforated weep screed
        open: no
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.drainage.code_demand import drainage_demand
from specgen.rules.hold import not_stated
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    severity=Severity.DEFECT,
    applies_to="drainage layer",
    reason="In hot moist air the sheathing behind wet plaster does not dry without a vented space.",
    basis=("drainage.code_zones_2018",),
    remedy="Leave the space open at its bottom and its top, or ask the authority having jurisdiction what vented means.",
    options=(Option("zones", "drainage.code_zones_2018", "climate zones with a vented space"),),
)
EDITION = 2018


def check(wall: Wall) -> Iterator[RuleResult]:
    """Edition and zone, then the space and its opening."""
    demand = drainage_demand(wall)
    if not wall.plastered or wall.edition != EDITION or demand.asks is False:
        yield not_applicable("no edition and climate zone that ask for a vented space")
    elif demand.asks is None:
        message = "whether the code asks for a vented space cannot be told"
        yield unknown(message, demand.missing, because=demand.because)
    else:
        yield _vented(wall, demand.because)


def _vented(wall: Wall, because: tuple[str, ...]) -> RuleResult:
    layer, screed = wall.part("drainage layer"), wall.part("weep screed")
    if layer is None:
        message = "no vented space stands behind the plaster"
        return fail(message, because=because, without=("drainage layer",))
    if screed is None or screed.flag("open") is False:
        mark = screed.at("open") if screed else layer.mark
        message, without = (
            "the space behind the plaster has no open outlet",
            () if screed else ("weep screed",),
        )
        return fail(message, mark, layer.id, because=because, without=without)
    if not screed.has("open"):
        missing = f"layer `{screed.id}`: add `open`"
        return unknown("whether the outlet is open is not stated", missing, screed.mark, because=because)
    if not layer.has("open_at_top"):
        return not_stated(
            "opening of the space behind the plaster at its top", layer, "open_at_top", layer.id, because
        )
    if layer.flag("open_at_top"):
        message = "the space behind the plaster is open at its bottom and at its top"
        return ok(message, layer.at("open_at_top"), layer.id, because)
    message = (
        "the space is open at its bottom alone: it drains, and the code does not say whether it is vented"
    )
    return fail(message, layer.at("open_at_top"), layer.id, Severity.QUERY, because)
