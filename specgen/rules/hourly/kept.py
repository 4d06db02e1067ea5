"""The kept hourly result of a wall as rules read it: only where its key is that of the wall as it is described."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from specgen.design.hourly_kept import Standing, standing
from specgen.files.marks import Mark
from specgen.model.finding import Outcome, Severity
from specgen.model.hourly import CutHours, HourlyResult, LeakRun, PlaceHours
from specgen.rules.resting import AT_LIMITS
from specgen.rules.rule import RuleResult, not_applicable, specified, unknown
from specgen.rules.wall import Wall
from specgen.units.compare import computed_at_least
from specgen.units.months import MONTH_NAMES
from specgen.units.quantity import Quantity, from_si

INDEX = "hours.mold_index"
GOVERNS = "an hourly result that holds governs over steady state, month, and design day"
WITHOUT = "no hourly result is kept that holds for this wall"
OF_THE_TOP = " of the top"  # in the name of a layer that the cut through the top has once more
Look = Callable[[Wall, CutHours, LeakRun], Iterator[RuleResult]]


def stands(wall: Wall) -> Standing:
    """How the kept result of a parapet stands; found once."""
    return wall.memo.at(standing, wall.parapet.name)


def held(wall: Wall) -> HourlyResult | None:
    """The kept result, where it holds."""
    return stands(wall).held


def run_command(wall: Wall) -> str:
    """What to run for a result that holds."""
    return f"run `specgen hourly` on the project, `--parapet {wall.parapet.name}`"


def each_cut(wall: Wall, look: Look) -> Iterator[RuleResult]:
    """What is to be said of each cut at the leak of the criterion; with what the result rests on as reasons."""
    result = held(wall)
    if result is None:
        yield not_applicable(WITHOUT)
        return
    because = rests_on(result)
    for cut in result.cuts:
        run = cut.at(0.0)
        if run is None:
            yield unknown(
                f"{cut.cut}: the kept result has no run at the leak of the criterion", run_command(wall)
            )
            continue
        for one in look(wall, cut, run):
            yield resting(wall, replace(one, because=(*because, *one.because)))


def resting(wall: Wall, result: RuleResult) -> RuleResult:
    """A pass for which the limit of a requirement was calculated with is left to the sections."""
    if stands(wall).now.on_limits and result.outcome is Outcome.PASS:
        return specified(result, f"{result.message}, {AT_LIMITS}")
    return result


def rests_on(result: HourlyResult) -> tuple[str, ...]:
    """What a kept result rests on, as facts behind a finding."""
    ran = max((run.years for cut in result.cuts for run in cut.runs), default=0)
    return (f"hours of {ran} years of {result.weather}, rain: {result.rain}", GOVERNS)


def governed(wall: Wall, result: RuleResult) -> RuleResult:
    """What a rule of thumb or a steady calculation says, beside the kept hourly result, which governs where it holds.

    A failure that the hours do not bear out stays told, as a query where they are sure of it; a pass that they overturn
    says who finds it.
    """
    kept = held(wall)
    if kept is None or result.outcome not in (Outcome.PASS, Outcome.SPECIFIED, Outcome.FAIL):
        return result
    because = (*result.because, *rests_on(kept))
    fails = [cut.cut for cut in kept.cuts if not cut.holds]
    if result.outcome is Outcome.FAIL and not fails:
        if unsure := [cut.cut for cut in kept.cuts if not _surely(wall, cut)]:
            words = (
                f"the hourly result disagrees, and is too uncertain to govern in {', '.join(unsure)} (HM02)"
            )
            return replace(result, message=f"{result.message}; {words}", because=because)
        words = "the hourly result disagrees and governs: its criterion holds in every cut"
        return replace(result, severity=Severity.QUERY, message=f"{result.message}; {words}", because=because)
    if result.outcome is not Outcome.FAIL and fails:
        words = (
            f"the hourly result disagrees and governs: its criterion fails in {', '.join(fails)} (HM02, HM03)"
        )
        return replace(result, message=f"{result.message}; {words}", because=because)
    return result


def _surely(wall: Wall, cut: CutHours) -> bool:
    """Whether the mold index stays below its limit by more than it is uncertain."""
    run, limit = cut.at(0.0), wall.practice.quantity(INDEX)
    return run is not None and not computed_at_least(run.mold_peak + cut.unsure_mold, limit.value)


def place_words(cut: CutHours, place: PlaceHours) -> str:
    """Where it is worst, and when: "back of the sheathing, worst in February"."""
    return f"{cut.cut}: {place.name}, worst in {MONTH_NAMES[place.worst_month - 1]}"


def leak_words(wall: Wall, cut: CutHours) -> str:
    """The rain that reaches the barrier in every run, as a reason."""
    return f"{share_words(cut.always)} of the rain on the face reaches the barrier"


def share_words(share: float) -> str:
    """A share of the rain in percent.

    >>> share_words(0.01), share_words(0.0325)
    ('1 %', '3.25 %')
    """
    return f"{100.0 * share:.3g} %"


def number_beside(value: float, limit: Quantity) -> str:
    """A computed number (SI) in the unit of its limit, with as many digits as keep it on its side.

    >>> from specgen.units.quantity import parse
    >>> number_beside(0.3123, parse("28 %")), number_beside(0.27996, parse("28 %"))
    ('31.2 %', '27.996 %')
    """
    number = from_si(value, limit.dimension, limit.unit).number
    above = computed_at_least(number, limit.number)
    for digits in range(3, 15):
        text = f"{number:.{digits}g}"
        if computed_at_least(float(text), limit.number) is above:
            break
    return f"{text} {limit.unit}".rstrip()


def layer_of(wall: Wall, place: PlaceHours) -> tuple[Mark | None, str]:
    """Where the layer of a place is described, and its id; of what no component stands for, the parapet."""
    part = wall.parapet.by_id(place.layer) or wall.parapet.by_id(place.layer.removesuffix(OF_THE_TOP))
    return (part.mark, part.id) if part else (None, "")
