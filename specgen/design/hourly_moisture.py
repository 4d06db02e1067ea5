"""The sheet of the hourly balance of heat and moisture: what a study found, where what it read still holds.

Nothing is simulated here: a study of minutes stands outside the check of a project. Its result is kept beside the
project under the sum of everything that it read, and a result whose sum differs is no result.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from specgen.design.hourly_study import read
from specgen.design.worksheet import NUMBER, SHARE, Unit, Worksheet, calculation
from specgen.model.calculation import CalcTable
from specgen.model.hourly import CutHours, HourlyResult, LeakRun, PlaceHours
from specgen.model.source import Source, Status
from specgen.units.months import MONTH_NAMES
from specgen.units.quantity import Quantity

SUBJECT = "hourly moisture"
TITLE = "Heat and moisture through years of hours"
ON_REQUEST = True
SETS = (
    "criterion",
    "governs",
    "mold_peak",
    "wood_peak",
    "forgiven",
    "forgiven_at",
    "worst_month",
    "uncertainty",
)
METHOD = Source(
    "EN 15026", "2007", "coupled heat and moisture, with the sensible heat of moving water", Status.MEMORY
)
CRITERION = Source("ASHRAE Standard 160", "2016", "mold index and water past the cladding", Status.MEMORY)
INDEX = Source(
    "Hukka and Viitanen, Wood Science and Technology 33", "1999", "mold growth index", Status.PRACTICE
)
VALIDITY = (
    "One-dimensional through each cut; hygroscopic and capillary materials from dry to saturated, faces between -40 and "
    "80 °C. It ranks walls and shows whether one dries faster than it wets; it does not forecast a reading of a pin."
)
LEAVES_OUT = (
    "Air that moves through layers and joints, and around the cut through framing.",
    "Heat of freezing; ice that blocks pores or breaks them: hours of frost near saturation are counted.",
    "Gravity in the pores, and the difference between wetting and drying.",
    "Gusts in the drainage gap: its air is moved by sun, moist air and the mean wind of the hour.",
    "Studs, fasteners and corners: each cut is taken where nothing crosses it.",
)
WATER = Unit("mass per area", "lb/ft2", "kg/m2")
MOVED: Final = {
    "grid": "ever finer cells and steps, as twice as many of both tell it",
    "material": "each range of the materials",
    "rain": "other hours of the same monthly rain",
    "air": "fewest and most air changes of a gap open at one end",
}
INDEX_DIGITS: Final = 2
"""To which a mold index is printed: it says no more."""
COMMAND: Final = "run `specgen hourly` on the project"


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """What the kept study of this parapet found: mold, moisture, leakage forgiven, worst month, drying, exactness.

    Given: weather file with rain, or monthly depths; orientation, height, build-up, top. Of practice: hygric materials,
    classes of mold, leakage. Unknown where no study is kept, or where what it read has changed since.
    """
    kept = work.project.hourly.get(work.parapet.name)
    if kept is None:
        raise work.stop(f"no study of the hours is kept of this parapet: {COMMAND}")
    found = read(work.project, work.parapet, work.practice, kept.years, work)
    if found.key != kept.key:
        raise work.stop(f"what the kept study of the hours read has changed since: {COMMAND}")
    for source in (METHOD, CRITERION, INDEX):
        work.cite(source)
    _scheme(work, kept)
    _results(work, kept)
    for cut in kept.cuts:
        work.tables.append(_places_table(work, cut))
    work.tables.append(_leaks_table(work, kept))


def _scheme(work: Worksheet, kept: HourlyResult) -> None:
    formula = "Δw = Δt Σ g, Δ(ρ c θ + w c θ) = Δt Σ q; backward in time, Newton, finite volumes"
    work.step_word("", "scheme", "each hour in one to four steps", formula)
    work.step_word("", "rain", kept.rain, "as the weather file or the monthly depths give it")
    runs = [run for cut in kept.cuts for run in cut.runs]
    work.step(
        "", "most years of a run", float(max(run.years for run in runs)), NUMBER, "until the peaks settle"
    )
    work.step("", "runs", float(len(runs)), NUMBER, "of all cuts and leaks")
    for title, value in (
        ("water that the balance leaves open, over what passed", max(run.mass_error for run in runs)),
        ("heat that the balance leaves open, over what passed", max(run.heat_error for run in runs)),
    ):
        work.step_word("", title, f"{value:.1e}", "the worst run; limit 1e-6")
    for what, words in MOVED.items():
        if not any(f"{what} mold" in cut.uncertainty for cut in kept.cuts):
            continue
        moisture = max(cut.uncertainty.get(f"{what} moisture", 0.0) for cut in kept.cuts)
        mold = max(cut.uncertainty.get(f"{what} mold", 0.0) for cut in kept.cuts)
        work.step("", f"change of the moisture peak by {words}", moisture, SHARE, "two years, worst cut")
        work.step(
            "",
            f"change of the mold index by {words}",
            round(mold, INDEX_DIGITS),
            NUMBER,
            "two years, worst cut",
        )


def _results(work: Worksheet, kept: HourlyResult) -> None:
    worst = max(kept.cuts, key=lambda cut: (not cut.holds, _standing(cut).mold_peak))
    standing = _standing(worst)
    place = max(standing.places, key=lambda one: (one.mold_peak, one.moisture_peak or 0.0))
    holds = all(cut.holds for cut in kept.cuts)
    always = work.shown(max(cut.always for cut in kept.cuts), SHARE)
    work.result_word(
        "criterion",
        f"criterion with {always} of the rain on the barrier and none past it",
        "holds" if holds else "fails",
        "mold index, decay, and growth from year to year",
    )
    work.result_word("governs", "cut and place that govern", f"{worst.cut}: {place.name}")
    work.result(
        "mold_peak",
        "M",
        "greatest mold index",
        round(standing.mold_peak, INDEX_DIGITS),
        NUMBER,
        "0 none, 3 seen, 6 covered",
    )
    wood = [
        one.moisture_peak
        for cut in kept.cuts
        for one in _standing(cut).places
        if one.moisture_peak is not None and one.sort == "wood"
    ]
    if wood:
        work.result("wood_peak", "u", "greatest moisture of wood by mass in the last year", max(wood), SHARE)
    else:
        work.result_word(
            "wood_peak", "greatest moisture of wood by mass in the last year", "no wood in the cuts"
        )
    least = min(kept.cuts, key=lambda cut: -1.0 if cut.forgiven is None else cut.forgiven)
    if least.forgiven is None:
        work.result_word("forgiven", "leakage past the barrier that is forgiven", "none: it fails without")
    else:
        work.result(
            "forgiven", "s", "leakage past the barrier that is forgiven", least.forgiven, SHARE, least.leak
        )
    work.result_word("forgiven_at", "cut that forgives least", least.cut)
    work.result_word("worst_month", "worst month there", MONTH_NAMES[place.worst_month - 1])
    sure = max(cut.unsure_mold for cut in kept.cuts)
    title = "uncertainty of the mold index"
    work.result(
        "uncertainty", "ΔM", title, round(sure, INDEX_DIGITS), NUMBER, "the greatest of the changes above"
    )


def _standing(cut: CutHours) -> LeakRun:
    """The run without a leak past the barrier."""
    run = cut.at(0.0)
    assert run is not None
    return run


def _places_table(work: Worksheet, cut: CutHours) -> CalcTable:
    run = _standing(cut)
    columns = (
        "place", "moisture, peak", "hours above 20 %", "hours above 28 %", "humidity, 30 days", "mold index",
        "hours of corrosion", "frost cycles", "worst month",
    )  # fmt: skip
    rows = tuple(_place_row(work, one) for one in run.places)
    dries = "does not dry within a year" if cut.half_days is None else f"dries in {cut.half_days:.0f} days"
    note = (
        f"No leak past the barrier. Half of a wetting of the layer behind the barrier {dries}. Last of "
        f"{run.years} years{', still growing' if run.growing else ''}."
    )
    return CalcTable(cut.cut, f"Places, {cut.cut}", columns, rows, note)


def _place_row(work: Worksheet, place: PlaceHours) -> tuple[Quantity | str, ...]:
    def count(number: int) -> Quantity:
        return work.quantity(float(number), NUMBER)

    return (
        place.name,
        "" if place.moisture_peak is None else work.quantity(place.moisture_peak, SHARE),
        count(place.hours_20) if place.sort == "wood" else "",
        count(place.hours_28) if place.sort == "wood" else "",
        work.quantity(place.humidity_peak, SHARE),
        work.quantity(round(place.mold_peak, INDEX_DIGITS), NUMBER) if place.mold else "",
        count(place.corrosion_hours),
        count(place.freeze_cycles),
        MONTH_NAMES[place.worst_month - 1],
    )


def _leaks_table(work: Worksheet, kept: HourlyResult) -> CalcTable:
    columns = ("cut", "leak", "mold index", "wood, peak", "taken in a year", "run off", "years", "criterion")
    rows: list[tuple[Quantity | str, ...]] = []
    for cut in kept.cuts:
        for run in cut.runs:
            wood = [
                one.moisture_peak
                for one in run.places
                if one.sort == "wood" and one.moisture_peak is not None
            ]
            rows.append(
                (
                    cut.cut,
                    work.quantity(run.share, SHARE),
                    work.quantity(round(run.mold_peak, INDEX_DIGITS), NUMBER),
                    work.quantity(max(wood), SHARE) if wood else "",
                    work.quantity(run.taken, WATER),
                    work.quantity(run.drained, WATER),
                    work.quantity(float(run.years), NUMBER),
                    "holds" if run.holds else "fails",
                )
            )
    return CalcTable("leaks", "Leakage past the barrier", columns, tuple(rows), _leak_words(kept.cuts))


def _leak_words(cuts: Sequence[CutHours]) -> str:
    return "Leak: share " + "; ".join(f"{cut.leak} ({cut.cut})" for cut in cuts) + "."
