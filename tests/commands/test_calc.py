"""``specgen calc``: subjects, tried values and what they change, Markdown, drawings."""

from __future__ import annotations

import json
import math
import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from specgen.commands import calc as calc_command
from specgen.commands import main
from specgen.design.progress import listening, tell
from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from tests.chain import runs
from tests.design.projects import FILE, FULL

INCH = 0.0254
PERM = 57.2135e-12  # kg/(Pa·s·m²), NIST SP 811


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, ["calc", *(str(word) for word in words)])


def changed(*words: str | Path) -> dict[str, Any]:
    return json.loads(run(*words, "--format", "json").stdout)


def magnus(temp_c: float) -> float:
    """Saturation pressure [Pa] over water as ISO 13788 states it (E.7)."""
    return 610.5 * math.exp(17.269 * temp_c / (237.3 + temp_c))


def condensate(conductivity: float, permeance: float) -> float:
    """Condensate rate behind the drainage layer of the test project, worked by hand [kg/(s·m²)].

    Face and film as in the tests of the calculation; the drainage layer is 7/16 in deep.
    """
    film = 17.03479
    te = 35.0 + 0.6 * 750.0 / film
    r = [
        1.0 / film,
        7 / 8 * INCH / 0.72,
        7 / 16 * INCH / conductivity,
        0.001 / 0.3,
        5 / 8 * INCH / 0.16,
        6 * INCH / 0.8,
        5 / 8 * INCH / 0.16,
        0.060 * INCH / 0.2,
        1.0 / film,
    ]
    flux = (te - 35.0) / sum(r)
    back = te - flux * (r[0] + r[1])
    membrane = 35.0 + flux * (r[7] + r[8])
    z = (1 / 12 + 1 / 30 + 6 * INCH / 175e-12 * PERM + 1 / 30) / PERM
    out = (magnus(membrane) - magnus(35.0)) * 0.05 * PERM
    if permeance > 10:  # the gap's far face is wet: the wall sees its saturation pressure
        return (magnus(back - flux * r[2]) - magnus(membrane)) / z - out
    return (magnus(back) - magnus(membrane)) / (1 / (permeance * PERM) + z) - out


def factor(result: dict[str, Any], name: str) -> float:
    (row,) = (row for row in result["changes"] if row["name"] == name)
    return float(row["factor"])


def test_a_leakier_sheet_by_hand() -> None:
    """0.05 to 0.10 perm changes no temperature: a little less than twice the vapor gets in, the same leaves."""
    found = changed(FILE, "--set", "P-1.drainage layer.vapor_permeance=0.1 perm")
    expected = condensate(0.07, 0.10) / condensate(0.07, 0.05)
    assert factor(found, "condensate_rate") == pytest.approx(expected, rel=1e-3)
    assert {row["subject"] for row in found["changes"]} >= {"vapor drive"}
    assert "coping wind" not in {row["subject"] for row in found["changes"]}


def test_mesh_in_place_of_the_sheet_by_hand() -> None:
    found = changed(FILE, "--set", "P-1.drainage layer.kind=mesh")
    expected = condensate(0.06, 100.0) / condensate(0.07, 0.05)
    assert factor(found, "condensate_rate") == pytest.approx(expected, rel=0.01)
    assert expected > 20


def test_the_file_is_as_it_was() -> None:
    before = FILE.read_bytes()
    run(FILE, "--set", "site.wind_speed=120 mph")
    assert FILE.read_bytes() == before


def test_wind_goes_with_the_square_of_its_speed() -> None:
    found = changed(FILE, "--set", "site.wind_speed=120 mph")
    assert factor(found, "velocity_pressure") == pytest.approx((120 / 115) ** 2)


def test_two_values_are_tried_together_in_order() -> None:
    both = changed(
        FILE,
        "--subject",
        "coping wind",
        "--set",
        "site.wind_speed=100 mph",
        "--set",
        "site.wind_speed=120 mph",
    )
    assert factor(both, "velocity_pressure") == pytest.approx((120 / 115) ** 2)
    scaled = changed(
        FILE,
        "--subject",
        "coping wind",
        "--set",
        "site.wind_speed=120 mph",
        "--set",
        "practice.wind.test_factor=3",
    )
    assert factor(scaled, "resistance_top") == pytest.approx(1.5 * (120 / 115) ** 2)


