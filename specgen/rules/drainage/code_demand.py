"""What the adopted code asks of the drainage behind plaster: each edition says something else."""

from dataclasses import dataclass

from specgen.requirements.judge import meets
from specgen.rules.wall import Wall
from specgen.wall.code import beyond_rules

FIRST_WITH_VENTED_SPACE = 2018
FIRST_WITH_MOISTURE_REGIMES = 2021
REGIME_WORDS = {"A": "moist", "B": "dry", "C": "marine"}


@dataclass(frozen=True)
class Demand:
    """Whether the code asks for drainage; None where the project does not say enough."""

    asks: bool | None
    because: tuple[str, ...] = ()
    missing: str = ""
    keys: tuple[str, ...] = ()  # practice entries of the edition's own text


def drainage_demand(wall: Wall) -> Demand:
    """Whether the adopted code asks for a drainage space at this parapet.

    Editions to 2015 have the two-layer rule alone (:func:`two_layer_facts`); 2018 asks in hot and warm moist
    zones; 2021 and later in every moist and marine zone. All of them over wood-based sheathing only.
    """
    if beyond := beyond_rules(wall.project):
        return Demand(False, (f"not covered {beyond}",))
    boards = wall.parapet.all_of("sheathing")
    if wall.parapet.word("inner_face") != "stucco":
        boards = boards[:1]  # the board behind the plaster; the roof side's is not
    if boards and not any(wall.kind(board).wood for board in boards):
        return Demand(False)
    if not boards:
        return Demand(None, missing=f"parapet `{wall.parapet.name}`: add the `sheathing` to `build_up`")
    facts: tuple[str, ...] = ("wood-based sheathing",)
    if wall.edition is None:
        return Demand(None, facts, "add `site.code`")
    facts = (*facts, f"IBC {wall.edition}")
    if wall.edition < FIRST_WITH_VENTED_SPACE:
        return Demand(False, facts)
    zone = wall.project.site.word("climate_zone")
    if zone is None:
        return Demand(None, facts, "add `site.climate_zone`")
    key = "drainage.code_zones_2018" if wall.edition < FIRST_WITH_MOISTURE_REGIMES else "drainage.code_zones"
    named = wall.practice.entry(key).words()
    asks = zone in named or zone[-1] in named  # the zone itself, or its moisture regime
    return Demand(asks, (*facts, zone_words(zone)), keys=(key,))


def zone_words(zone: str) -> str:
    """A climate zone with its moisture regime.

    >>> zone_words("4A"), zone_words("7")
    ('climate zone 4A, moisture regime A (moist)', 'climate zone 7')
    """
    regime = REGIME_WORDS.get(zone[-1])
    return f"climate zone {zone}" + (f", moisture regime {zone[-1]} ({regime})" if regime else "")


def two_layer_facts(wall: Wall) -> tuple[str, ...]:
    """The facts by which the two-layer rule is broken where there is no drainage layer; empty if it is not."""
    demand = drainage_demand(wall)
    if demand.asks is not False or "wood-based sheathing" not in demand.because:
        return ()
    stated = [barrier.values.get("layers", 1) for barrier in wall.parapet.all_of("barrier")]
    layers = sum(count for count in stated if isinstance(count, int))
    wanted = wall.practice.entry("barrier.independent_layers")
    if meets(layers, "at least", wanted):
        return ()
    return (*demand.because, f"{layers} of {wanted.quantity().text} layers of barrier behind the plaster")
