"""What is dropped onto a project: kept under a safe name and read apart, or refused with nothing left behind."""

from __future__ import annotations

import random
import shutil
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path

import pytest

from specgen.files.faults import OutputError
from specgen.files.marks import InputError
from specgen.intake.datasheet import child
from specgen.intake.datasheet.limits import MOST_BYTES, MOST_FILES
from specgen.intake.submittal import load_submission
from specgen.practice.load import load_practice
from specgen.work import uploads
from specgen.work.filed import papers_of, requests_of, submittals_of, write_new
from specgen.work.handed_in import read_chosen
from specgen.work.uploads import Accepted, Dropped, take_in
from tests.chain.runs import CONFORMING, SUBMITTAL, contents
from tests.commands.test_package import BARRIER, MAT, SEALANT, pdf
from tests.intake.sheets.hostile import crafted, many_pages
from tests.intake.sheets.layouts import LAYOUTS

PRACTICE = load_practice()
SHEET = pdf("Air and water barrier WB-1", BARRIER)
PAGE = b"<!doctype html><html><script>alert(1)</script></html>"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(CONFORMING, tmp_path / "mill"))


def drop(folder: Path, *files: tuple[str, bytes]) -> Accepted:
    return take_in(folder, [Dropped(*one) for one in files], PRACTICE, None)


def names(folder: Path) -> list[str]:
    return [path.name for path in papers_of(folder)]


def test_a_data_sheet_is_kept_and_read_into_a_submittal(folder: Path) -> None:
    before = contents(folder)
    found = drop(folder, ("WB-1 data sheet.pdf", SHEET))
    (one,) = found.products
    assert not found.refused and names(folder) == ["WB-1 data sheet.pdf"]
    submission = load_submission(one.file, PRACTICE)
    assert submission.info.word("number") == "07 27 00-02"  # the project has a submittal 07 27 00-01
    assert submission.products[0].claims["vapor_permeance"].evidence.startswith("WB-1 data sheet.pdf, page 1")
    after = contents(folder)
    assert {name: after[name] for name in before} == before
    assert len(after) == len(before) + 3  # the paper, the submittal, the page of its evidence


def test_ten_files_of_a_drop_are_sorted_by_product(folder: Path) -> None:
    sheets = (
        ("a.pdf", SHEET),
        ("b.pdf", pdf("Joint sealant JS-4", SEALANT)),
        ("c.pdf", pdf("Drainage mat DM-9", MAT)),
    )
    more = tuple(
        (f"report {n}.pdf", pdf(f"Test report {n}", (), (f"Specimen: membrane WB-1, {n}",))) for n in range(7)
    )
    found = drop(folder, *sheets, *more)
    assert sorted(one.role for one in found.products) == ["barrier", "drainage layer", "joint sealant"]
    assert len(names(folder)) == 10 and not found.refused


def test_a_paper_that_is_here_already_is_read_no_second_time(folder: Path) -> None:
    drop(folder, ("a.pdf", SHEET))
    before = contents(folder)
    (again,) = drop(folder, ("b.pdf", SHEET)).refused
    assert "says the same as a.pdf" in again.why and contents(folder) == before


def test_a_submittal_and_a_request_are_kept_as_they_are(folder: Path) -> None:
    request = (folder / "substitutions" / "mesh.yaml").read_bytes()
    found = drop(folder, ("../mine.txt", SUBMITTAL.read_bytes()), ("mesh.yaml", request))
    assert [path.relative_to(folder).as_posix() for path in found.files] == [
        "submittals/mine.yaml",
        "substitutions/mesh (2).yaml",
    ]
    assert found.files[0].read_bytes() == SUBMITTAL.read_bytes()
    assert {*found.files} <= {*submittals_of(folder), *requests_of(folder)}


def test_a_submittal_with_a_mistake_is_refused_with_its_line(folder: Path) -> None:
    text = SUBMITTAL.read_text(encoding="utf-8").replace("role: barrier", "role: barier")
    (one,) = drop(folder, ("mine.yaml", text.encode())).refused
    assert one.why.startswith("line 9: ") and "did you mean `barrier`" in one.why


CRAFTY = (
    "bomb.pdf",
    "bomb.xlsx",
    "lies.xlsx",
    "laughs.xlsx",
    "outside.xlsx",
    "locked.pdf",
    "gone.xlsx",
    "head.pdf",
)


def crafted_one(name: str) -> Callable[[], bytes]:
    return lambda: crafted()[name]


HOSTILE: tuple[tuple[str, bytes | Callable[[], bytes]], ...] = (
    ("empty.pdf", b""),
    ("page.pdf", PAGE),
    ("page.yaml", PAGE),
    ("sheet.pdf", b"\x7fELF" + bytes(400)),
    ("x.zip", crafted_one("path.xlsx")),
    ("picture.pdf", b"\x89PNG\r\n\x1a\n" + bytes(90)),
    ("old.xls", crafted_one("old.xls")),
    ("words.yaml", b"just words"),
    ("list.yaml", b"- a\n- b\n"),
    ("bad.yaml", b"submittal: {"),
    ("project.yaml", b"project: {name: x}\nsite: {}\n"),
    ("alias.yaml", b"submittal: &a [*a]\nproducts: []\n"),
    ("long.csv", crafted_one("long.csv")),
    ("line.csv", crafted_one("line.csv")),
    ("pages.pdf", partial(many_pages, 300)),
    ("many.xlsx", crafted_one("parts.xlsx")),
    *((name, crafted_one(name)) for name in CRAFTY),
)


