"""Absurd values, one at a time on the demo: each is refused or asked about, and none is printed or calculated with."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.chain.runs import CONFORMING, contents, copied, run
from tests.conftest import sampled

REFUSED = [
    ("  height: 76 ft", "  height: 0 ft"),
    ("temp_summer: 93 degF", "temp_summer: 93 degC"),
    ("fastener_spacing: 12 in", "fastener_spacing: 0 in"),
    ("panel_area: 120 ft2", "panel_area: 0 ft2"),
    ("panel_ratio: 2.2", "panel_ratio: 0.1"),
    ("screen_opening: 1/16 in", "screen_opening: 0 in"),
    ("pull_adhesion: 40 psi", "pull_adhesion: 40000 psi"),
]
ASKED = [
    ("lap: 3 in", "lap: 4 ft"),
    ("outer_drip: 1 in", "outer_drip: 50 ft"),
    ("        slope: 1/2 in/ft", "        slope: 9000 %"),
    ("vapor_permeance: 14 perm", "vapor_permeance: 1400 perm"),
    ("    thickness: 8 3/4 in", "    thickness: 8 3/4 ft"),
    ("design_rainfall: 3.5 in/h", "design_rainfall: 3.5 mm/h"),
    ("    length: 120 ft", "    length: 120 mm"),
    (
        "        lap: 4 in\n        upper: top flashing\n        sealed",
        "        lap: 5 ft\n        upper: top flashing\n        sealed",
    ),
]
WRITTEN = sampled("values that are not expected, written", ASKED)
TOGETHER = [
    (
        "temp_summer: 93 degF",
        "temp_summer: 60 degF",
        "  climate_zone: 4A\n",
        "",
        "temp_winter: 17 degF",
        "temp_winter: 70 degF",
    ),
    ("temp_summer: 93 degF", "temp_summer: 76 degF\n  dew_point_summer: 80 degF"),
    ("panel_length: 16 ft", "panel_length: 5 ft"),
]


@pytest.mark.parametrize(("old", "new"), REFUSED, ids=[new.strip() for _, new in REFUSED])
def test_what_cannot_be_is_refused_with_its_place(tmp_path: Path, old: str, new: str) -> None:
    done = run("check", copied(CONFORMING, tmp_path / "p", (old, new)))
    assert done.status == 2 and "cannot be; " in done.err and "project.yaml:" in done.err


@pytest.mark.parametrize(("old", "new"), ASKED, ids=[new.strip() for _, new in ASKED])
def test_what_is_not_expected_is_unknown_until_it_is_confirmed(tmp_path: Path, old: str, new: str) -> None:
    folder = copied(CONFORMING, tmp_path / "p", (old, new))
    done = run("check", folder)
    asked = [line for line in done.out.splitlines() if "is this meant?" in line]
    assert done.status == 3 and asked and "did you mean " in asked[0]
    if (old, new) not in WRITTEN:
        return
    value = new.partition(": ")[2]
    run("write", folder, "-o", tmp_path / "out", "--with-open-points")
    printed = contents(tmp_path / "out")[
        "basis.json" if "basis.json" in contents(tmp_path / "out") else "trace.json"
    ]
    assert f'"{value}"'.encode() not in printed


def test_all_that_cannot_be_are_told_in_one_run(tmp_path: Path) -> None:
    done = run("check", copied(CONFORMING, tmp_path / "p", *REFUSED, *ASKED))
    assert done.status == 2 and done.err.count("cannot be; ") == len(REFUSED) == 7


def test_all_that_are_not_expected_are_asked_about_in_one_run(tmp_path: Path) -> None:
    done = run("check", copied(CONFORMING, tmp_path / "p", *ASKED))
    asked = [line for line in done.out.splitlines() if "is this meant?" in line]
    assert done.status in (1, 3) and len(asked) == len(ASKED) == 8


@pytest.mark.parametrize("changes", TOGETHER, ids=lambda one: one[-1].strip())
def test_values_that_contradict_each_other_are_told(tmp_path: Path, changes: tuple[str, ...]) -> None:
    pairs = zip(changes[::2], changes[1::2], strict=True)
    done = run("check", copied(CONFORMING, tmp_path / "p", *pairs))
    assert done.status == 1 and " MV02 " in done.out


@pytest.mark.parametrize("year", ["0206", "1026", "2206"])
def test_a_date_of_another_century_is_refused_with_its_place(tmp_path: Path, year: str) -> None:
    change = ("issue_date: 2026-11-02", f"issue_date: {year}-11-02")
    done = run("check", copied(CONFORMING, tmp_path / "p", change))
    assert done.status == 2 and "cannot be; a date lies between" in done.err and "project.yaml:" in done.err


def test_a_strength_in_the_wrong_unit_is_asked_about(tmp_path: Path) -> None:
    text = (CONFORMING / "project.yaml").read_text("utf-8")
    (line,) = (one for one in text.splitlines() if "compressive_strength:" in one and "psf" in one)
    done = run("check", copied(CONFORMING, tmp_path / "p", (line, line.replace("psf", "psi"))))
    assert done.status in (2, 3) and "did you mean " in done.out + done.err


def test_a_reason_confirms_a_value(tmp_path: Path) -> None:
    confirmed = 'outer_drip: 9 in\n        meant: {outer_drip: "a deep shadow line, owner\'s letter of May"}'
    folder = copied(CONFORMING, tmp_path / "p", ("outer_drip: 1 in", confirmed))
    done = run("check", folder)
    assert done.status == 0 and "is this meant?" not in done.out