def test_the_same_value_changes_nothing() -> None:
    result = run(FILE, "--set", "site.wind_speed=115 mph")
    assert (result.exit_code, result.stdout) == (0, "No result changes.\n")


def test_metric_and_inch_pound_values_agree() -> None:
    result = run(FILE, "--subject", "coping wind", "--set", "site.wind_speed=51.4096 m/s")  # 115 mph exactly
    assert result.stdout == "No result changes.\n"


def test_what_becomes_unknown_is_told() -> None:
    result = run(FILE, "--subject", "coping wind", "--set", "site.country=CA")
    assert "determined -> unknown: not covered: site.country is CA" in result.stdout


def test_a_gauge_is_read_with_its_metal() -> None:
    found = changed(FULL, "--set", "cleat.thickness=22 ga")
    assert found["changes"] == []  # no calculation rests on it, and the value was accepted
    result = run(FULL, "--set", "coping.thickness=22 ga")
    assert result.exit_code == 2  # aluminum goes by inches
    assert "aluminum" in result.stderr


def test_a_change_of_kind_says_what_it_drops() -> None:
    result = run(
        FILE, "--set", "drainage layer.vapor_permeance=0.04 perm", "--set", "drainage layer.kind=mesh"
    )
    assert (
        "note: drainage layer.kind=mesh: left out, as it belongs to the dimpled sheet: `vapor_permeance`"
        in result.stdout
    )


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("P-1.drainge layer.kind=mesh", "did you mean `drainage layer`?"),
        ("P-1.drainage layer.kind=mush", "did you mean `mesh`?"),
        ("site.windspeed=120 mph", "did you mean `wind_speed`?"),
        ("site.wind_speed=120 psf", "write a speed"),
        ("site.wind_speed=fast", "does not start with a number"),
        ("practice.vapor.sunhours=3 h", "did you mean `vapor.sun_hours`?"),
        ("practice.vapor.sun_hours=3 psf", "write a time"),
        ("site.wind_speed", "write path=value"),
        ("=3", "write path=value"),
        ("site.wind_speed=", "write path=value"),
        ("parapet.height=-3 ft", "below zero"),
    ],
)
def test_unusable_values_exit_with_2(text: str, expected: str) -> None:
    result = run(FILE, "--set", text)
    assert result.exit_code == 2
    assert expected in result.stderr
    assert "Traceback" not in result.stderr


def test_list_names_every_subject_with_sources() -> None:
    result = run(FULL, "--list")
    assert (
        "roof junction: Heat flow at the junction of roof and parapet  (runs only with --subject)"
        in result.stdout
    )
    assert "coping wind: Wind on the coping and the parapet\n    IBC" in result.stdout
    listed = json.loads(run(FULL, "--list", "--format", "json").stdout)["subjects"]
    by_name = {one["subject"]: one for one in listed}
    assert list(by_name) == sorted(by_name)
    assert by_name["uncertainty"]["on_request"]
    assert not by_name["coping wind"]["on_request"]
    assert any("ASCE 7" in source for source in by_name["coping wind"]["sources"])


def test_list_names_the_sources_of_studies_too() -> None:
    """Of every study, and of a calculation that lacks data on this project."""
    listed = json.loads(run(FILE, "--list", "--format", "json").stdout)["subjects"]
    by_name = {one["subject"]: " ".join(one["sources"]) for one in listed}
    assert "ISO 10211" in by_name["roof junction"]
    assert "ranges chosen by this tool" in by_name["uncertainty"]
    assert "ISO 15927-3" in by_name["driving rain"]
    assert all(by_name[name] for name in ("gap drainage", "gap ventilation", "monthly balance"))


def test_long_studies_run_only_by_name() -> None:
    everything = json.loads(run(FULL, "--format", "json").stdout)["calculations"]
    assert not {"roof junction", "uncertainty"} & {one["subject"] for one in everything}
    one = json.loads(run(FULL, "--subject", "roof junction", "--format", "json").stdout)["calculations"]
    assert [calc["subject"] for calc in one] == ["roof junction"]
    # No bar where nobody looks at a terminal.
    assert run(FULL, "--subject", "roof junction").stderr == ""


