"""A folder of mixed paper: every paper goes to its product or is set aside with the reason. Invented papers."""

from __future__ import annotations

import io
import json
import random
from pathlib import Path

import pytest
from openpyxl import Workbook
from PIL import Image
from reportlab.lib.pagesizes import letter
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen import canvas

from specgen.intake.submittal import load_submission
from specgen.practice.load import load_practice
from tests.chain.runs import CONFORMING, run

BARRIER = (("Vapor permeance", "ASTM E96 Procedure B", "14 perms"), ("Dry film thickness", "", "40 mils"))
SEALANT = (("Movement capability", "ASTM C719", "50 %"), ("Adhesion in peel", "ASTM C794", "25 lbf/in"))
MAT = (("Drainage depth", "", "0.44 in"), ("Drainage efficiency", "ASTM E2273", "95 %"))


def pdf(
    title: str, rows: tuple[tuple[str, ...], ...] = (), lines: tuple[str, ...] = (), picture: bool = False
) -> bytes:
    out = io.BytesIO()
    page = canvas.Canvas(out, pagesize=letter, invariant=1)
    if picture:
        page.drawImage(ImageReader(Image.new("L", (400, 500), 200)), 72, 100, 400, 500)
    else:
        page.setFont("Helvetica-Bold", 18)
        page.drawString(72, 720, title)
        page.setFont("Helvetica", 10)
        for at, line in enumerate(lines):
            page.drawString(72, 690 - 16 * at, line)
        for at, row in enumerate((("Property", "Test method", "Result"), *rows) if rows else ()):
            for column, text in enumerate(row):
                page.drawString(72 + 170 * column, 600 - 20 * at, text)
    page.save()
    return out.getvalue()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """What a contractor sends: fourteen files in two folders."""
    place = tmp_path / "package"
    (place / "more").mkdir(parents=True)
    report = ("Report no. 4711", "Specimen: membrane WB-1", "Tested for the maker of WB-1")
    files = {
        "barrier.pdf": pdf("Air and water barrier WB-1", BARRIER),
        "sealant.pdf": pdf("Joint sealant JS-4", SEALANT),
        "more/mat.pdf": pdf("Drainage mat DM-9", MAT),
        "more/barrier again.pdf": pdf("Air and water barrier WB-1", BARRIER),
        "more/other barrier.pdf": pdf("Air and water barrier WB-2", (BARRIER[1],)),
        "report.pdf": pdf("Test report", (("Pull adhesion", "ASTM D4541", "42 psi"),), report),
        "certificate.pdf": pdf(
            "Certificate of compliance", (), ("This certifies that JS-4 meets ASTM C920.",)
        ),
        "letter.pdf": pdf(
            "Compatibility letter", (), ("Dear architect,", "WB-1 and JS-4 may touch.", "Sincerely")
        ),
        "scan.pdf": pdf("", picture=True),
        "safety.pdf": pdf("Safety data sheet WB-1", (), ("Hazard identification",)),
        "notes.txt.bak": b"nothing",
        "broken.pdf": b"%PDF-1.4 broken",
        "unknown.pdf": pdf("Super product 3000", (), ("The best there is.",)),
    }
    for name, data in files.items():
        (place / name).write_bytes(data)
    book = Workbook()
    book.active.append(("Submittal schedule",))
    book.active.append(("07 27 00", "Air barrier", "2026-12-01"))
    book.save(place / "schedule.xlsx")
    return place


