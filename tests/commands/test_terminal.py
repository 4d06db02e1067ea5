"""What a person sees on a terminal: lines of its width, colors that only repeat a word, a bar where it takes long."""

from __future__ import annotations

import io
import os
import re
import struct
import sys
import time

import click
import pytest

from specgen.commands import main, terminal
from specgen.commands.progress import ShareBar, bar_of, pause_bar
from specgen.commands.rules import refilled
from specgen.commands.terminal import colored, print_text, styled, wrapped
from specgen.design.progress import in_turn, part, tell
from tests.chain.runs import FAULTY, REPO, run

FINDING = (
    "C:\\jobs\\my wall\\project.yaml:41:9: defect WB01 wall barrier is mechanically fastened (parapet P-1)"
)
COLORS = {"FORCE_COLOR": "", "NO_COLOR": "", "CLICOLOR": "", "CLICOLOR_FORCE": "", "TERM": "xterm"}


class Terminal(io.StringIO):
    """A stream that says it leads to a terminal."""

    def isatty(self) -> bool:
        return True


def screens(monkeypatch: pytest.MonkeyPatch) -> tuple[Terminal, Terminal]:
    """Standard output and standard error as terminals of 60 columns; no fixture, as pytest sets its own before a test."""
    for name, value in {**COLORS, "COLUMNS": "60"}.items():
        monkeypatch.setenv(name, value)
    out, err = Terminal(), Terminal()
    monkeypatch.setattr(sys, "stdout", out)
    monkeypatch.setattr(sys, "stderr", err)
    return out, err


@pytest.mark.parametrize("width", [40, 60, 80, 100])
def test_a_line_is_wrapped_at_spaces_and_loses_no_word(width):
    for line in (
        FINDING,
        f"    reason: {FINDING}",
        styled(FINDING),
        "x" * 200,
        "",
        "    ",
        "a" * 38 + "  b" * 30,
    ):
        pieces = wrapped(line, width)
        assert " ".join(" ".join(pieces).split()) == " ".join(line.split())
        longest = max((len(click.unstyle(word)) for word in line.split()), default=0)
        assert all(len(click.unstyle(one)) <= max(width, longest + 6) for one in pieces)


def test_the_rest_of_a_line_stands_behind_its_beginning_and_columns_stay():
    assert wrapped("    source: " + "word " * 20, 40)[1].startswith("      word")
    assert wrapped("WB01  defect  barrier", 40) == ["WB01  defect  barrier"]


@pytest.mark.parametrize("line", [FINDING, FINDING.replace("C:\\jobs\\my wall\\", ""), f"new: {FINDING}"])
def test_a_severity_keeps_its_word_beside_its_color(line):
    made = styled(line)
    assert "\x1b[31m\x1b[1mdefect WB01\x1b[0m" in made
    assert click.unstyle(made) == line


def test_counts_labels_and_nothing_else_are_styled():
    counts = styled("A wall: 2 defects, 1 query, 3 unknown; 1 check passed.")
    assert re.findall(r"\x1b\[1m(.*?)\x1b", counts) == ["2 defects", "1 query", "3 unknown"]
    assert styled("    reason: Water.") == "\x1b[2m    reason: \x1b[0mWater."
    for line in ("a defect of the wall", "the reason: none", "2 defects", "   1. framing (framer)"):
        assert styled(line) == line


@pytest.mark.parametrize(
    ("environment", "on_terminal", "elsewhere"),
    [
        ({}, True, False),
        ({"NO_COLOR": "1"}, False, False),
        ({"NO_COLOR": ""}, True, False),
        ({"FORCE_COLOR": "1"}, True, True),
        ({"FORCE_COLOR": "0"}, True, False),
        ({"CLICOLOR_FORCE": "1"}, True, True),
        ({"CLICOLOR": "0"}, False, False),
        ({"CLICOLOR": "0", "FORCE_COLOR": "1"}, True, True),
        ({"TERM": "dumb"}, False, False),
        ({"FORCE_COLOR": "1", "NO_COLOR": "1"}, False, False),
    ],
    ids=str,
)
def test_when_there_are_colors(environment, on_terminal, elsewhere):
    assert colored(Terminal(), environment) is on_terminal
    assert colored(io.StringIO(), environment) is elsewhere


