"""``specgen exchange``: each format writes one file or nothing, never over a file that holds something else."""

from __future__ import annotations

import importlib
import os
import shutil
import sys
from pathlib import Path

import click
import pytest

from specgen.commands.exchange import FORMATS
from specgen.commands.exchange_file import write_file
from specgen.commands.unusable import WordError
from specgen.files.extras import missing
from specgen.files.marks import InputError
from tests.chain.runs import CONFORMING, FAULTY, Done, copied, run

ENDING = {"ids": "ids", "ifc": "ifc", "bcf": "bcf"}


@pytest.mark.parametrize("name", FORMATS)
def test_every_format_documents_its_options_and_statuses(name):
    words = " ".join(run("exchange", name, "--help").out.split())
    assert "Exit status: 0 written, 2 " in words
    for option in importlib.import_module(f"specgen.commands.exchange_{name}").command.params:
        if isinstance(option, click.Option):
            assert option.help and option.opts[0] in words


def test_the_group_lists_every_format_and_hints_at_a_misspelt_one():
    assert all(f"\n  {name} " in run("exchange", "--help").out for name in FORMATS)
    done = run("exchange", "idz")
    assert (done.status, done.out) == (2, "")
    assert "no format `idz`; " in done.err


@pytest.mark.parametrize("name", ENDING)
def test_a_file_that_cannot_be_used_is_told_with_its_place_and_nothing_is_written(name, tmp_path):
    job = copied(CONFORMING, tmp_path / "job", ("\nparapets:", "\nparapetz:"))
    done = run("exchange", name, job, "-o", tmp_path / f"out.{ENDING[name]}")
    assert done.status == 2
    assert f"{job / 'project.yaml'}:" in done.err and "`parapetz`" in done.err
    assert [one.name for one in tmp_path.iterdir()] == ["job"]


def test_a_missing_extra_is_told_before_anything_is_read(tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "ifcopenshell", None)
    done = run("exchange", "ifc", "no-such-project", "-o", tmp_path / "walls.ifc")
    assert done.status == 2
    assert done.err == f"{missing('bim')}\n" and "python -m pip install ifcopenshell" in done.err


def test_a_model_is_written_with_what_it_holds(tmp_path):
    pytest.importorskip("ifcopenshell", reason="ifcopenshell (extra bim) is not installed")
    done = run("exchange", "ifc", FAULTY, "-o", tmp_path / "walls.ifc")
    left = "left out: 3 joints between components: their laps and tapes are no elements\n"
    assert done == Done(0, f"{left}{tmp_path / 'walls.ifc'}: 1 parapet, 12 components\n", "")
    assert (tmp_path / "walls.ifc").read_bytes().startswith(b"ISO-10303-21;")


def test_another_file_is_left_unless_forced_and_the_same_one_is_written_again(tmp_path):
    out = tmp_path / "walls.ids"
    write_file(out, b"ours", force=False)
    write_file(out, b"ours", force=False)
    out.write_text("mine", encoding="utf-8")
    with pytest.raises(WordError, match="it was left as it is"):
        write_file(out, b"ours", force=False)
    assert out.read_bytes() == b"mine"
    with pytest.raises(WordError, match="another format"):
        write_file(out, b"ours", force=True)
    assert out.read_bytes() == b"mine"
    out.write_bytes(b"ours, changed")
    write_file(out, b"ours", force=True)
    assert out.read_bytes() == b"ours"


def test_a_project_is_not_overwritten_by_what_is_made_of_it(tmp_path):
    project = Path(shutil.copytree(FAULTY, tmp_path / "job")) / "project.yaml"
    before = project.read_bytes()
    done = run("exchange", "ids", project, "-o", project, "--force")
    assert done.status == 2 and "another format" in done.err
    assert project.read_bytes() == before


def test_what_no_model_can_be_held_against_is_listed_by_name(tmp_path):
    done = run("exchange", "ids", CONFORMING, "-o", tmp_path / "walls.ids")
    assert "left out: tape.rolled: rolled after placing: of the work on site" in done.out
    assert "left out: flashing.lap_barrier: lap over the wall barrier: of a joint" in done.out
    assert (tmp_path / "walls.ids").read_bytes().startswith(b"<?xml")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes by name on this system")
def test_a_pipe_in_the_place_of_the_file_is_refused(tmp_path):
    os.mkfifo(tmp_path / "walls.ids")
    with pytest.raises(InputError):
        write_file(tmp_path / "walls.ids", b"ours", force=False)


def test_a_project_without_a_described_part_asks_for_nothing_and_says_so(tmp_path):
    (tmp_path / "project.yaml").write_text("project: {name: Nothing Yet}\n", encoding="utf-8")
    done = run("exchange", "ids", tmp_path, "-o", tmp_path / "walls.ids")
    assert done.status == 2 and not (tmp_path / "walls.ids").exists(), done


def test_topics_bear_the_issue_date_or_the_one_that_is_given(tmp_path):
    job = copied(CONFORMING, tmp_path / "job", ("  issue_date: 2026-11-02\n", ""))
    done = run("exchange", "bcf", job, "-o", tmp_path / "walls.bcf")
    assert done.status == 2 and "state `issue_date` of the project, or give --date" in done.err
    done = run("exchange", "bcf", job, "-o", tmp_path / "walls.bcf", "--date", "2026-12-01")
    assert done.status == 0 and "topic" in done.out
