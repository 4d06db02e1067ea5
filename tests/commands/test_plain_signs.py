"""Consoles that lack signs: nothing that is printed fails, and nothing loses its meaning."""

from __future__ import annotations

import io
import os
import re
import shutil
import subprocess
import sys
import unicodedata

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.commands import main
from specgen.commands.plain_signs import as_written, plain_signs, write_plainly
from tests.chain.runs import CONFORMING, FAULTY, REPO, SUBMITTAL, run
from tests.conftest import LONG

ENCODINGS = ("cp1252", "ascii", "cp437", "latin-1")


@settings(max_examples=200 if LONG else 30)
@given(st.text(max_size=30))
def test_any_text_is_written_in_any_encoding_and_stays_where_it_can(text):
    for encoding in ENCODINGS:
        stream = io.TextIOWrapper(io.BytesIO(), encoding=encoding, newline="")
        write_plainly(stream)
        stream.write(text)
        stream.flush()
        made = stream.buffer.getvalue().decode(encoding)  # type: ignore[attr-defined]
        assert made == as_written(text, stream)
        assert len(made) >= len([sign for sign in text if not unicodedata.combining(sign)])
    assert as_written(text, io.StringIO()) == text.encode("utf-8", "backslashreplace").decode()


def test_two_signs_of_formulas_are_never_one():
    signs = "αβγδεζηθικλμνξοπρστυφχψωΔΣΦΨΩΓΛΘ≤≥≠≈±√×→←…⁰⁴⁵⁶⁷⁸⁹⁻₁₂"
    made = {sign: plain_signs(sign) for sign in signs}
    assert all(one.isascii() and not one.startswith("\\") for one in made.values())
    assert len(set(made.values())) == len(signs)


def printed(encoding: str, *words: object) -> tuple[int, str, str]:
    """A run whose streams have an encoding of Windows, with the switches that a person there may have set."""
    done = subprocess.run(
        [sys.executable, "-m", "specgen", *map(str, words)],
        env={**os.environ, "PYTHONPATH": str(REPO), "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0", "LC_ALL": "C"},
        capture_output=True,
        cwd=REPO,
        timeout=120,
    )  # fmt: skip
    return done.returncode, done.stdout.decode(encoding), done.stderr.decode(encoding)


def test_a_calculation_in_code_page_1252_says_the_same():
    words = ("calc", CONFORMING, "--subject", "coping movement", "--parapet", "P-1")
    whole = run(*words).out
    status, out, err = printed("cp1252", *words)
    assert (status, err) == (0, "")
    assert "α" in whole and "alpha    expansion coefficient" in out and "10^-5 in/(in·°F)" in out
    numbers = re.compile(r"\d+(?:\.\d+)?")
    assert numbers.findall(out.replace("^-5", "⁻⁵")) == numbers.findall(whole)
    assert "\\u" not in out


EVERY = (
    ("--help",),
    ("check", FAULTY),
    ("check", FAULTY, "--explain"),
    ("check", FAULTY, "--questions"),
    ("calc", CONFORMING),
    ("calc", REPO / "projects" / "marine-library", "--format", "md"),
    ("layers", FAULTY),
    ("sequence", CONFORMING),
    ("compare", CONFORMING, FAULTY),
    ("write", CONFORMING, "-o", "out"),
    ("review", CONFORMING, SUBMITTAL, "-o", "review"),
    ("substitute", CONFORMING, CONFORMING / "substitutions" / "mesh.yaml", "-o", "substitution"),
    ("letters", CONFORMING, "-o", "letters"),
    ("register", CONFORMING, "-o", "register"),
    ("comment", CONFORMING),
    ("upgrade", FAULTY),
    ("rules",),
    ("rules", "VD01"),
    ("schema", "project", "--list"),
    ("check", "no-such"),
)


@pytest.mark.parametrize("encoding", ENCODINGS if LONG else ENCODINGS[:1])
def test_every_command_in_an_encoding_without_greek(encoding, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for words in EVERY if LONG else EVERY[:2]:
        line = [str(one) for one in words]
        done = CliRunner(charset=encoding).invoke(main, line)
        assert done.exit_code in (0, 1, 2, 3) and (done.exit_code == 2) == ("no-such" in line), (
            line,
            done.stderr,
        )
        printed_text = done.stdout + done.stderr
        assert (
            printed_text.strip()
            and "\\u" not in printed_text
            and "\N{REPLACEMENT CHARACTER}" not in printed_text
        )
        shutil.rmtree("out", ignore_errors=True)
