"""HM02: the mold index of the hours stays below its limit, with the leak of the criterion on the barrier.

Looks at the kept hourly result of each cut (parapet at mid-height, top, wall below the roof) with the share of the
driving rain on the barrier that the criterion lets in. An index at its limit or above is a defect. A wall that grows mold
though no rain is let in at all is no milder case: it has no leak to mend. An index that stays below its limit and still
rises at the end of the years that were run is a risk, for its end was not seen; so is one that comes as near to its limit
as the calculation is uncertain.

Right::

    build_up:
      - role: sheathing
        kind: glass-mat gypsum

Wrong::

    build_up:
      - role: sheathing
        kind: OSB
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.hourly import CutHours, LeakRun
from specgen.rules.hourly.kept import INDEX, each_cut, layer_of, leak_words, number_beside, place_words
from specgen.rules.rule import Option, Rule, RuleResult, fail, ok
from specgen.rules.wall import Wall
from specgen.units.compare import computed_at_least

SETTLED = "hourly.settled_mold"
RULE = Rule(
    name="mold index of the hours",
    severity=Severity.DEFECT,
    applies_to="parapet",
    reason="What grows on sheathing and blocking year after year takes their strength, and comes into the rooms.",
    basis=(INDEX, "gap.leak_share"),
    remedy="Let the wall dry: a drainage layer with air, a vapor-open barrier, or a sheathing that feeds no mold. "
    "Keep the rain out at the coping joints.",
    options=(Option("index", INDEX, "mold index that a surface stays below"),),
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The greatest index of each cut."""
    yield from each_cut(wall, _cut)


def _cut(wall: Wall, cut: CutHours, run: LeakRun) -> Iterator[RuleResult]:
    limit = wall.practice.quantity(INDEX)
    worst = max((one for one in run.places if one.mold), key=lambda one: one.mold_peak, default=None)
    if worst is None:
        yield ok(f"{cut.cut}: nothing behind the barrier feeds mold")
        return
    mark, layer = layer_of(wall, worst)
    index = f"mold index {number_beside(worst.mold_peak, limit)}, asked for: below {limit.text}"
    because = (leak_words(wall, cut),)
    moved = number_beside(cut.unsure_mold, limit)
    if computed_at_least(worst.mold_peak, limit.value):
        surely = computed_at_least(worst.mold_peak - cut.unsure_mold, limit.value)
        unsure = "" if surely else f", and it is uncertain by {moved}"
        yield fail(f"{place_words(cut, worst)}: {index}{unsure}", mark, layer, because=because)
    elif rising := _rising(wall, run):
        where = ", ".join(rising)
        message = f"{place_words(cut, worst)}: {index}; after {run.years} years it still rises at: {where}"
        yield fail(message, mark, layer, Severity.RISK, because)
    elif computed_at_least(worst.mold_peak + cut.unsure_mold, limit.value):
        message = f"{place_words(cut, worst)}: {index}, and it is uncertain by {moved}"
        yield fail(message, mark, layer, Severity.RISK, because)
    else:
        yield ok(f"{place_words(cut, worst)}: {index}", mark, layer, because)


def _rising(wall: Wall, run: LeakRun) -> list[str]:
    """The places whose index rose in the last year by more than counts as settled."""
    settled = wall.practice.quantity(SETTLED).value
    return [
        one.name
        for one in run.places
        if len(one.mold) > 1 and not computed_at_least(settled, one.mold[-1] - one.mold[-2])
    ]
