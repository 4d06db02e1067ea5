"""The study of years of hours: its cuts, its key, what leaks do, and the sheet that reads what is kept."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from specgen.design import hourly_moisture
from specgen.design.hourly_cuts import Cut
from specgen.design.hourly_study import Read, read, study, sum_of
from specgen.design.hourly_years import Limits, _grows, across, drying, gap_wind, judged, march_years
from specgen.design.worksheet import Unknown, Worksheet
from specgen.intake.project import load_project
from specgen.model.hourly import BELOW, MID_HEIGHT, TOP, HourlyResult
from specgen.model.project import Project
from specgen.physics.heat_moisture.grid import Gap
from specgen.practice.load import load_practice
from tests.conftest import LONG
from tests.intake.weather_files import HOT_HUMID, MIXED_HUMID

STATED = Path("tests/stated")
RAIN = 'site:\n  rain_months: "1.6, 2.2, 2.5, 3.1, 5.5, 9.7, 6.5, 8.9, 9.9, 6.3, 3.3, 2.0 in"\n'


@cache
def midrise() -> Project:
    return load_project(STATED / "mixed-humid-midrise" / "project.yaml", load_practice(), MIXED_HUMID)


@cache
def found() -> Read:
    return read(midrise(), midrise().parapets[0], load_practice(), 1)


def cut_named(name: str) -> Cut:
    return next(one for one in found().cuts if one.name == name)


def changed(folder: Path, example: str, weather: Path, *changes: tuple[str, str]) -> Project:
    text = (STATED / example / "project.yaml").read_text()
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    (folder / "project.yaml").write_text(text)
    return load_project(folder / "project.yaml", load_practice(), weather)


def test_three_cuts_from_outside_to_inside() -> None:
    assert [cut.name for cut in found().cuts] == [MID_HEIGHT, TOP, BELOW]
    names = [part.name for part in cut_named(MID_HEIGHT).parts]
    assert names[0] == "plaster" and names[-1] == "roof turn-up"
    assert names.index("drainage layer") < names.index("barrier") < names.index("sheathing")
    assert "interior lining" in [part.name for part in cut_named(BELOW).parts]
    assert cut_named(TOP).parts[0].name == "coping"
    assert cut_named(MID_HEIGHT).leak == "sheathing" and cut_named(TOP).leak == "blocking"
    assert cut_named(MID_HEIGHT).always == (("barrier", 0.01),)


def test_the_criterion_is_held_behind_the_barrier_alone() -> None:
    held = {place.part for place in cut_named(MID_HEIGHT).places if place.held}
    assert "plaster" not in held and {"sheathing", "roof-side sheathing"} <= held


def test_a_gap_open_at_one_end_changes_its_air_by_practice() -> None:
    (gap,) = (
        part
        for part in cut_named(MID_HEIGHT).parts
        if isinstance(part, Gap) and part.name == "drainage layer"
    )
    assert gap.losses is None
    assert gap.exchange * 3600.0 / gap.depth == pytest.approx(
        load_practice().quantity("hourly.closed_exchange").value
    )


def test_the_key_is_that_of_all_that_is_read(tmp_path: Path) -> None:
    practice = load_practice()
    kept = read(midrise(), midrise().parapets[0], practice, 1).key
    assert kept == found().key
    assert read(midrise(), midrise().parapets[0], practice, 2).key != kept
    other = changed(tmp_path, "mixed-humid-midrise", MIXED_HUMID, ("kind: glass-mat gypsum", "kind: plywood"))
    assert read(other, other.parapets[0], practice, 1).key != kept
    # A name of the project is nothing that the hours know.
    same = changed(tmp_path, "mixed-humid-midrise", MIXED_HUMID, ("issue_date:", "issue_date :"))
    assert read(same, same.parapets[0], practice, 1).key == kept


def test_the_air_of_a_closed_gap_is_a_range() -> None:
    cut, limits = cut_named(MID_HEIGHT), found().limits
    assert cut.closed == "drainage layer"
    few, many = (judged(cut, 0.0, march_years(cut.with_air(one), 0.0, limits), limits) for one in limits.airs)
    assert many.mold_peak < few.mold_peak


def test_more_leak_is_more_water_and_more_mold() -> None:
    cut, limits = cut_named(MID_HEIGHT), found().limits
    runs = [judged(cut, share, march_years(cut, share, limits), limits) for share in (0.0, 0.01, 0.03)]
    assert [one.years for one in runs] == [1, 1, 1]
    moistures = [[place.moisture_peak or 0.0 for place in one.places] for one in runs]
    assert (np.diff(np.array(moistures), axis=0) >= -1e-6).all()
    assert runs[0].mold_peak < runs[1].mold_peak <= runs[2].mold_peak
    assert runs[0].taken < runs[1].taken
    assert max(one.mass_error for one in runs) < 1e-6 and max(one.heat_error for one in runs) < 1e-6


def test_what_leaks_in_is_taken_or_runs_off() -> None:
    cut, limits = cut_named(TOP), found().limits
    hours = march_years(cut, 0.02, limits)
    run = judged(cut, 0.02, hours, limits)
    offered = 0.03 * float(cut.years[0].rain.sum()) * 3600.0
    assert run.taken + run.drained == pytest.approx(offered, rel=1e-9)


def test_a_wetting_dries_and_sooner_under_an_open_face() -> None:
    limits = found().limits
    days, left = drying(cut_named(BELOW), limits)
    assert days is not None and 1.0 < days < 120.0
    assert left[0] == 1.0 and left[int(days)] > 0.5 > left[int(days) + 1]


def test_rows_across_the_wall_have_its_thickness() -> None:
    cut, limits = cut_named(MID_HEIGHT), found().limits
    layers, profile = across(march_years(cut, 0.0, limits))
    assert [one.name for one in layers] == [part.name for part in cut.parts]
    assert all(sum(one.rows) == pytest.approx(one.thickness) for one in layers if one.rows)
    assert len(profile) == 12 and {len(row) for row in profile} == {sum(len(one.rows) for one in layers)}


def test_a_wet_start_is_wetter() -> None:
    cut, limits = cut_named(MID_HEIGHT), found().limits
    dry = march_years(cut, 0.0, replace(limits, start_humidity=0.5))
    usual = march_years(cut, 0.0, limits)
    assert (usual.water[0] >= dry.water[0] - 1e-9).all() and usual.water[-1].sum() >= dry.water[-1].sum()


@pytest.mark.parametrize(
    ("word", "part", "least"), [("wet plaster", "plaster", 0.99), ("green wood", "blocking", 0.95)]
)
def test_a_wall_closed_wet_starts_wet(tmp_path: Path, word: str, part: str, least: float) -> None:
    line = "    cavity_at_roof: sealed airtight\n"
    project = changed(
        tmp_path, "mixed-humid-midrise", MIXED_HUMID, (line, f"{line}    construction_moisture: {word}\n")
    )
    made = read(project, project.parapets[0], load_practice(), 1)
    (cut,) = (one for one in made.cuts if one.name == (TOP if part == "blocking" else MID_HEIGHT))
    assert cut.start[part] > least and set(cut.start) == {part}
    wet, usual = (march_years(one, 0.0, made.limits) for one in (cut, replace(cut, start={})))
    number = wet.wall.named(part)
    assert wet.water[0, number] > 1.2 * usual.water[0, number]
    assert wet.mass_error < 1e-6


def test_the_air_of_the_rooms_reaches_an_open_cavity(tmp_path: Path) -> None:
    line = "cavity_at_roof: sealed airtight"
    opened = (line, "cavity_at_roof: open to the rooms below")
    project = changed(tmp_path, "mixed-humid-midrise", MIXED_HUMID, opened)
    made = read(project, project.parapets[0], load_practice(), 1)
    cut = made.cuts[0]
    assert cut.roomy == ("framing",) and found().cuts[0].roomy == ()
    with_room, without = (march_years(one, 0.0, made.limits) for one in (cut, found().cuts[0]))
    assert np.abs(with_room.temp_c - without.temp_c).max() > 0.5
    assert made.key != found().key


def test_an_existing_wall_starts_as_measured() -> None:
    project = load_project(STATED / "existing-repair" / "project.yaml", load_practice(), MIXED_HUMID)
    made = read(project, project.parapets[0], load_practice(), 1)
    starts = {cut.name: cut.start for cut in made.cuts}
    assert starts[TOP] and starts[MID_HEIGHT]
    (blocking,) = starts[TOP].values()
    assert blocking > max(starts[MID_HEIGHT].values()) > 0.8  # 31 % below the coping, 24 % at the base
    assert any("31 %" in one for one in made.work.leaves_out)


@pytest.mark.parametrize(
    ("years", "cycle", "grows"),
    [
        ((0.1, 0.2, 0.3), 1, True),
        ((0.1, 0.2, 0.2), 1, False),
        ((0.1, 0.3, 0.1, 0.3), 2, False),  # the wet year comes again, and is no growth
        ((0.1, 0.3, 0.2, 0.4), 2, True),
        ((0.1, 0.1, 0.2, 0.2), 4, True),  # every year another weather: the second half is wetter
        ((0.1,), 1, False),
        ((), 1, False),
    ],
)
def test_growth_is_from_one_round_through_the_weather_to_the_next(
    years: tuple[float, ...], cycle: int, grows: bool
) -> None:
    assert _grows(years, cycle, 0.005) is grows


def test_years_of_several_weathers_are_all_run_and_the_worst_counts(tmp_path: Path) -> None:
    cut, limits = cut_named(MID_HEIGHT), found().limits
    first = cut.years[0]
    wetter = replace(first, outside=replace(first.outside, rain=3.0 * first.rain))
    several = replace(cut, years=(first, wetter, first, wetter, first, wetter))
    hours = march_years(several, 0.01, limits)
    assert hours.cycle == 2 and len(hours.hours) >= 4
    run = judged(several, 0.01, hours, limits)
    for place in run.places:
        if place.moisture_peak is not None:
            assert place.moisture_peak == pytest.approx(max(place.peaks[-2:]), abs=0.02)


def test_without_usable_rain_nothing_is_run(tmp_path: Path) -> None:
    project = load_project(STATED / "hot-humid-lowrise" / "project.yaml", load_practice(), HOT_HUMID)
    calc = hourly_moisture.calculate(
        replace(project, hourly={"P-1": kept("P-1")}), project.parapets[0], load_practice()
    )
    assert not calc.done and any("rain_months" in one for one in calc.missing)


def test_several_years_follow_each_other_on_one_sheet(tmp_path: Path) -> None:
    """The second year has no rain of its own: its rain is made, its faces are its own, and the sheet names both."""
    example = changed(tmp_path, "mixed-humid-midrise", MIXED_HUMID, ("site:\n", RAIN))
    assert example.weather is not None
    dry = replace(example.weather, rain_mm=None, temp_c=example.weather.temp_c + 1.0, path="second.epw")
    both = replace(example, weather=replace(example.weather, further=(dry,)))
    practice = load_practice()
    one, two = (read(project, project.parapets[0], practice, 3) for project in (example, both))
    assert [faces.year.seed for faces in two.faces] == [None, 1, None]
    assert len(two.cuts[0].years) == 3
    assert one.key != two.key
    first, second, third = (cut.outside for cut in two.cuts[0].years)
    assert third is first
    np.testing.assert_allclose(second.air_c, first.air_c + 1.0)
    assert [line.title for line in two.work.inputs] == [line.title for line in one.work.inputs]
    named = [line for line in two.work.leaves_out if line.startswith("Weather of 2 years in a row: ")]
    assert len(named) == 1 and "second.epw" in named[0]
    assert any("rain made from monthly totals, seed 1" in line for line in two.work.leaves_out)


def test_a_later_year_without_rain_stops_the_sheet() -> None:
    example = midrise()
    assert example.weather is not None
    dry = replace(example.weather, rain_mm=None)
    both = replace(example, weather=replace(example.weather, further=(dry,)))
    work = Worksheet("hourly moisture", "", both, both.parapets[0], load_practice(), "", [])
    with pytest.raises(Unknown):
        read(both, both.parapets[0], load_practice(), 2, work)
    assert any(line.startswith("site.rain_months") for line in work.missing)


def test_a_finish_takes_up_less_rain_than_plaster(tmp_path: Path) -> None:
    project = changed(tmp_path, "hot-humid-lowrise", HOT_HUMID, ("site:\n", RAIN))
    cut = read(project, project.parapets[0], load_practice(), 1).cuts[0]
    assert cut.parts[0].name == "finish of plaster"
    bare = replace(cut, parts=cut.parts[1:])
    limits = Limits.of(load_practice())
    coated, uncoated = (march_years(one, 0.0, limits) for one in (cut, bare))
    assert coated.taken[:, 0].sum() < 0.7 * uncoated.taken[:, 0].sum()


def kept(name: str, key: str = "0" * 64) -> HourlyResult:
    from tests.hourly_results import cut_of

    return HourlyResult(name, key, 1, "year", "rain of the weather file", (cut_of(),))


def test_the_sheet_reads_what_is_kept_and_nothing_stale() -> None:
    project, practice = midrise(), load_practice()
    name = project.parapets[0].name
    bare = hourly_moisture.calculate(project, project.parapets[0], practice)
    assert not bare.done and "no study" in bare.missing[0]
    stale = replace(project, hourly={name: kept(name)})
    assert "has changed since" in hourly_moisture.calculate(stale, stale.parapets[0], practice).missing[0]
    sound = replace(project, hourly={name: kept(name, found().key)})
    calc = hourly_moisture.calculate(sound, sound.parapets[0], practice)
    assert calc.done and set(calc.results) == set(hourly_moisture.SETS)
    assert calc.verdict("criterion") == "holds"
    assert len(calc.tables) == 2


@pytest.mark.slow
def test_a_study_is_the_same_twice_and_can_be_kept() -> None:
    """One year: the whole way from cuts over bisection and ranges to the record, and its key."""
    if not LONG:
        pytest.skip("full counts only")
    project, practice = midrise(), load_practice()
    shares: list[float] = []
    first = study(project, project.parapets[0], practice, years=1, tell=shares.append)
    assert shares == sorted(shares) and shares[-1] == 1.0
    assert first == study(project, project.parapets[0], practice, years=1)
    assert first.key == found().key


def open_gap(folder: Path) -> Cut:
    """The middle of a wall with mesh in a gap that is open at bottom and top."""
    sheet = ("kind: dimpled sheet", "kind: mesh")
    project = changed(folder, "hot-humid-lowrise", MIXED_HUMID, sheet)
    return read(project, project.parapets[0], load_practice(), 1).cuts[0]


def test_wind_moves_the_air_of_a_gap_that_is_open_at_both_ends_alone(tmp_path: Path) -> None:
    cut = open_gap(tmp_path)
    (year,) = cut.years
    assert list(gap_wind(cut, year)) == ["drainage layer"]
    assert not gap_wind(cut_named(MID_HEIGHT), cut_named(MID_HEIGHT).years[0])
    assert year.gap_wind.max() > 1.0 and year.gap_wind.min() < -0.5
    limits = found().limits
    still = replace(cut, years=(replace(year, gap_wind=np.zeros(year.gap_wind.shape)),))
    blown, calm = (march_years(one, 0.0, limits) for one in (cut, still))
    back = next(at for at, place in enumerate(cut.places) if place.name == "plaster, inner face")
    hot = calm.temp_c[:, back] > 30.0
    assert blown.temp_c[hot, back].mean() < calm.temp_c[hot, back].mean() - 0.1


def test_wind_is_part_of_the_key_of_an_open_gap(tmp_path: Path) -> None:
    limits, cut = found().limits, open_gap(tmp_path)
    gusty = replace(cut, years=tuple(replace(year, gap_wind=2.0 * year.gap_wind) for year in cut.years))
    assert sum_of([cut], limits, 1) != sum_of([gusty], limits, 1)
