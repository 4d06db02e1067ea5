"""A written file that somebody edited is kept and told of; a run that is killed leaves no half file."""

from __future__ import annotations

import io
import json
import os
import random
import re
import shutil
import signal
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import docx
import pytest

from tests.chain.runs import CONFORMING, FAULTY, REPO, contents, copied, run
from tests.conftest import LONG

SECTION = "07-71-00-copings.docx"
BESIDE = "07-71-00-copings.new.docx"


def edited(path: Path) -> bytes:
    """The file as a person leaves it: a paragraph added and saved by a word processor."""
    word = docx.Document(io.BytesIO(path.read_bytes()))
    word.add_paragraph("Agreed on the telephone: brushed finish.")
    word.save(str(path))
    return path.read_bytes()


@pytest.fixture
def out(tmp_path, written) -> Path:
    """A folder of its own, as `write` made it."""
    return Path(shutil.copytree(written, tmp_path / "out"))


def test_an_edited_file_is_kept_the_new_one_lies_beside_and_it_is_told(out):
    new = (out / SECTION).read_bytes()
    mine = edited(out / SECTION)
    done = run("write", CONFORMING, "-o", out)
    assert done.status == 0
    assert (out / SECTION).read_bytes() == mine
    assert (out / BESIDE).read_bytes() == new
    assert f"{SECTION} was edited by hand and kept; the new text is in {BESIDE}" in done.out


def test_the_same_is_told_as_data(out):
    edited(out / SECTION)
    data = json.loads(run("write", CONFORMING, "-o", out, "--format", "json").out)
    assert data["files"]["beside"] == [[SECTION, BESIDE]]


def test_force_overwrites_the_edited_file(out):
    new = (out / SECTION).read_bytes()
    edited(out / SECTION)
    assert run("write", CONFORMING, "-o", out, "--force").status == 0
    assert (out / SECTION).read_bytes() == new
    assert not (out / BESIDE).exists()


def test_an_edit_survives_a_change_of_the_project(out, tmp_path):
    mine = edited(out / SECTION)
    project = copied(CONFORMING, tmp_path / "p", ("piece_length: 10 ft", "piece_length: 8 ft"))
    run("write", project, "-o", out)
    assert (out / SECTION).read_bytes() == mine
    word = docx.Document(io.BytesIO((out / BESIDE).read_bytes()))
    assert any("not more than 8 ft" in paragraph.text for paragraph in word.paragraphs)


def test_files_of_others_in_the_folder_stay(out):
    (out / "minutes.docx").write_bytes(b"not ours")
    (out / "trace.json.bak").write_bytes(b"not ours either")
    run("write", CONFORMING, "-o", out, "--force")
    assert (out / "minutes.docx").read_bytes() == b"not ours"
    assert (out / "trace.json.bak").read_bytes() == b"not ours either"


def test_a_folder_with_a_manifest_of_another_program_is_left_alone(tmp_path):
    out = tmp_path / "out"
    out.mkdir()
    (out / "manifest.json").write_text('{"name": "another program"}')
    done = run("write", CONFORMING, "-o", out)
    assert (done.status, contents(out)) == (2, {"manifest.json": b'{"name": "another program"}'})
    assert "not a record of an earlier run" in done.err


def test_a_review_letter_signed_by_hand_is_kept(tmp_path):
    sheet = CONFORMING / "submittals" / "top-failing.yaml"
    out = tmp_path / "letters"
    assert run("review", CONFORMING, sheet, "-o", out).status == 1
    mine = edited(out / "review-07-71-00-01.docx")
    done = run("review", CONFORMING, sheet, "-o", out)
    assert (out / "review-07-71-00-01.docx").read_bytes() == mine
    assert "review-07-71-00-01.docx was edited by hand and kept" in done.out


def test_a_killed_run_leaves_old_or_new_files_never_half(tmp_path, written):
    """Killed at random moments while one project's files replace the other's; the next run ends it."""
    good = contents(written)
    assert run("write", FAULTY, "-o", tmp_path / "faulty").status == 1
    bad = contents(tmp_path / "faulty")
    out = tmp_path / "out"
    chance = random.Random(20261102)
    rounds = 100 if LONG else 2
    killed = 0
    for turn in range(rounds):
        project = (CONFORMING, FAULTY)[turn % 2]
        killed += kill_while_writing(project, out, chance.uniform(0.0, 0.2))
        for name, content in contents(out).items() if out.exists() else ():
            if Path(name).name.startswith(".specgen-"):
                continue  # a temporary file, swept by the next run
            if name == "manifest.json":
                json.loads(content)
            else:
                name = re.sub(r"^withdrawn/[^/]*/", "", name)
                assert content in (good.get(name), bad.get(name)), f"{name} is neither old nor new"
                assert not name.endswith(".docx") or zipfile.ZipFile(io.BytesIO(content)).testzip() is None
    assert killed > 0
    assert run("write", CONFORMING, "-o", out, "--other-project").status == 0
    ended = {name: data for name, data in contents(out).items() if not name.startswith("withdrawn/")}
    assert {name: ended[name] for name in good if name != "manifest.json"} == {
        name: content for name, content in good.items() if name != "manifest.json"
    }
    assert not [name for name in ended if name.startswith(".specgen-") or ".new" in name]


def kill_while_writing(project: Path, out: Path, wait: float) -> bool:
    """Start `write`, kill it some moments after it began to write; whether the kill came before its end."""
    # The commit is told on a pipe and the disk is slow, so that the moment falls into the writing.
    program = (
        "import os, sys, time\n"
        "os.fsync = lambda handle: time.sleep(0.01)\n"
        "from specgen.commands import main\n"
        "from specgen.files.writing import OutputFolder\n"
        "commit = OutputFolder.commit\n"
        "def told(self, **words):\n"
        "    print('writing', flush=True)\n"
        "    return commit(self, **words)\n"
        "OutputFolder.commit = told\n"
        "main(sys.argv[1:])\n"
    )
    process = subprocess.Popen(
        [sys.executable, "-c", program, "write", str(project), "-o", str(out), "--other-project"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": str(REPO)},
    )
    assert process.stdout is not None
    assert process.stdout.readline() == b"writing\n"
    time.sleep(wait)
    process.kill()
    process.communicate(timeout=60)
    return process.returncode == -signal.SIGKILL
