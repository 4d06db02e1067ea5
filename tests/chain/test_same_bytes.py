"""The same project gives the same bytes: in any folder, process, time zone, language, hash order and Python."""

from __future__ import annotations

import builtins
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterable
from functools import cache
from pathlib import Path

import pytest

from tests.chain.runs import CONFORMING, REPO, SUBMITTAL, contents, run
from tests.conftest import LONG

PROJECTS = sorted(file.parent for file in (REPO / "tests" / "stated").glob("*/project.yaml"))
OTHERS = [one for one in ("3.11", "3.12", "3.13") if one != f"{sys.version_info[0]}.{sys.version_info[1]}"]
DEPENDENCIES = (
    "click, yaml, cerberus, jinja2, docx, lxml, numpy, scipy, xlsxwriter, openpyxl, reportlab, pypdfium2, PIL"
)

WORLDS = (
    {"PYTHONHASHSEED": "1", "TZ": "Pacific/Kiritimati", "LC_ALL": "C.UTF-8", "COLUMNS": "60"},
    {"PYTHONHASHSEED": "2", "TZ": "America/St_Johns", "LC_ALL": "C", "PYTHONUTF8": "0", "COLUMNS": "200"},
)

# Languages in which a comma parts decimals, i has a capital of its own, or letters are no UTF-8; made by `locale-gen`.
LANGUAGES = ("de_DE.UTF-8", "tr_TR.UTF-8", "tr_TR.ISO-8859-9")


def command(
    world: dict[str, str],
    cwd: Path,
    *words: object,
    python: str = sys.executable,
    ends: tuple[int, ...] = (0,),
) -> str:
    """Run specgen in a process of its own, told where the package is and nothing else of this one; how it may end."""
    keep = {key: os.environ[key] for key in ("PATH", "HOME", "SYSTEMROOT") if key in os.environ}
    done = subprocess.run(
        [python, "-m", "specgen", *map(str, words)],
        cwd=cwd,
        env={**keep, **world, "PYTHONPATH": str(REPO), "PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
        timeout=120,
    )
    assert done.returncode in ends, done.stderr.decode("utf-8", "replace")
    return done.stdout.decode("utf-8", "replace")


@pytest.mark.always
def test_write_and_review_give_the_same_bytes_everywhere(tmp_path, written):
    near, far = tmp_path / "near", tmp_path / "far" / "a b" / "Büro"
    for place in (near, far):
        place.mkdir(parents=True)
        shutil.copytree(CONFORMING, place / "job")
    command(WORLDS[0], near, "write", "job", "-o", "out")
    command(WORLDS[1], tmp_path, "write", far / "job" / "project.yaml", "-o", far / "out")
    first, second = contents(near / "out"), contents(far / "out")
    assert first == second
    assert set(first) == {"manifest.json", *json.loads(first["manifest.json"])["files"]}
    # Nor does it matter that the test wrote it in its own process, from the checkout.
    assert first == contents(written)

    command(WORLDS[0], near, "review", "job", f"job/submittals/{SUBMITTAL.name}", "-o", "letters")
    sheet = far / "job" / "submittals" / SUBMITTAL.name
    command(WORLDS[1], tmp_path, "review", far / "job", sheet, "-o", far / "letters")
    letters = contents(near / "letters")
    assert letters == contents(far / "letters")
    assert len(letters) == 3


@pytest.mark.parametrize("folder", ["written", "reviewed"])
def test_no_file_names_a_folder_of_this_machine(folder, request):
    for name, content in contents(request.getfixturevalue(folder)).items():
        if name.endswith(".json"):
            assert b"tests/stated/" not in content and str(REPO).encode() not in content, name


def test_a_second_run_touches_nothing(tmp_path):
    out = tmp_path / "out"
    run("write", CONFORMING, "-o", out)
    before = {path: path.stat().st_mtime_ns for path in out.rglob("*")}
    run("write", CONFORMING, "-o", out)
    assert {path: path.stat().st_mtime_ns for path in out.rglob("*")} == before


@pytest.mark.parametrize("project", PROJECTS if LONG else PROJECTS[::3], ids=lambda one: one.name)
def test_no_floats_are_added_by_sum(project, tmp_path, monkeypatch):
    """From Python 3.12 on `sum` of floats rounds otherwise: what is added for paper goes through `math.fsum`."""
    plain = builtins.sum
    adders = set()

    def watched(numbers: Iterable[object], /, start: object = 0) -> object:
        held = list(numbers)
        caller = sys._getframe(1)
        if caller.f_globals["__name__"].startswith("specgen.") and any(
            isinstance(one, float) for one in held
        ):
            adders.add(f"{caller.f_globals['__name__']}:{caller.f_lineno}")
        return plain(held, start)

    monkeypatch.setattr(builtins, "sum", watched)
    run("write", project, "-o", tmp_path / "out")
    assert not adders


@cache
def interpreter(version: str) -> str:
    """Another Python that has the dependencies of specgen: named in SPECGEN_PYTHONS, or found on the path; else ""."""
    named = os.environ.get("SPECGEN_PYTHONS", "").split(os.pathsep)
    ask = f"import sys, {DEPENDENCIES}; print('%d.%d' % sys.version_info[:2])"
    for one in (*named, shutil.which(f"python{version}")):
        if one and subprocess.run([one, "-c", ask], capture_output=True, text=True).stdout.strip() == version:
            return one
    return ""


@pytest.mark.parametrize("project", PROJECTS if LONG else [CONFORMING], ids=lambda one: one.name)
@pytest.mark.parametrize(
    "version",
    OTHERS,
)
def test_every_python_gives_the_same_bytes(version, project, tmp_path):
    python = interpreter(version)
    if not python:
        pytest.skip(f"no Python {version} with the dependencies of specgen: name one in SPECGEN_PYTHONS")
    command(WORLDS[0], tmp_path, "write", project, "-o", "here", ends=(0, 1, 3))  # an example may hold faults
    command(WORLDS[1], tmp_path, "write", project, "-o", "there", python=python, ends=(0, 1, 3))
    here, there = contents(tmp_path / "here"), contents(tmp_path / "there")
    assert here.keys() == there.keys()
    assert not [name for name in here if here[name] != there[name]]


@cache
def languages() -> frozenset[str]:
    """The languages that this machine knows, as `locale` spells them."""
    found = shutil.which("locale")
    listed = subprocess.run([found, "-a"], capture_output=True, text=True).stdout.split() if found else []
    return frozenset(one.replace("-", "").lower() for one in listed)


@pytest.mark.skipif(not LONG, reason="a minute: run by make test-long")
@pytest.mark.parametrize("language", LANGUAGES)
def test_every_language_gives_the_same_bytes(language, tmp_path, written):
    if language.replace("-", "").lower() not in languages():
        pytest.skip(f"this machine does not know {language}: add it to /etc/locale.gen and run locale-gen")
    world = {
        "LC_ALL": language,
        "LANG": language,
        "PYTHONUTF8": "0",
        "PYTHONHASHSEED": "7",
        "TZ": "Asia/Tokyo",
    }
    shutil.copytree(CONFORMING, tmp_path / "job")
    command(world, tmp_path, "write", "job", "-o", "out")
    assert contents(tmp_path / "out") == contents(written)
