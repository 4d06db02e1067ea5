"""HM03: wood behind the barrier does not stay wet through the hours of the year.

Looks at the kept hourly result of each cut, with the share of the driving rain on the barrier that the criterion lets in.
Wood above the moisture of decay in the last year is a defect, and so is wet wood that is wetter in each year than in the
one before. Wood that is wet for longer than a wet season is a risk.

Right::

    build_up:
      - role: barrier
        kind: fluid-applied
        vapor_permeance: 14 perm

Wrong::

    build_up:
      - role: barrier
        kind: self-adhered
        vapor_permeance: 0.05 perm
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.hourly import WOOD, CutHours, LeakRun, PlaceHours
from specgen.rules.hourly.kept import each_cut, layer_of, leak_words, number_beside, place_words
from specgen.rules.rule import Option, Rule, RuleResult, fail, ok
from specgen.rules.wall import Wall
from specgen.units.compare import computed_at_least
from specgen.units.counted import many

WET, DECAY, TIME, SETTLED = "hours.wood_wet", "hours.wood_decay", "hours.wet_time", "hourly.settled_moisture"
RULE = Rule(
    name="wood moisture of the hours",
    severity=Severity.DEFECT,
    applies_to="parapet",
    reason="Wood that is wet for a season loses its strength and its hold on fasteners before anyone sees it.",
    basis=(WET, DECAY, TIME, "gap.leak_share"),
    remedy="Let the wall dry: a drainage layer with air, a vapor-open barrier. Keep the rain out at the coping joints.",
    options=(
        Option("decay", DECAY, "moisture content of wood by mass above which it decays"),
        Option("wet", WET, "moisture content of wood by mass above which it is wet"),
        Option("time", TIME, "time of a year that wood may be wet"),
    ),
)
HOUR = 3600.0  # s


def check(wall: Wall) -> Iterator[RuleResult]:
    """Every place of wood behind the barrier; of those that are right, the wettest of each cut."""
    yield from each_cut(wall, _cut)


def _cut(wall: Wall, cut: CutHours, run: LeakRun) -> Iterator[RuleResult]:
    wood = [one for one in run.places if one.sort == WOOD and one.mold and one.moisture_peak is not None]
    wrong = [found for one in wood if (found := _wrong(wall, cut, run, one))]
    yield from wrong
    if not wood:
        yield ok(f"{cut.cut}: no wood stands behind the barrier")
    elif not wrong:
        worst = max(wood, key=lambda one: one.moisture_peak or 0.0)
        mark, layer = layer_of(wall, worst)
        yield ok(f"{place_words(cut, worst)}: {_peak(wall, worst)}", mark, layer, (leak_words(wall, cut),))


def _wrong(wall: Wall, cut: CutHours, run: LeakRun, place: PlaceHours) -> RuleResult | None:
    mark, layer = layer_of(wall, place)
    decay, wet, time = (wall.practice.quantity(key) for key in (DECAY, WET, TIME))
    settled = wall.practice.quantity(SETTLED).value
    where, because = f"{place_words(cut, place)}: {_peak(wall, place)}", (leak_words(wall, cut),)
    rise = place.peaks[-1] - place.peaks[-2] if len(place.peaks) > 1 else 0.0
    if place.hours_28:
        message = f"{where}, {_days(place.hours_28)} of the last year above {decay.text}, where it decays"
        return fail(message, mark, layer, because=because)
    if run.growing and place.hours_20 and not computed_at_least(settled, rise):
        message = (
            f"{where}; it is above {wet.text}, and after {run.years} years each is wetter than the one before"
        )
        return fail(message, mark, layer, because=because)
    if place.hours_20 and not computed_at_least(time.value, place.hours_20 * HOUR):
        message = f"{where}, {_days(place.hours_20)} of the last year above {wet.text}; accepted: {time.text}"
        return fail(message, mark, layer, Severity.RISK, because)
    return None


def _peak(wall: Wall, place: PlaceHours) -> str:
    share = number_beside(place.moisture_peak or 0.0, wall.practice.quantity(DECAY))
    return f"at most {share} of its mass is water"


def _days(hours: int) -> str:
    return many(round(hours / 24), "day")
