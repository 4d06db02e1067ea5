"""Charts of kept hours in the basis report and as files: only of what still holds, each with its words."""

from __future__ import annotations

import base64
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from lxml import html

from specgen.assessment import assess, settled
from specgen.commands.drawings import write_drawings
from specgen.design.hourly_moisture import SUBJECT
from specgen.design.hourly_study import read
from specgen.design.run import everyday
from specgen.intake.project import load_project
from specgen.model.hourly import AcrossLayer, CutHours, HourlyResult
from specgen.model.project import Project
from specgen.practice.load import load_practice
from specgen.render.basis import basis_bytes
from specgen.render.hour_charts import hour_charts
from specgen.specification import specify
from tests.hourly_results import SOUND, cut_of, result_of
from tests.intake.weather_files import MIXED_HUMID

PRACTICE = load_practice()
MONTHS = 24


@cache
def bare() -> Project:
    return load_project(Path("tests/stated/mixed-humid-midrise/project.yaml"), PRACTICE, MIXED_HUMID)


def cut() -> CutHours:
    return cut_of(
        course={SOUND.name: tuple(0.1 + 0.002 * month for month in range(MONTHS))},
        across=(AcrossLayer("plaster", 0.022, (0.011, 0.011)), AcrossLayer("sheathing", 0.0127, (0.0127,))),
        profile=tuple((0.7, 0.75, 0.6 + 0.01 * month) for month in range(MONTHS)),
        drying=tuple(0.5 ** (day / 21.0) for day in range(60)),
    )


def kept(name: str, key: str = "0" * 64) -> HourlyResult:
    return replace(result_of(name, cut(), key=key), years=1)


@cache
def sound() -> Project:
    name = bare().parapets[0].name
    described = settled(bare(), PRACTICE)
    key = read(described, described.parapets[0], PRACTICE, 1).key
    return replace(bare(), hourly={name: kept(name, key)})


def pictures(project: Project, *subjects: str) -> list[tuple[str, bytes]]:
    """The titles and files of the drawings in the part on the hours."""
    tree = html.fromstring(basis_bytes(specify(assess(project, PRACTICE)), subjects or (SUBJECT,)).decode())
    images = [one for one in tree.iter("img") if re.match(r"P-1[,:] ", one.get("alt"))]
    return [(one.get("alt"), base64.b64decode(one.get("src").partition("base64,")[2])) for one in images]


def test_the_report_shows_what_holds_with_its_words() -> None:
    found = pictures(sound())
    assert len(found) == 3
    alts = " ".join(alt for alt, _ in found)
    assert (
        "Moisture content of wood peaks at 14.6 % by mass (back of the sheathing, December of year 2)" in alts
    )
    assert (
        "Relative humidity peaks at 83 % (sheathing, December of year 2), at or above the limit of 80 %"
        in alts
    )
    assert "forgives 3.2 % of the rain driven onto the plaster" in alts
    assert all(data.startswith(b"<?xml") and b"<svg" in data for _, data in found)


def test_the_report_shows_nothing_stale_and_nothing_that_was_not_asked() -> None:
    name = bare().parapets[0].name
    assert pictures(replace(bare(), hourly={name: kept(name)})) == []
    assert pictures(bare()) == []
    assert pictures(sound(), *everyday()) == []


def test_charts_stand_by_their_parapets_with_the_race_of_neighbors() -> None:
    first = bare().parapets[0]
    project = replace(
        bare(),
        parapets=(first, replace(first, name="P-8"), replace(first, name="P-9")),
        hourly={name: kept(name) for name in (first.name, "P-9", "P-8", "P-7")},
    )
    found = hour_charts(project, PRACTICE, lambda name: name != "P-8")
    assert list(found) == [first.name, "P-9"]
    assert [len(charts) for charts in found.values()] == [4, 3]
    assert "they dry alike" in found[first.name][-1].description
    assert hour_charts(project, PRACTICE, lambda name: False) == {}
    every = [
        chart for charts in hour_charts(project, PRACTICE, lambda name: True).values() for chart in charts
    ]
    assert len(every) == 4 + 4 + 3
    for words in ([chart.title for chart in every], [chart.name for chart in every]):
        assert len(set(words)) == len(words)  # each a landmark, and a file, of its own


def test_files_of_the_charts(tmp_path: Path) -> None:
    pytest.importorskip("matplotlib")
    name = bare().parapets[0].name
    written = write_drawings(sound(), PRACTICE, (name,), tmp_path / "out", studies=False, other_project=False)
    own = [one for one in written if "hours" in one or "depth" in one or "leak" in one]
    assert sorted(own) == [
        f"p-1-{stem}.{ending}"
        for stem in ("depth-parapet-at-mid-height", "hours-parapet-at-mid-height", "leak")
        for ending in ("png", "svg")
    ]
    assert (tmp_path / "out" / "p-1-leak.png").read_bytes().startswith(b"\x89PNG")
    other = write_drawings(sound(), PRACTICE, (), tmp_path / "none", studies=False, other_project=False)
    assert not [one for one in other if "leak" in one]
