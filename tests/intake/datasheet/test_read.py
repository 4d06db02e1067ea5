"""specgen read from file to submittal, and from there to the review."""

from __future__ import annotations

import io
import json
import shutil
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from openpyxl import Workbook
from PIL import Image

from specgen.commands import main
from specgen.intake.datasheet.pdf import UnusableFileError, read_pages
from specgen.intake.datasheet.tables import read_csv, read_workbook
from specgen.intake.submittal import load_submission
from specgen.model.datasheet import Standing
from specgen.practice.load import load_practice
from tests.intake.sheets.hostile import one_page
from tests.intake.sheets.layouts import ruled
from tests.intake.sheets.score import reading_of

PROJECT = Path(__file__).parents[3] / "tests" / "stated" / "mixed-humid-midrise"
CSV = (
    "Property,Test Method,Result\n"
    "Vapor permeance,ASTM E96 Procedure B,14 perms\n"
    "Air permeance,ASTM E2178,0.0009 cfm/ft² @ 75 Pa\n"
    "Pull adhesion,,42 psi\n"
    "Dry film thickness,,40 mils\n"
)


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, [str(one) for one in arguments])


@pytest.fixture
def read_csv_file(tmp_path: Path) -> Path:
    """The product file of the table above."""
    source, target = tmp_path / "sheet.csv", tmp_path / "product.yaml"
    source.write_text(CSV)
    done = run("read", source, "--role", "barrier", "-o", target)
    assert done.exit_code == 0, done.stderr
    return target


def test_a_product_file_is_a_submittal_with_evidence(read_csv_file: Path) -> None:
    (product,) = load_submission(read_csv_file, load_practice()).products
    claim = product.claims["vapor_permeance"]
    assert (getattr(claim.value, "text", ""), claim.method) == ("14 perms", "ASTM E96 Procedure B")
    assert claim.evidence == "sheet.csv, table: Vapor permeance | ASTM E96 Procedure B | 14 perms"
    assert set(product.claims) == {"vapor_permeance", "air_permeance", "thickness"}
    assert set(product.unconfirmed) == {"pull_adhesion"}
    assert product.unconfirmed["pull_adhesion"].seen == "42 psi"
    assert "service_temperature:  # highest service temperature: not found" in read_csv_file.read_text()


def test_a_value_that_is_not_expected_is_asked_about_as_the_review_asks(tmp_path: Path) -> None:
    source, target = tmp_path / "sheet.csv", tmp_path / "p.yaml"
    source.write_text(CSV.replace("14 perms", "1400 perms"))
    done = run("read", source, "--role", "barrier", "-o", target)
    (line,) = (one for one in done.stdout.splitlines() if "is this meant?" in one)
    assert done.exit_code == 3
    question = line.partition("(")[2].removesuffix(")")
    assert "vapor permeance: read: 1400 perms (" in line
    assert question in (tmp_path / "p-evidence.html").read_text().replace("&#39;", "'")
    assert f"      # {question} The review will ask" in target.read_text()
    review = run("review", PROJECT, target, "-o", tmp_path / "out")
    assert review.exit_code in (1, 3)
    found = verdicts(target, tmp_path / "out")["barrier.vapor_permeance"]
    assert found["result"] == "confirm"
    assert found["reason"].endswith(question)


def test_the_kind_that_is_read_decides_what_is_expected(tmp_path: Path) -> None:
    source = tmp_path / "sheet.csv"
    source.write_text("Product type,,dimpled sheet\nVapor permeance,ASTM E96 Procedure A,40 perms\n")
    done = run("read", source, "--role", "drainage layer", "-o", tmp_path / "p.yaml", "--format", "json")
    value = next(one for one in json.loads(done.stdout)["values"] if one["attribute"] == "vapor_permeance")
    assert done.exit_code == 3
    assert value["question"].startswith("expected of dimpled polyethylene sheet: 0.005 perm to 0.5 perm (")
    source.write_text("Product type,,dimpled sheet\nVapor permeance,ASTM E96 Procedure A,0.04 perms\n")
    done = run("read", source, "--role", "drainage layer", "-o", tmp_path / "q.yaml", "--format", "json")
    assert done.exit_code == 0
    assert "is this meant?" not in done.stdout