@pytest.mark.parametrize(
    ("name", "data"), HOSTILE, ids=[f"{number} {name}" for number, (name, _) in enumerate(HOSTILE)]
)
def test_of_a_refused_file_nothing_stays(folder: Path, name: str, data: bytes | Callable[[], bytes]) -> None:
    held = data if isinstance(data, bytes) else data()
    before, began = contents(folder), time.monotonic()
    found = drop(folder, (name, held))
    assert time.monotonic() - began < child.SECONDS + 10
    assert len(found.refused) == 1 and found.refused[0].why and not found.products
    assert "Traceback" not in found.refused[0].why
    assert contents(folder) == before


def test_three_hundred_pages_are_told_as_such(folder: Path) -> None:
    (one,) = drop(folder, ("long.pdf", many_pages(300))).refused
    assert one.why == "300 pages, at most 200 (send the pages of the data sheet alone)"


def test_a_file_beyond_the_limit_is_told_with_the_limit(folder: Path) -> None:
    (one,) = drop(folder, ("big.pdf", b"%PDF-1.7" + bytes(MOST_BYTES))).refused
    assert f"at most {MOST_BYTES:,}" in one.why


def test_a_sheet_of_pictures_is_kept_for_a_person_to_read(folder: Path) -> None:
    found = drop(folder, ("scan.pdf", LAYOUTS["scanned"](3)[0]))
    assert not found.refused and not found.products and names(folder) == ["scan.pdf"]
    assert "it is a picture or blank" in found.aside[0].why
    path = read_chosen(folder, ["scan.pdf"], PRACTICE, "barrier", "WB-7")
    (product,) = load_submission(path, PRACTICE).products
    assert (product.name, product.claims) == ("WB-7", {})


def test_too_many_files_are_refused_as_one(folder: Path) -> None:
    with pytest.raises(InputError, match=f"at most {MOST_FILES}"):
        drop(folder, *[("a.pdf", SHEET)] * (MOST_FILES + 1))


NAMES = (
    "../../../etc/passwd",
    "..\\..\\win.ini",
    "C:\\con.pdf",
    "/abs.pdf",
    "NUL",
    "com1.pdf",
    "a\0b.pdf",
    "x" * 500,
    "\u202egpj.fdp",
    "／etc／x.pdf",
    ".htaccess",
    "~/x",
    "$(reboot).pdf",
    "a;b.pdf",
    "<img src=x>.pdf",
    "..",
    "",
    "con .pdf",
    "\ud800.pdf",
)


@pytest.mark.parametrize("name", NAMES, ids=ascii)
def test_whatever_the_name_the_paper_lies_below_the_project(folder: Path, name: str) -> None:
    before = set(folder.parent.rglob("*"))
    drop(folder, (name, SHEET))
    new = [path for path in folder.parent.rglob("*") if path not in before and path.is_file()]
    assert {path.parent for path in new} == {folder / "submittals", folder / "submittals" / "papers"}
    (paper,) = papers_of(folder)
    assert paper.suffix == ".pdf" and paper.name.isprintable() and not set(paper.name) & set('<>:"|?*\\/;$~')


def test_one_name_given_twice_gets_a_number(folder: Path) -> None:
    found = drop(folder, ("Sheet.pdf", SHEET), ("sheet.PDF", pdf("Joint sealant JS-4", SEALANT)))
    assert names(folder) == ["Sheet.pdf", "sheet (2).pdf"] and len(found.products) == 2


def test_ten_drops_at_once_are_all_kept_under_numbers_of_their_own(folder: Path) -> None:
    sheets = [
        pdf(f"Air and water barrier WB-{n}", (BARRIER[0], ("Pull adhesion", "ASTM D4541", f"{30 + n} psi")))
        for n in range(10)
    ]
    with ThreadPoolExecutor(10) as pool:
        found = list(pool.map(lambda data: drop(folder, ("sheet.pdf", data)), sheets))
    assert len(names(folder)) == 10
    numbers = {load_submission(one.products[0].file, PRACTICE).info.word("number") for one in found}
    assert len(numbers) == 10


def test_a_name_that_is_taken_meanwhile_is_never_written_over(folder: Path) -> None:
    path = folder / "submittals" / "barrier.yaml"
    path.write_text("ours", encoding="utf-8")
    with pytest.raises(OutputError, match="made meanwhile"):
        write_new(folder, {path: b"theirs", folder / "submittals" / "other.yaml": b"x"})
    assert path.read_text(encoding="utf-8") == "ours" and not (folder / "submittals" / "other.yaml").exists()


def test_a_link_out_of_the_project_is_not_followed(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "outside").mkdir()
    (folder / "submittals" / "papers").symlink_to(tmp_path / "outside")
    with pytest.raises(OutputError, match="leads out of"):
        drop(folder, ("a.pdf", SHEET))
    assert not list((tmp_path / "outside").iterdir())


def test_only_a_few_files_are_read_at_one_time(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    now, most = 0, 0
    real = uploads.opened

    def counted(*args: object) -> object:
        nonlocal now, most
        now += 1
        most = max(most, now)
        time.sleep(0.02 * random.random())
        found = real(*args)  # type: ignore[arg-type]
        now -= 1
        return found

    monkeypatch.setattr(uploads, "opened", counted)
    with ThreadPoolExecutor(4) as pool:
        list(pool.map(lambda n: drop(folder, (f"{n}.pdf", pdf(f"Paper {n}"))), range(4)))
    assert most <= uploads.AT_ONCE
