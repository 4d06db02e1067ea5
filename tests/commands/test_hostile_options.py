"""Whatever stands in an option ends with a status, never with a traceback or a file elsewhere.

JSON and SARIF stay valid documents.
"""

from __future__ import annotations

import importlib
import json
import os
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.commands import COMMANDS, main
from tests.chain.runs import REPO, SUBMITTAL

SMALL = REPO / "tests" / "rules" / "base.yaml"
LONG = os.environ.get("SPECGEN_LONG") == "1"
DRAWN = 5_000 if LONG else 300
HOSTILE = (
    "x" * 300, "x" * 5000, "a\0b", "\udc80", "\n", "", " ", "-", "--", "..", "/", "/dev/null", "/proc/self/mem", "~",
    "inf", "-inf", "nan", "1e999", "-1", "9" * 400, "=", "a=", "=b", "P-1.height=inf", "P-1.height=1e999 m",
    "site.wind_speed=nan mph", "P-1.coping=x", "practice.coping.drip=x", "{}", "[]", "!!python/object:os.system",
    "%s%n", "\u202e", "\x1b[2J", "a/b/../../c", "con", "*", "2026-13-45", "tcp://[::1", "http://x", "\\\\x\\y",
)  # fmt: skip
FEW = ("x" * 300, "a\0b", "\udc80", "P-1.height=inf", "inf", "{}")
# What an option is tried on: a project that is read where the option is weighed against it, else one that is absent, so
# that what follows upon a good value costs nothing.
READS_PROJECT = ("--set", "--subject", "--parapet", "--layer", "--place", "--code", "--severity", "--state")
BASE = {
    "new": ("made/new",),
    "compare": ("absent", "absent"),
    "propose": ("absent", "-o", "out"),
    "write": ("absent", "-o", "out"),
    "read": ("absent.pdf", "-o", "absent/out.yaml"),
    "review": ("absent", str(SUBMITTAL), "-o", "out"),
    "substitute": ("absent", "absent.yaml", "-o", "out"),
    "letters": ("absent", "-o", "out"),
    "register": ("absent", "-o", "out"),
    "accept": ("absent", "absent.yaml", "--by", "a", "--date", "2026-12-03", "--result", "approved"),
    "audit": ("absent", "-o", "out"),
    "rules": (),
    "template": ("absent.docx",),
    "schema": (),
}


def parameters() -> Iterator[tuple[str, str]]:
    """Every command with every option that takes words; "" for its arguments."""
    for name in COMMANDS:
        command = importlib.import_module(f"specgen.commands.{name}").command
        for one in command.params:
            if isinstance(one, click.Argument):
                yield name, ""
            elif not one.is_flag and one.opts[-1] != "--format":
                yield name, one.opts[-1]


ALL = tuple(dict.fromkeys(parameters()))


def line(name: str, option: str, words: str) -> list[str]:
    """A command line with words in one place."""
    form = [] if name in ("new", "schema") else ["--format", "json"]
    if not option:
        out = [] if name in ("new", "schema", "rules") else ["-o", "out"]
        printing = ("check", "calc", "hourly", "layers", "sequence", "template", "compare")
        out = [] if name in printing else out
        more = {"compare": ["absent"], "review": ["absent.yaml"], "substitute": ["absent.yaml"]}.get(name, [])
        return [name, words, *more, *out, *form]
    base = [*BASE.get(name, ("absent",))]
    if option in READS_PROJECT:
        base[0] = str(SMALL)
    if option == "--output" and "-o" in base:
        base = base[: base.index("-o")]
    return [name, *base, *form, option, words]


def tried(name: str, option: str, words: str) -> None:
    """Run it and hold what it left against the promise."""
    if (name, option) == ("audit", ""):  # it looks into every folder below
        words = f"made/{words}"
    if name == "new":  # it writes: below a folder that no other command is given
        words = f"made/{words.replace('..', '')}"
    done = CliRunner().invoke(main, line(name, option, words))
    at = f"{name} {option} {words[:60]!r}: {done.exception!r} {done.stderr[-400:]}"
    assert done.exception is None or isinstance(done.exception, SystemExit), at
    assert done.exit_code in (0, 1, 2, 3), at
    assert "Traceback" not in done.output, at
    assert {path.name for path in Path.cwd().iterdir()} <= {"out", "made"}, at
    if done.exit_code == 2 and name not in ("new", "schema") and not words.startswith("-"):
        made = json.loads(done.stdout)
        assert made["status"] == 2 and made["errors"] and all(one["message"] for one in made["errors"]), at


@pytest.fixture(autouse=True)
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


@pytest.mark.parametrize(("name", "option"), ALL)
def test_words_that_nobody_expects(name: str, option: str) -> None:
    for words in HOSTILE if LONG else FEW if option in READS_PROJECT else HOSTILE[:30]:
        tried(name, option, words)


@settings(max_examples=DRAWN, deadline=None)
@given(st.sampled_from(ALL), st.text(max_size=60))
def test_any_words_at_all(place: tuple[str, str], words: str) -> None:
    tried(*place, words)


def test_a_fault_in_an_option_is_one_line_and_a_document(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise KeyError("two\nlines")

    monkeypatch.setattr("pathlib.Path.is_symlink", broken)
    done = CliRunner().invoke(main, ["write", "job", "-o", "out", "--format", "json"])
    assert done.exit_code == 70 and done.stderr.count("\n") == 1 and "KeyError" in done.stderr
    assert json.loads(done.stdout)["status"] == 70
    assert CliRunner().invoke(main, ["new", "out"]).exit_code == 70
