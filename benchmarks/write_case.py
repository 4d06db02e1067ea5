"""A whole issue against the floor of the same words, the workbook against its own, memory, and a hundred projects.

Run by itself it prints memory and growth too: ``python benchmarks/write_case.py``.
"""

from __future__ import annotations

import io
import resource
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from xml.sax.saxutils import escape

import openpyxl
import word_cases

from specgen.field.papers import field_papers
from specgen.files.writing import OutputFolder
from specgen.model.document import Document, Para, Style, Table, text
from specgen.model.sheet import Workbook
from specgen.render.issues import Record
from specgen.render.outputs import add_issue
from specgen.render.workbook import workbook_bytes
from specgen.sections.checklist import checklist_document
from specgen.sections.checklist_sheet import checklist_workbook
from specgen.sections.waivers import waiver_blocks
from specgen.specification import Specification, specify
from specgen.work.inputs import read_inputs

DEMO = Path(__file__).parents[1] / "tests" / "stated" / "mixed-humid-midrise"
PROJECTS = (1, 10, 100)
_SHEET = (
    '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>'
    '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>{}</sheetData></worksheet>'
)


def write() -> None:
    """One project from its file to all files of its issue, in this process."""
    spec = specify(read_inputs(DEMO, None, False).assessed())
    with tempfile.TemporaryDirectory() as folder:
        target = OutputFolder(Path(folder))
        add_issue(target, spec, Record())
        target.commit(force=False)


@lru_cache(maxsize=1)
def made() -> Specification:
    """The demo, assessed and put into words once."""
    return specify(read_inputs(DEMO, None, False).assessed())


def _flat(document: Document) -> Document:
    """A document whose tables are paragraphs, a cell each: the floor knows no tables."""
    blocks: list[Para] = []
    for block in document.blocks:
        if isinstance(block, Para):
            blocks.append(block)
        elif isinstance(block, Table):
            blocks += [Para(Style.BODY, text(cell)) for row in (block.header, *block.rows) for cell in row]
    return Document(
        document.properties,
        document.header_left,
        document.header_right,
        document.footer_left,
        document.page_prefix,
        tuple(blocks),
    )


@lru_cache(maxsize=1)
def documents() -> tuple[Document, ...]:
    """What the issue says in Word: sections, checklist, field papers."""
    spec, assessment = made(), made().assessment
    papers = field_papers(spec).values()
    listed = checklist_document(spec.rows, spec.sections, assessment.project, waiver_blocks(assessment))
    return tuple(_flat(one) for one in (*(s.document for s in spec.sections), listed, *papers))


@lru_cache(maxsize=1)
def workbook() -> Workbook:
    """The checklist as a workbook."""
    spec = made()
    return checklist_workbook(spec.rows, spec.sections, spec.assessment.project)


def write_floor() -> int:
    """The words of the issue's Word files and its checklist as XML strings and zip, with the parts a file needs."""
    return sum(word_cases.text_floor(one) for one in documents()) + excel_floor()


def excel_ours() -> int:
    """The checklist's workbook as it is written."""
    return len(workbook_bytes(workbook()))


def excel_floor() -> int:
    """The same cells as XML strings and zip: no formats, filters, choices or widths."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for number, sheet in enumerate(workbook().sheets, start=1):
            rows = "".join(
                "<row>"
                + "".join(
                    f'<c t="inlineStr"><is><t>{escape(str(row.cells.get(one.key) or ""))}</t></is></c>'
                    for one in sheet.columns
                )
                + "</row>"
                for row in sheet.rows
            )
            archive.writestr(f"xl/worksheets/sheet{number}.xml", _SHEET.format(rows))
    return len(buffer.getvalue())


def excel_by_openpyxl() -> int:
    """The same cells by openpyxl's ordinary calls: no formats, filters, choices or widths."""
    book = openpyxl.Workbook()
    for sheet in workbook().sheets:
        tab = book.create_sheet(sheet.name)
        tab.append([column.title for column in sheet.columns])
        for row in sheet.rows:
            tab.append([row.cells.get(column.key) for column in sheet.columns])
    buffer = io.BytesIO()
    book.save(buffer)
    return len(buffer.getvalue())


def rows() -> list[tuple[str, str, Callable[[], object], Callable[[], object], str, int]]:
    """Name, reference, ours, the reference's call, aim, rounds."""
    issue = "a whole issue of the demo: sections, manual, checklist, field papers, report, drawings"
    cells = "the checklist as a workbook"
    return [
        (issue, "its words alone as XML strings and zipfile", write, write_floor, "none stated", 5),
        (cells, "the same cells as XML strings and zipfile", excel_ours, excel_floor, "at most 6", 7),
        (cells, "openpyxl, its ordinary calls", excel_ours, excel_by_openpyxl, "below 1", 7),
    ]


def peak() -> float:
    """Most memory that ``specgen write`` of the demo took, the whole process [MB]."""
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-m", "specgen", "write", str(DEMO), "-o", folder]
        subprocess.run(command, check=False, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024


def growth() -> list[tuple[int, float, float]]:
    """So many issues in one process: how many, processor time [s], most memory so far [MB]."""
    found = []
    for count in PROJECTS:
        start = time.process_time()
        for _ in range(count):
            write()
        used = time.process_time() - start
        found.append((count, used, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024))
    return found


if __name__ == "__main__":
    print(f"specgen write, one project: peak {peak():.0f} MB")
    for count, used, memory in growth():
        print(
            f"{count} projects: {used:.1f} s of processor time, {used / count:.2f} s each, peak {memory:.0f} MB"
        )
