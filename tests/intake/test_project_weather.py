"""The weather file a project names: found in its folder, refused outside, its problems told with the project's."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from specgen.design.hourly_faces import years
from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from specgen.render.outputs import inputs_read
from tests.intake.weather_files import HOT_HUMID, epw_lines

PROJECT = """\
project: {{name: Mill Yard, number: "7", issue_date: 2026-11-02}}
site: {{place: a town, latitude: 36.1 deg, longitude: -79.95 deg, weather: {weather}}}
building: {{height: 30 ft}}
parapets: [{{name: P-1, height: 3 ft}}]
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    inner = tmp_path / "mill"
    (inner / "data").mkdir(parents=True)
    (inner / "data" / "year.epw").write_text("\n".join(epw_lines()), encoding="utf-8")
    return inner


def written(folder: Path, weather: str) -> Path:
    path = folder / "project.yaml"
    path.write_text(PROJECT.format(weather=weather), encoding="utf-8")
    return path


def problems(path: Path) -> str:
    with pytest.raises(InputError) as caught:
        load_project(path, load_practice())
    return str(caught.value)


def test_named_in_the_folder(folder: Path) -> None:
    project = load_project(written(folder, "data/year.epw"), load_practice())
    assert project.weather is not None
    assert project.weather.format == "EPW"
    assert project.weather.path.endswith("data/year.epw")
    longitude = project.site.si("longitude")
    assert longitude is not None
    assert np.degrees(longitude) == pytest.approx(-79.95)


def test_given_on_the_command_line_goes_first(folder: Path) -> None:
    project = load_project(written(folder, "data/none.epw"), load_practice(), HOT_HUMID)
    assert project.weather is not None
    assert project.weather.format == "TM2"


@pytest.mark.parametrize(
    "named",
    [
        "../other.epw",
        "data/../../other.epw",
        "/etc/hostname",
        "'C:\\year.epw'",
        "'\\\\server\\year.epw'",
        "link.epw",
    ],
)
def test_outside_is_refused(folder: Path, named: str) -> None:
    (folder.parent / "other.epw").write_text("\n".join(epw_lines()), encoding="utf-8")
    (folder / "link.epw").symlink_to(folder.parent / "other.epw")
    found = problems(written(folder, named))
    assert "project.yaml:2:" in found
    assert "leaves the project folder" in found


def test_link_in_a_loop_and_folder(folder: Path) -> None:
    (folder / "loop.epw").symlink_to(folder / "loop.epw")
    assert "project.yaml:2:" in problems(written(folder, "loop.epw"))
    assert "no file 'data'" in problems(written(folder, "data"))


def test_problems_of_both_files_in_one_run(folder: Path) -> None:
    path = folder / "data" / "year.epw"
    path.write_text(path.read_text(encoding="utf-8").replace(",101325,", ",x,", 1), encoding="utf-8")
    project = written(folder, "data/year.epw")
    project.write_text(
        project.read_text(encoding="utf-8").replace("height: 30 ft", "hieght: 30 ft"), encoding="utf-8"
    )
    found = problems(project)
    assert "year.epw:9:1: error: pressure_pa" in found
    assert "hieght" in found


FIRST = "data/year.epw"


def with_years(folder: Path, named: str, weather: str = FIRST) -> Path:
    path = written(folder, weather)
    path.write_text(
        path.read_text(encoding="utf-8").replace("weather: ", f"weather_years: '{named}', weather: "),
        encoding="utf-8",
    )
    return path


def another_year(folder: Path, name: str, old: str = "2001,", new: str = "2002,") -> None:
    lines = [line.replace(old, new, 1) for line in epw_lines()]
    (folder / name).write_text("\n".join(lines), encoding="utf-8")


def test_further_years_stand_behind_the_first(folder: Path) -> None:
    another_year(folder, "second.epw")
    another_year(folder, "third.epw", new="2003,")
    project = load_project(with_years(folder, "second.epw, third.epw"), load_practice())
    assert project.weather is not None
    assert [one.name for one in project.weather.further] == ["second.epw", "third.epw"]
    assert [int(one.year[0]) for one in years(project.weather, 5)] == [2001, 2002, 2003, 2001, 2002]
    assert [int(one.year[0]) for one in years(project.weather, 2)] == [2001, 2002]
    manifest = inputs_read(project)
    assert manifest["weather"] == {"file": "year.epw", "format": "EPW", "sha256": project.weather.sha256}
    assert manifest["weather_years"] == [
        {"file": one.name, "format": "EPW", "sha256": one.sha256} for one in project.weather.further
    ]
    assert len({one.sha256 for one in (project.weather, *project.weather.further)}) == 3


@pytest.mark.parametrize(
    ("named", "found"),
    [
        ("none.epw", "`weather_years`: no file 'none.epw'"),
        ("second.epw,,second.epw", "`weather_years`: no file ''"),
        ("../other.epw", "`weather_years`: '../other.epw' leaves the project folder"),
        ("far.epw", "`weather_years`: 'far.epw' is of another place than 'year.epw'"),
        ("broken.epw", "broken.epw:9:1: error: pressure_pa"),
        (", ".join(["second.epw"] * 30), "`weather_years`: 31 weather files"),
    ],
)
def test_further_years_that_cannot_be_read(folder: Path, named: str, found: str) -> None:
    another_year(folder, "second.epw")
    another_year(folder, "far.epw", "36.10", "46.10")
    another_year(folder, "broken.epw", ",101325,", ",x,")
    assert found in problems(with_years(folder, named))


def test_a_file_of_the_command_line_goes_before_all_years(folder: Path) -> None:
    project = load_project(with_years(folder, "none.epw"), load_practice(), HOT_HUMID)
    assert project.weather is not None
    assert project.weather.further == ()
    assert project.weather.notes[-1].startswith("the further years that the project names are left aside")


def test_places_on_both_sides_of_the_date_line_are_near(folder: Path) -> None:
    for name, east in ((FIRST, "179.95"), ("second.epw", "-179.80")):
        another_year(folder, name, "-79.95", east)
    project = load_project(with_years(folder, "second.epw"), load_practice())
    assert project.weather is not None
    assert len(project.weather.further) == 1
