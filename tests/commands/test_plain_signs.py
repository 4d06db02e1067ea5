"""Consoles that lack signs: nothing that is printed fails, and nothing loses its meaning."""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.commands.plain_signs import as_written, plain_signs, write_plainly
from tests.chain.runs import CONFORMING, REPO, run
from tests.conftest import LONG
from tests.readme_tour import README, blocks, commands

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


@pytest.mark.skipif(not LONG, reason="the commands of the README in three encodings: tried by make test-long")
@pytest.mark.parametrize("encoding", ENCODINGS[:3])
def test_every_command_of_the_readme_in_an_encoding_without_greek(encoding, tmp_path, monkeypatch):
    lines = [one for block in blocks(README.read_text("utf-8")) for one in commands(block)]
    tried = 0
    for line in lines:
        if not line.startswith("specgen ") or "*" in line or "my-wall" in line or "first-wall" in line:
            continue
        words = re.sub(r"output(\S*)", rf"{tmp_path}/o\1", line).replace(
            '"coping movement"', "coping-movement"
        )
        given_words = [one.replace("coping-movement", "coping movement") for one in words.split()[1:]]
        status, out, err = printed(encoding, *given_words)
        assert status in (0, 1, 3), (line, err)
        assert "Traceback" not in err and "\\u" not in out and out.strip(), line
        tried += 1
    assert tried >= 5