@pytest.mark.parametrize("stated", ["40000 psi", "-4 psi"])
def test_a_value_that_cannot_be_is_not_taken(stated: str, tmp_path: Path) -> None:
    source, target = tmp_path / "sheet.csv", tmp_path / "p.yaml"
    source.write_text(CSV.replace("42 psi", stated))
    done = run("read", source, "--role", "barrier", "-o", target)
    (product,) = load_submission(target, load_practice()).products
    assert product.unconfirmed["pull_adhesion"].seen == ""
    assert f"`{stated}`" in product.unconfirmed["pull_adhesion"].why
    assert product.unconfirmed["pull_adhesion"].why in done.stdout


def verdicts(product: Path, out: Path) -> dict[str, dict[str, str]]:
    done = run("review", PROJECT, product, "-o", out, "--force", "--format", "json")
    assert done.exit_code in (0, 1), done.stderr
    found = json.loads(done.stdout)["reviews"][0]["products"][0]["verdicts"]
    return {one["requirement"]["id"]: one for one in found}


def test_the_review_confirms_nothing_that_no_person_confirmed(read_csv_file: Path, tmp_path: Path) -> None:
    found = verdicts(read_csv_file, tmp_path / "out")
    assert found["barrier.vapor_permeance"]["result"] == "meets"
    assert found["barrier.vapor_permeance"]["evidence"].startswith("sheet.csv, table: ")
    adhesion = found["barrier.pull_adhesion"]
    assert adhesion["result"] == "confirm"
    assert "not confirmed: stated without its test method; ASTM D4541 is wanted" in adhesion["reason"]
    assert adhesion["submitted"] == "42 psi (not confirmed)"
    assert (
        found["barrier.service_temperature"]["result"] == "not stated"
        if "barrier.service_temperature" in found
        else True
    )
    corrected = read_csv_file.read_text().replace(
        '      confirm: "stated without its test method; ASTM D4541 is wanted"\n',
        "      method: ASTM D4541\n",
    )
    read_csv_file.write_text(corrected)
    assert verdicts(read_csv_file, tmp_path / "out")["barrier.pull_adhesion"]["result"] == "meets"


def test_a_value_not_confirmed_that_would_fail_is_to_confirm(tmp_path: Path) -> None:
    source, target = tmp_path / "sheet.csv", tmp_path / "product.yaml"
    source.write_text("Vapor permeance,ASTM F1249,0.1 perms\n")
    assert run("read", source, "--role", "barrier", "-o", target).exit_code == 0
    assert verdicts(target, tmp_path / "out")["barrier.vapor_permeance"]["result"] == "confirm"


def test_a_corrected_file_is_not_overwritten(read_csv_file: Path, tmp_path: Path) -> None:
    read_csv_file.write_text("corrected by hand")
    arguments = ("read", tmp_path / "sheet.csv", "--role", "barrier", "-o", read_csv_file)
    done = run(*arguments)
    assert done.exit_code == 2
    assert "exists; it was left as it is" in done.stderr
    assert read_csv_file.read_text() == "corrected by hand"
    assert run(*arguments, "--force").exit_code == 0


def test_a_project_is_not_overwritten(read_csv_file: Path, tmp_path: Path) -> None:
    project = tmp_path / "project.yaml"
    project.write_bytes((PROJECT / "project.yaml").read_bytes())
    done = run("read", tmp_path / "sheet.csv", "--role", "barrier", "-o", project, "--force")
    assert done.exit_code == 2 and "is a project file; it was left as it is" in done.stderr
    assert project.read_bytes() == (PROJECT / "project.yaml").read_bytes()


def test_the_same_files_give_the_same_bytes(tmp_path: Path) -> None:
    source = tmp_path / "sheet.pdf"
    source.write_bytes(ruled(4)[0])
    for name in ("a", "b"):
        (tmp_path / name).mkdir()
        assert run("read", source, "--role", "barrier", "-o", tmp_path / name / "p.yaml").exit_code == 0
    for file in ("p.yaml", "p-evidence.html"):
        assert (tmp_path / "a" / file).read_bytes() == (tmp_path / "b" / file).read_bytes()
    page = (tmp_path / "a" / "p-evidence.html").read_text()
    assert page.count("data:image/png;base64,") >= 3


