"""The extras of pyproject.toml, and the one sentence that is printed where one is missing, before any work."""

from __future__ import annotations

import re
import tomllib

import pytest

from specgen.files import extras
from specgen.files.extras import EXTRAS, missing
from tests.chain.runs import CONFORMING, REPO, run

DEVELOPERS = ("test", "manual")  # what only those need who change specgen
ABSENT = {  # command lines that need an extra; the project of none of them is there
    "plots": ("calc", "no-such", "--plots", "plots"),
    "studies": ("calc", "no-such", "--subject", "uncertainty"),
    "portfolio": ("audit", "no-such", "-o", "out", "--engine", "dask", "--scheduler", "tcp://127.0.0.1:9"),
    "bim": ("exchange", "ifc", "no-such", "-o", "out.ifc"),
    "pdf": ("write", "no-such", "-o", "out", "--pdf"),
    "page": ("page", "no-such"),
}


@pytest.fixture
def without(monkeypatch):
    """Nothing of any extra is installed."""
    monkeypatch.setattr(extras, "find_spec", lambda name: None)


def test_the_table_names_what_pyproject_names():
    written = tomllib.loads((REPO / "pyproject.toml").read_text("utf-8"))["project"]["optional-dependencies"]
    named = {
        extra: {re.split(r"[\[<>=~ ]", one)[0] for one in packages}
        for extra, packages in written.items()
        if extra not in DEVELOPERS
    }
    assert named == {extra: set(one.packages.values()) for extra, one in EXTRAS.items()}


def test_what_is_installed_is_not_missing():
    assert all(missing(extra) == "" for extra in EXTRAS)


def test_the_sentence_names_the_work_and_one_line_to_paste(without):
    assert missing("page") == (
        "missing for the page: starlette, uvicorn, python-multipart; install the extra `page`: "
        "python -m pip install starlette uvicorn python-multipart"
    )


@pytest.mark.parametrize("extra", ABSENT)
def test_it_is_the_first_and_only_word_of_a_command(extra, without, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    done = run(*ABSENT[extra])
    assert (done.status, done.out, done.err.strip()) == (2, "", missing(extra))
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    "words",
    [("hourly", "no-such"), ("propose", "no-such", "-o", "out", "--hourly"),
     ("substitute", "no-such", CONFORMING / "project.yaml", "-o", "out", "--hourly")],
    ids=lambda words: words[0],
)  # fmt: skip
def test_that_hours_take_long_is_the_first_word(words, without, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert run(*words).err.startswith(missing("hourly") + "; without it")