def test_pieces_end_with_the_cut_list() -> None:
    result = run(FULL, "--subject", "coping geometry")
    assert "Cut list over all parapets\n   6  straight piece, " in result.stdout
    cuts = json.loads(run(FULL, "--subject", "coping geometry", "--format", "json").stdout)["cut_list"]
    assert [cut["count"] for cut in cuts] == [6, 1, 1]
    assert "Cut list" not in run(FULL).stdout


def test_markdown() -> None:
    text = run(FULL, "--subject", "coping movement", "--format", "md").stdout
    assert text.startswith("## Thermal movement of the coping, parapet P-1\n")
    rows = [line for line in text.splitlines() if line.startswith("|")]
    assert rows
    assert {line.count("|") - line.count("\\|") for line in rows} == {5}
    assert "| g | joint gap at the installation temperature | 1/4 in |" in text


def test_drawings_are_the_same_bytes_each_time(tmp_path: Path) -> None:
    pytest.importorskip("matplotlib")
    for folder in ("one", "two"):
        assert run(FULL, "--subject", "roof junction", "--plots", tmp_path / folder).exit_code == 0
    names = sorted(path.name for path in (tmp_path / "one").iterdir() if path.name != "manifest.json")
    assert names == sorted(
        f"p-1-{what}.{ending}"
        for ending in ("svg", "png")
        for what in (
            "profile",
            "coping-blank",
            "panel-elevation",
            "isotherms",
            "tornado-condensate",
            "tornado-movement",
            "tornado-resistance",
        )
    )
    for name in names:
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes(), name
        if name.endswith("svg"):
            text = (tmp_path / "one" / name).read_text(encoding="utf-8")
            assert "<dc:date>" not in text
    panels = (tmp_path / "one" / "p-1-panel-elevation.svg").read_text(encoding="utf-8")
    assert "Control joints, parapet P-1" in panels  # text stays text


def test_without_matplotlib_the_message_says_what_to_install(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    result = run(FULL, "--plots", tmp_path / "out")
    assert result.exit_code == 2
    assert "pip install matplotlib" in result.stderr
    assert not (tmp_path / "out").exists()


def test_parapets_that_differ_in_case_alone_have_drawings_of_their_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("specgen.render.plots.svg_and_png", lambda figure: (b"svg", b"png"))
    job = runs.copied(runs.CONFORMING, tmp_path / "job", ("name: P-2", "name: p-1"))
    done = runs.run("calc", job, "--subject", "coping movement", "--plots", tmp_path / "plots")
    assert done.status == 0, done.err
    names = sorted(path.stem for path in (tmp_path / "plots").glob("*.svg"))
    assert {"p-1-profile", "p-1-profile-2", "p-3-profile"} <= set(names)


def test_a_study_tells_each_place_between_its_ends(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two studies of four told shares each."""

    def study(*_: object) -> tuple[()]:
        for share in (0.0, 0.2, 0.5, 0.8):
            tell(share)
        return ()

    shares: list[float] = []
    practice = load_practice()
    monkeypatch.setattr(calc_command, "calculate_all", study)
    with listening(shares.append):
        calc_command._run(load_project(FILE, practice), practice, ["uncertainty"], ["P-1", "P-2"])
    assert [round(100 * one) for one in shares] == [0, 10, 25, 40, 50, 50, 60, 75, 90, 100]


def test_without_any_result_the_status_says_that_something_is_unknown(tmp_path: Path) -> None:
    words = ("--subject", "coping wind", "--parapet", "P-1")
    assert runs.run("calc", runs.CONFORMING, *words).status == 0
    lines = (runs.CONFORMING / "project.yaml").read_text("utf-8").splitlines(True)
    speed = next(one for one in lines if "wind_speed:" in one)
    done = runs.run("calc", runs.copied(runs.CONFORMING, tmp_path / "p", (speed, "")), *words)
    assert done.status == 3 and "wind_speed" in done.out
