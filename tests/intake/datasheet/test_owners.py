"""Whose value it is: what a page says of another product is never taken for ours. Invented papers."""

from __future__ import annotations

import io

import pytest
from openpyxl import Workbook
from reportlab.lib.pagesizes import letter
from reportlab.pdfgen import canvas

from specgen.intake.datasheet.pdf import read_pages
from specgen.intake.datasheet.read import read_product, sheet_of
from specgen.intake.datasheet.tables import read_csv, read_workbook
from specgen.model.datasheet import Reading, Standing
from specgen.practice.load import load_practice
from specgen.practice.product_names import same_product

OWN = (("Vapor permeance", "ASTM E96 Procedure B", "14 perms"), ("Dry film thickness", "", "40 mils"))
OTHER = (("Pull adhesion", "ASTM D4541", "42 psi"), ("UV exposure limit", "", "180 days"))
TAKEN = {"vapor_permeance": "14 perms", "thickness": "40 mils"}
ALL = {**TAKEN, "pull_adhesion": "42 psi", "exposure_limit": "180 days"}
Line = tuple[str, ...]


def page(
    *blocks: tuple[float, float, float, tuple[Line, ...]], columns: tuple[float, ...] = (0, 170, 340)
) -> bytes:
    """A page of blocks: left edge, upper edge, size of the letters, rows."""
    out = io.BytesIO()
    paper = canvas.Canvas(out, pagesize=letter, invariant=1)
    for left, top, size, rows in blocks:
        paper.setFont("Helvetica-Bold" if size > 10 else "Helvetica", size)
        for at, row in enumerate(rows):
            for column, text in zip(columns, row, strict=False):
                paper.drawString(left + column, top - 2 * size * at, text)
    paper.save()
    return out.getvalue()


def of_pdf(data: bytes, product: str = "") -> Reading:
    return read_product([sheet_of("a.pdf", {"pages": read_pages(data)})], "barrier", load_practice(), product)


def of_csv(rows: tuple[Line, ...], product: str = "") -> Reading:
    text = "\n".join(",".join(f'"{cell}"' for cell in row) for row in rows)
    found = sheet_of("a.csv", {"sheets": read_csv(text.encode())})
    return read_product([found], "barrier", load_practice(), product)


def of_workbook(sheets: dict[str, tuple[Line, ...]], product: str = "") -> Reading:
    book = Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    found = sheet_of("a.xlsx", {"sheets": read_workbook(out.getvalue())})
    return read_product([found], "barrier", load_practice(), product)


def taken(found: Reading) -> dict[str, str]:
    return {one.attribute: one.value for one in found.values if one.standing is Standing.READ}


TITLE = (("Air and water barrier WB-1",),)


@pytest.mark.parametrize(
    "name", ["Transition sheet TS-2", "Primer PR-7", "TS-2", "Joint sealant", "Flashing tape", "Metal coping"]
)
@pytest.mark.parametrize("size", [18, 12, 10.5])
def test_a_product_below_ours_keeps_its_values(name: str, size: float) -> None:
    found = of_pdf(
        page((72, 720, 18, TITLE), (72, 660, 10, OWN), (72, 560, size, ((name,),)), (72, 520, 10, OTHER))
    )
    assert taken(found) == TAKEN
    above = of_pdf(
        page((72, 720, size, ((name,),)), (72, 680, 10, OTHER), (72, 600, 18, TITLE), (72, 560, 10, OWN))
    )
    assert taken(above) == TAKEN


def test_a_second_table_of_ours_is_taken() -> None:
    heading = (("Durability",),)
    found = of_pdf(
        page((72, 720, 18, TITLE), (72, 660, 10, OWN), (72, 560, 12, heading), (72, 520, 10, OTHER))
    )
    assert taken(found) == ALL


def test_two_products_side_by_side() -> None:
    left, right = (
        ((72, 700, 12, TITLE), (72, 660, 9, OWN)),
        ((330, 700, 12, (("Primer PR-7",),)), (330, 660, 9, OTHER)),
    )
    found = of_pdf(page((72, 740, 18, (("Product data",),)), *left, *right, columns=(0, 95, 190)))
    assert set(taken(found)) <= set(TAKEN)