def test_the_role_is_told_by_the_sheet_or_asked_for(tmp_path: Path) -> None:
    source = tmp_path / "sheet.csv"
    source.write_text("Elastomeric joint sealant\nStaining,ASTM C1248,None\n")
    done = run("read", source, "-o", tmp_path / "p.yaml", "--format", "json")
    assert json.loads(done.stdout)["role"] == "joint sealant"
    source.write_text("Staining,ASTM C1248,None\n")
    done = run("read", source, "-o", tmp_path / "q.yaml")
    assert done.exit_code == 2
    assert "do not say what the product is" in done.stderr
    done = run("read", source, "--role", "barier", "-o", tmp_path / "q.yaml")
    assert done.exit_code == 2
    assert "did you mean `barrier`?" in done.stderr


def test_two_sheets_that_disagree_are_both_shown(tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_text("Vapor permeance,ASTM E96 Procedure B,14 perms\n")
    (tmp_path / "b.csv").write_text("Vapor permeance,ASTM E96 Procedure B,11 perms\n")
    target = tmp_path / "p.yaml"
    done = run(
        "read", tmp_path / "a.csv", tmp_path / "b.csv", "--role", "barrier", "-o", target, "--format", "json"
    )
    value = next(one for one in json.loads(done.stdout)["values"] if one["attribute"] == "vapor_permeance")
    assert value["standing"] == "confirm"
    assert value["value"] == ""
    assert "14 perms" in value["confirm"]
    assert "11 perms" in value["confirm"]
    assert {one["file"] for one in value["evidence"]} == {"a.csv", "b.csv"}


def test_every_file_that_cannot_be_read_is_named_at_once(tmp_path: Path) -> None:
    (tmp_path / "a.pdf").write_bytes(b"no pdf")
    (tmp_path / "b.xlsx").write_bytes(b"PK\x03\x04nothing")
    done = run(
        "read", tmp_path / "a.pdf", tmp_path / "b.xlsx", "--role", "barrier", "-o", tmp_path / "p.yaml"
    )
    assert done.exit_code == 2
    assert "a.pdf" in done.stderr
    assert "b.xlsx" in done.stderr
    assert "2 problems; nothing was written." in done.stderr


def test_a_workbook_is_read_as_it_is_shown() -> None:
    book = Workbook()
    book.active.append(["Drainage efficiency", 0.98, True, "=1+1"])
    book.active["B1"].number_format = "0%"
    hidden = book.create_sheet("old")
    hidden.append(["Drainage efficiency", 0.5])
    hidden.sheet_state = "hidden"
    out = io.BytesIO()
    book.save(out)
    (sheet,) = read_workbook(out.getvalue())
    assert sheet["rows"] == [["Drainage efficiency", "98 %", "yes"]]
    assert sheet["notes"] == ["1 hidden sheet was not read"]


@pytest.mark.parametrize("row", [600, 6_000])
def test_a_row_far_below_the_others_is_told(row: int) -> None:
    """It may take back what stands above: "superseded"."""
    book = Workbook()
    book.active.append(["Drainage efficiency", "98 %"])
    book.active.cell(row, 1).value = "superseded"
    out = io.BytesIO()
    book.save(out)
    with pytest.raises(UnusableFileError, match=f"row {row} stands below more than 500 empty rows"):
        read_workbook(out.getvalue())


def test_rows_below_the_noted_size_of_a_sheet_are_read() -> None:
    book, out = Workbook(), io.BytesIO()
    book.active.append(["Drainage efficiency", "98 %"])
    book.active.append(["Notice", "superseded"])
    book.save(out)
    with zipfile.ZipFile(out) as package:
        parts = {name: package.read(name) for name in package.namelist()}
    sheet = "xl/worksheets/sheet1.xml"
    assert b'<dimension ref="A1:B2"' in parts[sheet]
    parts[sheet] = parts[sheet].replace(b'<dimension ref="A1:B2"', b'<dimension ref="A1"')
    again = io.BytesIO()
    with zipfile.ZipFile(again, "w") as package:
        for name, content in parts.items():
            package.writestr(name, content)
    (read,) = read_workbook(again.getvalue())
    assert [row[0] for row in read["rows"]] == ["Drainage efficiency", "Notice"]


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_the_separator_of_a_table_is_told_from_its_lines(mark: str) -> None:
    (sheet,) = read_csv(mark.join(("Vapor permeance", "14 perms")).encode("utf-8-sig"))
    assert sheet["rows"] == [["Vapor permeance", "14 perms"]]


HIDDEN = {
    "invisible": b"BT 3 Tr /F 9 Tf 40 700 Td (Thickness: 40 mils) Tj ET",
    "white": b"1 g BT /F 9 Tf 40 700 Td (Thickness: 40 mils) Tj ET",
    "drawn over": b"BT /F 9 Tf 40 700 Td (Thickness: 40 mils) Tj ET 1 g 30 690 200 30 re f",
    "drawn": b"BT /F 9 Tf 40 700 Td (Thickness: 40 mils) Tj ET",
    "twice": b"BT /F 9 Tf 40 700 Td (Thickness: 40 mils) Tj ET BT /F 9 Tf 40.3 700 Td (Thickness: 40 mils) Tj ET",
    "over another": b"BT /F 9 Tf 40 700 Td (Thickness: 40 mils) Tj ET BT /F 9 Tf 40 700 Td (Thickness: 60 mils) Tj ET",
}


@pytest.mark.parametrize("how", HIDDEN)
def test_text_that_a_person_would_not_see_is_not_taken(how: str, tmp_path: Path) -> None:
    source = tmp_path / "sheet.pdf"
    source.write_bytes(one_page(HIDDEN[how]))
    done = run("read", source, "--role", "barrier", "-o", tmp_path / "p.yaml", "--format", "json")
    value = next(one for one in json.loads(done.stdout)["values"] if one["attribute"] == "thickness")
    if how in ("drawn", "twice"):
        assert (value["standing"], value["value"]) == ("read", "40 mils")
    else:
        assert value["standing"] in ("confirm", "not found")


def test_the_picture_shows_the_value(tmp_path: Path) -> None:
    import base64

    from specgen.intake.datasheet.pdf import crops

    data = one_page(HIDDEN["drawn"])
    (word, *_) = read_pages(data)[0]["words"]
    (crop,) = crops(data, [(1, tuple(word[1:5]), tuple(word[1:5]))])
    picture = Image.open(io.BytesIO(base64.b64decode(crop["picture"]))).convert("RGB")
    assert crop["drawn"]
    assert any(color == (190, 60, 0) for _, color in picture.getcolors(100_000))


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_a_turned_page_reads_like_an_upright_one(turn: int) -> None:
    content = b"BT /F 9 Tf 40 700 Td (Thickness: 40 mils) Tj ET"
    reading = reading_of(one_page(content, more=b"/Rotate %d" % turn), "barrier")
    found = next(one for one in reading.values if one.attribute == "thickness")
    assert (found.standing, found.value) == (Standing.READ, "40 mils")
    box = found.evidence[0].box
    assert box is not None
    middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    # The words run from 40 to about 115 points, 90 points below the upper edge of the upright page.
    wanted = {0: (78, 90), 90: (702, 78), 180: (534, 702), 270: (90, 534)}[turn]
    assert middle == pytest.approx(wanted, abs=8)


@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not installed")
@pytest.mark.word
def test_a_sheet_made_by_another_program_is_read(tmp_path: Path) -> None:
    """A second manufacturer of PDF files: the table goes through LibreOffice."""
    import subprocess

    rows = "".join(
        f"<tr>{''.join(f'<td>{cell}</td>' for cell in line.split(','))}</tr>" for line in CSV.splitlines()
    )
    (tmp_path / "sheet.html").write_text(
        f"<html><meta charset='utf-8'><body><table border=1>{rows}</table></body></html>"
    )
    profile = f"-env:UserInstallation=file://{tmp_path}/profile"
    command = [
        "soffice",
        "--headless",
        profile,
        "--convert-to",
        "pdf:writer_web_pdf_Export",
        "--outdir",
        str(tmp_path),
    ]
    subprocess.run([*command, str(tmp_path / "sheet.html")], check=True, capture_output=True, timeout=120)
    reading = reading_of((tmp_path / "sheet.pdf").read_bytes(), "barrier")
    read = {one.attribute: one.value for one in reading.values if one.standing is Standing.READ}
    assert read == {
        "vapor_permeance": "14 perms",
        "air_permeance": "0.0009 cfm/ft2 @ 75 Pa",
        "thickness": "40 mils",
    }