def test_every_paper_goes_somewhere_and_is_told(folder: Path, tmp_path: Path) -> None:
    done = run("package", folder, "-o", tmp_path / "out", "--project", CONFORMING, "--format", "json")
    assert done.status == 3
    found = json.loads(done.out)
    products = {one["product"]: one for one in found["products"]}
    assert {name: sorted(one["papers"]) for name, one in products.items()} == {
        "Air and water barrier WB-1": [
            "data sheet: barrier.pdf",
            "letter: letter.pdf",
            "test report: report.pdf",
        ],
        "Joint sealant JS-4": [
            "certificate: certificate.pdf",
            "data sheet: sealant.pdf",
            "letter: letter.pdf",
        ],
        "Drainage mat DM-9": ["data sheet: more - mat.pdf"],
        "Air and water barrier WB-2": ["data sheet: more - other barrier.pdf"],
    }
    aside = {one["file"]: one["why"] for one in found["aside"]}
    assert "says the same as barrier.pdf" in aside["more - barrier again.pdf"]
    assert "no text" in aside["scan.pdf"]
    assert "safety data sheet" in aside["safety.pdf"]
    assert "schedule" in aside["schedule.xlsx"]
    assert "damaged" in aside["broken.pdf"]
    assert "does not say what the product is" in aside["unknown.pdf"]
    assert "no paper that is read here" in aside["notes.txt.bak"]
    every = [paper.partition(": ")[2] for one in products.values() for paper in one["papers"]]
    assert set(every) | set(aside) == {
        str(path.relative_to(folder)).replace("/", " - ") for path in folder.rglob("*") if path.is_file()
    }
    assert "pull adhesion to the substrate" in products["Air and water barrier WB-2"]["missing"]
    assert "pull adhesion to the substrate" not in products["Air and water barrier WB-1"]["missing"]


def test_a_report_adds_what_the_data_sheet_leaves_out(folder: Path, tmp_path: Path) -> None:
    run("package", folder, "-o", tmp_path / "out")
    path = tmp_path / "out" / "barrier-air-and-water-barrier-wb-1.yaml"
    (product,) = load_submission(path, load_practice()).products
    assert product.claims["pull_adhesion"].evidence.startswith("report.pdf, page 1")
    assert product.claims["vapor_permeance"].evidence.startswith("barrier.pdf, page 1")
    assert [one.stated.word("file") for one in product.papers] == ["barrier.pdf", "letter.pdf", "report.pdf"]
    assert product.against == ""  # a letter or a report names the product somewhere, and not in its title
    assert run("review", CONFORMING, tmp_path / "out", "-o", tmp_path / "review").status in (1, 3)


def test_nothing_is_overwritten_and_nothing_is_written_twice(folder: Path, tmp_path: Path) -> None:
    assert run("package", folder, "-o", tmp_path / "out").status == 3
    before = {path: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    again = run("package", folder, "-o", tmp_path / "out")
    assert again.status == 2 and "was left as it is" in again.err
    assert {path: path.read_bytes() for path in (tmp_path / "out").iterdir()} == before
    assert run("package", folder, "-o", tmp_path / "out", "--force").status == 3
    assert {
        path: path.read_bytes() for path in (tmp_path / "out").iterdir()
    } == before  # the same, whoever was first


def test_read_sends_a_folder_to_package(folder: Path, tmp_path: Path) -> None:
    done = run("read", folder, "-o", tmp_path / "p.yaml")
    assert done.status == 2 and f"specgen package {folder}" in done.err
    assert not (tmp_path / "p.yaml").exists()


def test_a_folder_that_gives_nothing(tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    assert run("package", tmp_path / "empty", "-o", tmp_path / "out").status == 2
    (tmp_path / "scans").mkdir()
    (tmp_path / "scans" / "a.pdf").write_bytes(pdf("", picture=True))
    done = run("package", tmp_path / "scans", "-o", tmp_path / "out")
    assert done.status == 2 and "no text" in done.err
    assert not (tmp_path / "out").exists()


def test_a_folder_that_holds_too_much(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("specgen.intake.datasheet.piles.MOST_PAPERS", 2)
    for name in ("a", "b", "c"):
        (tmp_path / f"{name}.csv").write_text("Vapor permeance,14 perms\n")
    done = run("package", tmp_path, "-o", tmp_path / "out")
    assert done.status == 2 and "holds 3 files, at most 2" in done.err


def test_the_order_of_files_changes_nothing(folder: Path, tmp_path: Path) -> None:
    """Papers under other names, so that they come in another order: the same products with the same values."""
    other = tmp_path / "other"
    other.mkdir()
    paths = sorted(path for path in folder.rglob("*.pdf") if path.stem != "barrier again")
    random.Random(5).shuffle(paths)
    for at, path in enumerate(paths):
        (other / f"{at:02} {path.name}").write_bytes(path.read_bytes())
    found = []
    for one, name in ((folder, "a"), (other, "b")):
        done = run("package", one, "-o", tmp_path / name, "--format", "json")
        found.append(
            sorted(
                (one["product"], one["read"], len(one["papers"])) for one in json.loads(done.out)["products"]
            )
        )
    assert found[0] == found[1]