def test_off_a_terminal_lines_stay_whole_and_plain(monkeypatch):
    for name, value in COLORS.items():
        monkeypatch.setenv(name, value)
    plain = run("check", FAULTY)
    assert max(map(len, plain.out.splitlines())) > 120 and "\x1b" not in plain.out
    monkeypatch.setenv("FORCE_COLOR", "1")
    forced = run("check", FAULTY)
    assert "\x1b[31m" in forced.out and click.unstyle(forced.out) == plain.out


def test_a_check_on_a_terminal_has_its_width(monkeypatch):
    screen = screens(monkeypatch)
    with pytest.raises(SystemExit):
        main(["check", str(FAULTY)])
    lines = click.unstyle(screen[0].getvalue()).splitlines()
    longest = max(len(word) for line in lines for word in line.split())
    assert len(lines) > 50 and all(len(line) <= max(60, longest + 6) for line in lines)


@pytest.mark.parametrize("words", [["calc", "--subject", "coping movement"], ["rules", "WB01"]], ids=str)
def test_sheets_and_manual_pages_are_filled_to_the_width(words, monkeypatch):
    screen = screens(monkeypatch)
    with pytest.raises(SystemExit):
        main([words[0], *([str(FAULTY)] if words[0] == "calc" else []), *words[1:]])
    lines = screen[0].getvalue().splitlines()
    assert len(lines) > 10 and all(len(line) <= 60 for line in lines if str(FAULTY) not in line)


def test_a_manual_page_without_a_manual_stays():
    assert refilled("A\n\nb: c\nd: e") == "A\n\nb: c\nd: e"


def test_a_bar_opens_late_never_goes_back_and_leaves_the_line_before_words(monkeypatch):
    screen = screens(monkeypatch)
    bar = ShareBar("write", patience=0.05)
    bar.tell(0.1)
    assert screen[1].getvalue() == ""
    time.sleep(0.06)
    for share in (0.3, 0.2, 0.6):
        bar.tell(share)
    bar.pause()
    shares = re.findall(r"(\d+)%", screen[1].getvalue())
    assert shares == sorted(shares, key=int) and shares[-1] == "60"
    assert screen[1].getvalue().endswith("\n")
    bar.tell(0.7)
    bar.end()
    bar.tell(1.0)
    assert re.findall(r"(\d+)%", screen[1].getvalue())[-1] == "70"


def test_words_end_the_line_of_a_bar(monkeypatch):
    screen = screens(monkeypatch)
    monkeypatch.setattr(ShareBar.__init__, "__defaults__", (0.0,))
    with bar_of("review"):
        tell(0.5)
        print_text("left aside: a.txt", err=True)
        with part(0.5, 1.0):
            assert list(in_turn([1, 2])) == [1, 2]
    lines = screen[1].getvalue().split("\n")
    assert (
        "50%" in lines[0] and lines[1] == "left aside: a.txt" and lines[2].strip("\r").endswith("\x1b[?25h")
    )
    pause_bar()  # none is shown: nothing happens
    assert screen[1].getvalue().split("\n") == lines


def test_no_bar_where_nobody_watches(capsys):
    with bar_of("write"):
        tell(0.5)
    assert capsys.readouterr() == ("", "")


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no pseudo terminal on this system")
def test_on_a_pseudo_terminal_words_go_out_in_its_width():
    import fcntl
    import pty
    import termios

    process, handle = pty.fork()
    if process == 0:
        fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 50, 0, 0))
        os.environ.pop("COLUMNS", None)
        os.chdir(REPO)
        os.execv(sys.executable, [sys.executable, "-m", "specgen", "rules", "WB01"])
    heard = b""
    try:
        while piece := os.read(handle, 65536):
            heard += piece
    except OSError:  # its other end is closed
        pass
    assert os.waitstatus_to_exitcode(os.waitpid(process, 0)[1]) == 0
    lines = [
        one for one in click.unstyle(heard.decode()).split("\r\n") if "%" not in one
    ]  # a bar, where it is slow
    assert max(map(len, lines)) in range(45, 51)
    assert terminal.NARROWEST <= 50
