"""One choice of paper: Word files, drawings, workbooks and pages are all set on it."""

from __future__ import annotations

import dataclasses
import io
from typing import Any, cast

import pytest

from specgen.drawing.sheet import paper_for
from specgen.files.marks import Mark
from specgen.model.document import Document, framed, properties_of
from specgen.model.paper import Issuer
from specgen.model.project import Project, Record
from specgen.model.sheet import Column, Workbook, WorkbookSheet
from specgen.render.document_css import document_css
from specgen.render.page import page_template
from specgen.render.word import word_bytes
from specgen.render.word_office import office_template
from specgen.render.workbook import workbook_bytes
from tests.render import word_samples as samples
from tests.render.test_word_office import office_file
from tests.render.word_reading import opened

MM = {"Letter": (216, 279), "A4": (210, 297)}


def project(office: str = "", **info: str) -> Project:
    here = Mark("project.yaml", 1, 1)
    record = Record("project", {"name": "Alder", **info}, {}, here)
    site, building = (Record(what, {}, {}, here) for what in ("site", "building"))
    return Project(record, site, building, (), "project.yaml", issuer=Issuer("Hill Office", office))


def document(one: Project, *, landscape: bool = False) -> Document:
    return framed(properties_of(one, "Checklist", "Submittals"), samples.SECTION.blocks, landscape=landscape)


@pytest.mark.parametrize(
    ("one", "name"),
    [
        (project(), "Letter"),
        (project(units="SI"), "A4"),
        (project(units="both"), "Letter"),
        (project(office="A4"), "A4"),
        (project(office="A4", paper="Letter"), "Letter"),
        (project(units="SI", paper="Letter"), "Letter"),
    ],
    ids=lambda one: "" if isinstance(one, Project) else one,
)
def test_every_paper_of_a_project_is_of_one_size(one: Project, name: str) -> None:
    import openpyxl

    wide, high = MM[name]
    page = opened(word_bytes(document(one))).sections[0]
    assert (round(page.page_width.mm), round(page.page_height.mm)) == (wide, high)
    turned = opened(word_bytes(document(one, landscape=True))).sections[0]
    assert (round(turned.page_width.mm), round(turned.page_height.mm)) == (high, wide)
    drawn = paper_for(cast(Any, type("Job", (), {"project": one}))).size
    assert (round(drawn[0]), round(drawn[1])) == (high, wide)
    assert f"@page{{size:{(page.page_width or 0) / 914_400:.4g}in " in document_css(document(one))
    book = Workbook(properties_of(one, "", ""), (WorkbookSheet("A", ("A",), (Column("a", "A", 9),), ()),))
    tab = openpyxl.load_workbook(io.BytesIO(workbook_bytes(book)))["A"]
    assert tab.page_setup.paperSize == {"Letter": 3, "A4": 8}[name]
    css = page_template("page/page.css").render(paper=one.paper)
    assert f"size:{name.lower()}}}" in css


def test_the_page_of_an_offices_word_file_stands_until_somebody_chooses() -> None:
    look = office_template(office_file()).template  # A4, margin 1.2 in
    assert round(opened(word_bytes(document(project()), look)).sections[0].page_width.mm) == 210
    chosen = opened(word_bytes(document(project(paper="Letter")), look)).sections[0]
    assert (round(chosen.page_width.mm), round(chosen.left_margin.inches, 2)) == (216, 1.2)


def test_margins_that_leave_no_room_on_the_chosen_paper_become_an_inch() -> None:
    look = office_template(office_file()).template
    large = dataclasses.replace(look.page, width=30_000, left=9_000, right=9_000)
    wide = dataclasses.replace(look, page=large)
    page = opened(word_bytes(document(project(paper="A4")), wide)).sections[0]
    assert (round(page.page_width.mm), page.left_margin.inches) == (297, 1.0)  # it lay, so it lies


def test_a_page_of_no_project_prints_on_what_the_reader_has() -> None:
    assert "@page{margin:16mm 14mm}" in page_template("page/page.css").render()


def test_a_file_names_the_office_that_issues_it() -> None:
    properties = opened(word_bytes(document(project()))).core_properties
    assert (properties.author, properties.keywords) == ("Hill Office", "parapet; stucco")
    assert properties.language == "en-US"
