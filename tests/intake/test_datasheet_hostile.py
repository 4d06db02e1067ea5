"""Files made to do harm: one clear error or a sound product file; never a crash, a hang or a file elsewhere.

560 files with ``SPECGEN_LONG=1``; else a seeded sample of 28 beside the named ones.
"""

from __future__ import annotations

import os
import random
import time
from pathlib import Path

import pytest
from click.testing import CliRunner

from specgen.commands import main
from specgen.intake.datasheet import child
from specgen.intake.datasheet.limits import SECONDS
from specgen.intake.submittal import load_submission
from specgen.practice.load import load_practice
from tests.intake.sheets.hostile import CRAFTED, case

LONG = os.environ.get("SPECGEN_LONG") == "1"
ALL = 560
SLOW = {2, 6, 8, 30, 31}  # seconds each
QUICK = sorted({*random.Random(20).sample(sorted(set(range(len(CRAFTED))) - SLOW), 14), *range(60, 74)})


def files_in(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*")}


@pytest.mark.parametrize("seed", range(ALL) if LONG else QUICK)
def test_a_hostile_file_is_refused_or_read(seed: int, tmp_path: Path) -> None:
    name, data = case(seed)
    source, out = tmp_path / "in" / name, tmp_path / "out"
    source.parent.mkdir()
    out.mkdir()
    source.write_bytes(data)
    before, began = files_in(tmp_path), time.monotonic()
    done = CliRunner().invoke(
        main, ["read", str(source), "--role", "barrier", "-o", str(out / "product.yaml")]
    )
    assert time.monotonic() - began < SECONDS + 20
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    new = files_in(tmp_path) - before
    if done.exit_code == 2:
        assert new == set()
        assert "error: " in done.stderr
        assert "fix: " in done.stderr
        assert "Traceback" not in done.stderr
        return
    assert done.exit_code == 0
    assert new == {"out/product.yaml", "out/product-evidence.html"}
    (product,) = load_submission(out / "product.yaml", load_practice()).products
    assert product.role == "barrier"
    page = (out / "product-evidence.html").read_text()
    assert "<script" not in page
    assert "<img src=x" not in page


def test_ten_thousand_pages_are_refused_at_once(tmp_path: Path) -> None:
    source = tmp_path / "many.pdf"
    source.write_bytes(CRAFTED[0]()[1])
    began = time.monotonic()
    done = CliRunner().invoke(
        main, ["read", str(source), "--role", "barrier", "-o", str(tmp_path / "p.yaml")]
    )
    assert done.exit_code == 2
    assert "10000 pages, at most 200" in done.stderr
    assert time.monotonic() - began < 5


def test_a_locked_pdf_says_so(tmp_path: Path) -> None:
    source = tmp_path / "locked.pdf"
    source.write_bytes(CRAFTED[5]()[1])
    done = CliRunner().invoke(
        main, ["read", str(source), "--role", "barrier", "-o", str(tmp_path / "p.yaml")]
    )
    assert done.exit_code == 2
    assert "locked with a password" in done.stderr


def test_a_reader_that_hangs_or_dies_is_a_clear_error(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    source = tmp_path / "sheet.csv"
    source.write_text("Vapor permeance,14 perms\n")
    fakes = tmp_path / "fakes"
    package = fakes / "specgen" / "intake" / "datasheet"
    package.mkdir(parents=True)
    for folder in (package, package.parent, package.parent.parent):
        (folder / "__init__.py").write_text("")
    monkeypatch.setattr(child, "_environment", lambda: {"PYTHONPATH": str(fakes)})
    monkeypatch.setattr(child, "SECONDS", -4.0)
    arguments = ["read", str(source), "--role", "barrier", "-o", str(tmp_path / "p.yaml")]
    for body, printed in (
        ("import time; time.sleep(30)", "it took more than"),
        ("import os; os.abort()", "made its reader fail"),
    ):
        (package / "worker.py").write_text(body)
        done = CliRunner().invoke(main, arguments)
        assert done.exit_code == 2
        assert printed in done.stderr
        monkeypatch.setattr(child, "SECONDS", 60.0)


@pytest.mark.parametrize(
    "name",
    ["a\nb.csv", "<script>.csv", "{{ 7*7 }}.csv", "-o.csv", "a'\"b.csv", "\u202efdp.csv", "x" * 200 + ".csv"],
)
def test_a_strange_name_stays_a_name(name: str, tmp_path: Path) -> None:
    source = tmp_path / name
    source.write_text("Vapor permeance,14 perms,ASTM E96 Procedure B\n")
    out = tmp_path / "out"
    out.mkdir()
    done = CliRunner().invoke(
        main, ["read", "--role", "barrier", "-o", str(out / "p.yaml"), "--", str(source)]
    )
    assert done.exit_code == 0, done.stderr
    assert {path.name for path in out.iterdir()} == {"p.yaml", "p-evidence.html"}
    (product,) = load_submission(out / "p.yaml", load_practice()).products
    assert "\n" not in product.name
    assert "<script>" not in (out / "p-evidence.html").read_text()
    assert product.claims["vapor_permeance"].method == "ASTM E96 Procedure B"


def test_what_is_no_file_is_refused(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.pdf")
    (tmp_path / "loop.pdf").symlink_to(tmp_path / "loop.pdf")
    for path in (
        tmp_path / "pipe.pdf",
        tmp_path / "loop.pdf",
        tmp_path,
        Path("/dev/zero"),
        tmp_path / "none.pdf",
    ):
        done = CliRunner().invoke(
            main, ["read", str(path), "--role", "barrier", "-o", str(tmp_path / "p.yaml")]
        )
        assert done.exit_code == 2, path
        assert "error: " in done.stderr
    assert not (tmp_path / "p.yaml").exists()


def test_an_output_that_is_a_link_or_nowhere_is_refused(tmp_path: Path) -> None:
    source = tmp_path / "sheet.csv"
    source.write_text("Vapor permeance,14 perms\n")
    (tmp_path / "link.yaml").symlink_to(tmp_path / "elsewhere.yaml")
    for target in ("link.yaml", "none/p.yaml", "p.txt"):
        done = CliRunner().invoke(
            main, ["read", str(source), "--role", "barrier", "-o", str(tmp_path / target)]
        )
        assert done.exit_code == 2
    assert files_in(tmp_path) == {"sheet.csv", "link.yaml"}
