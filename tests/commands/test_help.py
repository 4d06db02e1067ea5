"""Help: it is quick because it loads little, it names every option and exit status, and typos get a hint."""

from __future__ import annotations

import importlib
import os
import subprocess
import sys

import click
import pytest

from specgen.commands import COMMANDS, main
from tests.chain.runs import CONFORMING, REPO, run

HEAVY = {"docx", "lxml", "numpy", "scipy", "matplotlib"}
SLOW = HEAVY | {"jinja2", "cerberus", "yaml"}


def loaded(*words: str) -> set[str]:
    """The top names of the modules in a fresh process after a command."""
    program = (
        "import atexit, sys\n"
        "atexit.register(lambda: sys.stderr.write(' '.join({name.split('.')[0] for name in sys.modules})))\n"
        "from specgen.commands import main\n"
        "main(sys.argv[1:])\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, *words],
        capture_output=True,
        text=True,
        timeout=60,
        env={**os.environ, "PYTHONPATH": str(REPO)},
    )
    assert done.returncode == 0, done.stderr
    return set(done.stderr.split())


@pytest.mark.parametrize("words", [("--help",), ("-h",), ("--version",)], ids=" ".join)
def test_the_first_help_loads_no_library_but_click(words):
    found = loaded(*words)
    assert "click" in found
    assert not found & SLOW


def test_the_listing_of_modules_would_show_a_heavy_one(tmp_path):
    assert HEAVY - {"docx", "scipy", "matplotlib", "numpy"} <= loaded(
        "write", str(CONFORMING), "-o", str(tmp_path / "out")
    )


@pytest.mark.parametrize("name", COMMANDS)
def test_the_help_of_a_command_loads_neither_word_nor_arrays(name):
    assert not loaded(name, "--help") & HEAVY


def test_a_check_loads_neither_word_nor_templates():
    assert not loaded("check", str(CONFORMING)) & {"docx", "lxml", "jinja2", "matplotlib"}


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_documents_its_options_and_exit_statuses(name):
    command = importlib.import_module(f"specgen.commands.{name}").command
    done = run(name, "--help")
    assert done.status == 0
    words = " ".join(done.out.split())
    assert "Exit status: 0" in words and "2 " in words.partition("Exit status: 0")[2]
    for option in command.params:
        if isinstance(option, click.Option):
            assert option.help, f"{name} {option.name} has no help"
            assert all(spelling in words for spelling in option.opts)


def test_the_first_help_names_every_command_in_the_order_of_the_work():
    words = run("--help").out
    places = [words.index(f"\n  {name} ") for name in COMMANDS]
    assert places == sorted(places)
    assert "Exit status: 0" in words


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("chekc", "x"), "no command `chekc`; did you mean `check`?"),
        (("Write", "x"), "no command `Write`; did you mean `write`?"),
        (("zebra",), "no command `zebra`; commands: new, page, propose, check, compare"),
        (("check",), "Missing argument 'PROJECT'"),
        (("write", CONFORMING), "Missing option '-o'"),
        (("write", CONFORMING, "--outptu", "x"), "--output"),
        (("write", CONFORMING, "-o"), "requires an argument"),
        (("check", CONFORMING, "--formt", "json"), "--format"),
        (("check", CONFORMING, "--format", "xml"), "'text', 'json'"),
        (("review", CONFORMING, "-o", "x"), "Missing argument 'SUBMITTALS...'"),
        (("rules", "WB1"), "no rule `WB1`; did you mean `WB01`?"),
        (("rules", "wbO1"), "no rule `wbO1`; did you mean `WB01`?"),
        (("rules", "zebra"), "list them: specgen rules"),
        (("calc", CONFORMING, "--subject", "coping wnd"), "did you mean `coping wind`?"),
        (("calc", CONFORMING, "--parapet", "p1"), "did you mean `P-1`?"),
    ],
    ids=lambda one: " ".join(map(str, one))[-40:] if isinstance(one, tuple) else "",
)
def test_a_near_miss_exits_with_2_and_a_hint(words, expected, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    done = run(*words)
    assert done.status == 2
    assert expected in done.err
    assert not done.out
    assert not list(tmp_path.iterdir())


def test_the_printed_hint_of_new_can_be_pasted(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    done = run("new", "my first wall", "--from", "commented")
    assert "then run: specgen check 'my first wall'" in done.out
    assert run("check", "my first wall").status == 0
    again = run("new", "my first wall")
    assert (again.status, "exists; it was left as it is" in again.err) == (2, True)


@pytest.mark.skipif(os.name == "nt", reason="pipes of POSIX: not run on Windows")
def test_a_reader_that_has_seen_enough_gets_no_error():
    process = subprocess.Popen(
        [sys.executable, "-m", "specgen", "calc", str(CONFORMING)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=REPO,
    )
    assert process.stdout is not None and process.stderr is not None
    process.stdout.close()
    assert process.stderr.read() == b""
    process.stderr.close()
    assert process.wait(60) != 0


def test_the_module_runs_as_the_command_does():
    done = subprocess.run(
        [sys.executable, "-m", "specgen", "rules", "WB01"],
        capture_output=True,
        text=True,
        timeout=60,
        cwd=REPO,
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.rstrip("\n") == run("rules", "WB01").out.rstrip("\n")


def help_of(width: int) -> dict[str, str]:
    """The help of every command in a width."""
    found: dict[str, str] = {}

    def add(command: click.Command, name: str, parent: click.Context | None) -> None:
        context = command.context_class(
            command, info_name=name, parent=parent, terminal_width=width, max_content_width=width
        )
        found[context.command_path] = command.get_help(context)
        for inner in command.list_commands(context) if isinstance(command, click.Group) else ():
            part = command.get_command(context, inner)
            assert part is not None
            add(part, inner, context)

    add(main, "specgen", None)
    return found


def test_help_fits_into_every_width_and_tears_no_word():
    wide = help_of(400)
    assert len(wide) > len(COMMANDS) + 1
    for width in (60, 80, 100):
        for name, text in help_of(width).items():
            assert text.split() == wide[name].split(), (name, width)
            assert max(map(len, text.splitlines())) <= width, (name, width)
