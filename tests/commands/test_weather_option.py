"""``--weather FILE``: in place of the project's own on every command that reads the assessment; told by the manifest."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest

from specgen.render.outputs import inputs_read
from specgen.work.inputs import read_inputs
from tests.chain.runs import CONFORMING, SUBMITTAL, copied, run
from tests.intake.weather_files import MIXED_HUMID


def rain(*words: object) -> dict[str, object]:
    done = run("calc", *words, "--subject", "driving rain", "--parapet", "P-1", "--format", "json")
    return dict(json.loads(done.out)["calculations"][0])


def test_a_file_from_anywhere_gives_the_project_its_weather() -> None:
    assert not rain(CONFORMING)["done"]
    assert rain(CONFORMING, "--weather", MIXED_HUMID)["done"]


def test_it_goes_before_the_one_the_project_names(tmp_path: Path) -> None:
    """The named file need not even be there."""
    place = ("  place: an inland town\n", "  place: an inland town\n  weather: gone.epw\n")
    project = copied(CONFORMING, tmp_path / "job", place)
    assert run("calc", project).status == 2
    assert rain(project, "--weather", MIXED_HUMID)["done"]


@pytest.mark.parametrize("command", ["calc", "check", "write", "review"])
@pytest.mark.parametrize("name", ["none.epw", "notes.txt", "cut.CSV", "empty.epw"])
def test_an_unusable_file_is_told_and_nothing_is_written(command: str, name: str, tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("not weather\n", "utf-8")
    (tmp_path / "empty.epw").write_text("", "utf-8")
    (tmp_path / "cut.CSV").write_bytes(b"".join(MIXED_HUMID.read_bytes().splitlines(True)[:5000]))
    out = tmp_path / "out"
    more = {"write": ("-o", out), "review": (SUBMITTAL, "-o", out)}.get(command, ())
    done = run(command, CONFORMING, *more, "--weather", tmp_path / name)
    assert done.status == 2
    assert f"{name}:" in done.err
    assert "fix: " in done.err or name == "empty.epw"
    assert "Traceback" not in done.err
    assert not out.exists()


def test_a_folder_is_no_weather_file(tmp_path: Path) -> None:
    done = run("check", CONFORMING, "--weather", tmp_path)
    assert done.status == 2
    assert "is a directory" in done.err


def test_the_manifest_names_the_weather_by_file_and_hash(tmp_path: Path) -> None:
    run("write", CONFORMING, "-o", tmp_path, "--weather", MIXED_HUMID)
    weather = {
        "file": MIXED_HUMID.name,
        "format": "TMY3",
        "sha256": hashlib.sha256(MIXED_HUMID.read_bytes()).hexdigest(),
    }
    assert json.loads((tmp_path / "manifest.json").read_text("utf-8"))["weather"] == weather
    without = read_inputs(CONFORMING, None, False)
    assert inputs_read(without.project) == {}