@pytest.mark.parametrize("name", ["Transition sheet", "Primer", "TS-2", "Accessory tape"])
def test_a_heading_within_the_table(name: str) -> None:
    rows = (*TITLE, ("Property", "Method", "Result"), *OWN, (name,), *OTHER)
    assert taken(of_csv(rows)) == TAKEN
    ours = (*TITLE, ("Property", "Method", "Result"), (name,), *OTHER, ("Air and water barrier WB-1",), *OWN)
    assert taken(of_csv(ours)) == TAKEN


@pytest.mark.parametrize(
    "heading",
    ["Properties of a 12 mil film", "Winter grade", "Type B", "Properties at 120 °F", "Aged film", "On primed concrete",
     "Properties of the wet film", "Series 300", "Class 2 values", "Second layer"],
)  # fmt: skip
def test_a_heading_that_limits(heading: str) -> None:
    assert taken(of_csv((*TITLE, (heading,), ("Property", "Method", "Result"), *OWN))) == {}
    assert taken(of_pdf(page((72, 720, 18, TITLE), (72, 690, 12, ((heading,),)), (72, 660, 10, OWN)))) == {}


@pytest.mark.parametrize(
    "heading",
    [
        "Technical data",
        "Typical physical properties",
        "Table 2: Test results",
        "WB-1",
        "Performance (ASTM E96)",
    ],
)
def test_a_heading_that_says_nothing(heading: str) -> None:
    assert taken(of_csv((*TITLE, (heading,), ("Property", "Method", "Result"), *OWN))) == TAKEN


def test_a_product_on_each_sheet_of_a_workbook() -> None:
    ours, other = (*TITLE, *OWN), (("Transition sheet TS-2",), *OTHER)
    assert taken(of_workbook({"WB-1": ours, "TS-2": other})) == TAKEN
    assert taken(of_workbook({"TS-2": other, "WB-1": ours})) == TAKEN
    assert taken(of_workbook({"Sheet1": ours, "Sheet2": other})) == TAKEN
    assert taken(of_workbook({"Membrane A": OWN, "Membrane B": OTHER})) == {}
    assert taken(of_workbook({"Physical": ours, "Durability": OTHER})) == ALL


def test_variants_in_columns() -> None:
    head = ("Property", "Method", "Summer", "Winter")
    rows = ((*OWN[0], "14 perms"), (*OWN[1], ""), (*OTHER[0], "60 psi"))
    assert taken(of_csv((*TITLE, head, *rows))) == {"vapor_permeance": "14 perms"}


def test_products_in_rows() -> None:
    head = ("Product", "Vapor permeance (ASTM E96 Procedure B)", "Dry film thickness")
    assert taken(of_csv((head, ("WB-1", "14 perms", "40 mils"), ("WB-2", "", "40 mils")))) == {
        "thickness": "40 mils"
    }
    assert taken(of_csv((head, ("WB-1", "14 perms", "40 mils")))) == TAKEN


def test_two_products_of_one_kind_want_the_name() -> None:
    first, second = (("Membrane WB-1",), *OWN), (("Membrane WB-2",), *OTHER)
    both = of_csv((*first, *second))
    assert taken(both) == {}
    assert "name one with --product" in next(one.confirm for one in both.values if one.confirm)
    assert taken(of_csv((*first, *second), product="WB-1")) == TAKEN
    assert set(taken(of_csv((*first, *second), product="Membrane WB-2"))) == {
        "pull_adhesion",
        "exposure_limit",
    }
    assert taken(of_csv(first, product="WB-9")) == {}


def test_papers_that_name_different_products() -> None:
    sheets = [sheet_of(f"{name}.csv", {"sheets": read_csv(f"Air barrier {name}\n{','.join(row)}".encode())})
              for name, row in (("WB-1", OWN[0]), ("WB-2", OTHER[0]))]  # fmt: skip
    found = read_product(sheets, "barrier", load_practice())
    assert taken(found) == {}
    assert all("name different products" in one.confirm for one in found.values if one.value)
    assert taken(read_product(sheets, "barrier", load_practice(), "WB-1")) == {"vapor_permeance": "14 perms"}


def test_names_of_one_product() -> None:
    assert same_product("Membrane WB-1", "WB1, fluid-applied")
    assert not same_product("Membrane WB-1", "Membrane WB-11")
    assert same_product("Oat Coat membrane", "oat coat")
    assert not same_product("Oat Coat", "Rye Shield")
