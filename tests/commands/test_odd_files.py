"""Whatever kind of file stands where one is read: no command hangs, none fails, the message names it and the fix."""

from __future__ import annotations

import importlib
import os
import shutil
import signal
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result

from specgen.commands import COMMANDS, main
from tests.chain.runs import CONFORMING, SUBMITTAL, copied
from tests.conftest import sampled

HERE = ("project", "facts", "paths")  # which may be left out in the folder of a project
MOST_SECONDS = 20.0  # for a run that ends at once; others may run beside it
ENDING = {
    "datasheets": ".pdf",
    "file": ".docx",
    "template": ".docx",
    "weather": ".epw",
    "merge": ".xlsx",
    "schedule": ".yaml",
}


def _pipe(path: Path) -> None:
    os.mkfifo(path)


def _sparse(path: Path) -> None:
    with path.open("wb") as file:
        file.truncate(10_000_000_000)


def _to(target: str) -> Callable[[Path], None]:
    return lambda path: path.symlink_to(target)


# What may stand in the place of a file; a device is led to by a link, as nobody may make one here.
ODD: dict[str, Callable[[Path], None]] = {
    "pipe": _pipe,
    "endless device": _to("/dev/zero"),
    "empty device": _to("/dev/null"),
    "terminal": _to("/dev/tty"),
    "memory of a process": _to("/proc/self/mem"),
    "kernel's own": _to("/proc/kmsg"),
    "folder": Path.mkdir,
    "ten gigabytes": _sparse,
    "empty": Path.touch,
    "link to itself": lambda path: path.symlink_to(path.name),
    "link to nothing": _to("nowhere"),
}


@contextmanager
def alarm(seconds: float) -> Iterator[None]:
    """Break a wait that would have no end."""

    def late(*_: object) -> None:
        raise pytest.fail.Exception(f"more than {seconds} s")  # no error that a command would tell as one

    before = signal.signal(signal.SIGALRM, late)
    signal.setitimer(signal.ITIMER_REAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


def tried(*words: object) -> Result:
    """Run a command within the time, and never with a fault or a traceback."""
    started = time.monotonic()
    with alarm(MOST_SECONDS):
        done = CliRunner().invoke(main, [str(word) for word in words])
    assert time.monotonic() - started < MOST_SECONDS
    assert done.exception is None or isinstance(done.exception, SystemExit), (words, done.exception)
    assert done.exit_code in (0, 1, 2, 3), (words, done.output)
    return done


def file_parameters() -> Iterator[tuple[str, click.Parameter]]:
    """Every argument and option of every command that names a file or folder to read."""
    for name in COMMANDS:
        command = importlib.import_module(f"specgen.commands.{name}").command
        yield from (
            (name, one) for one in command.params if isinstance(one.type, click.Path) and one.name != "plots"
        )


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(
        "specgen.page.serve.serve", lambda _desk, sock, _ready, **_: sock.close()
    )  # it would not end
    return copied(CONFORMING, tmp_path / "job")


def words_for(name: str, odd: click.Parameter, path: Path, job: Path) -> list[str]:
    """A command line that is sound but for the one file."""
    command = importlib.import_module(f"specgen.commands.{name}").command
    sound = {
        "project": job,
        "facts": job,
        "before": job,
        "after": job,
        "submittals": SUBMITTAL,
        "requests": CONFORMING / "substitutions" / "mesh.yaml",
        "output": "out.yaml" if name == "read" else "out",
        "paths": job,
        "folder": job.parent,
        "file": "project",  # of which `schema` prints the schema
        "paper": SUBMITTAL,
        "by": "architect, A. B.",
        "day": "2026-12-03",
        "result": "approved",
    }
    words: list[str] = [name]
    if name == "upgrade" and odd.name in ("office", "weather", "clauses"):  # read only beside an issue
        words += ["--issued", str(job.parent)]
    if (name, odd.name) == ("check", "template"):  # of the form to send
        words += ["--questions", "-o", "out"]
    for one in command.params:
        given = path if one is odd else sound.get(str(one.name)) if one.required or one.name in HERE else None
        if given is not None:
            words += [str(given)] if isinstance(one, click.Argument) else [one.opts[-1], str(given)]
    return words


@pytest.mark.parametrize(
    ("name", "one"), [pytest.param(name, one, id=f"{name}-{one.name}") for name, one in file_parameters()]
)
def test_every_place_for_a_file_takes_no_odd_file(name: str, one: click.Parameter, job: Path) -> None:
    for kind in sampled("odd files at each place", ODD, f"{name} {one.name}"):
        make = ODD[kind]
        path = job.parent / f"odd{ENDING.get(str(one.name), '.yaml')}"
        make(path)
        done = tried(*words_for(name, one, path, job))
        if (name, one.name) == ("audit", "office"):  # each project is told as one that cannot be read
            assert done.exit_code == 2 or "1 with files that cannot be used" in done.output, kind
            shutil.rmtree("out", ignore_errors=True)
        elif not (
            kind == "folder"
            and (
                one.name in ("paths", "folder", "issued", "clauses")
                or (name, one.name) == ("page", "project")
            )
        ):  # an empty folder is one
            assert done.exit_code == 2, (kind, done.output)
            assert path.stem in done.output, (kind, done.output)
        path.rmdir() if kind == "folder" else path.unlink()
        assert [made.name for made in job.parent.iterdir()] == ["job"], kind


@pytest.mark.parametrize("name", ["manifest.json", "issue.json"])
@pytest.mark.parametrize("kind", [one for one in ODD if one != "empty"])
def test_an_odd_record_in_the_output_folder_is_told(kind: str, name: str, job: Path) -> None:
    (job.parent / "out").mkdir()
    ODD[kind](job.parent / "out" / name)
    done = tried("write", job, "-o", "out")
    assert done.exit_code == 2 and name in done.output, done.output
    assert [one.name for one in (job.parent / "out").iterdir()] == [name]
