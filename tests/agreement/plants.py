"""Contradictions planted by hand into the finished files of an issue."""

from __future__ import annotations

import base64
import ctypes
import re
import zipfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from io import BytesIO

import openpyxl
import pypdfium2

Edit = Callable[[bytes], bytes]
DOCUMENT = "word/document.xml"


@dataclass(frozen=True)
class Plant:
    """One contradiction: what was done, by which edit of which files, and what the reader must call it."""

    name: str
    kind: str
    edits: Mapping[str, Edit]


def put(old: str, new: str, nth: int = 0) -> Edit:
    """Other words in a file of plain text; ``nth`` counts where the old ones stand."""

    def edit(data: bytes) -> bytes:
        parts = data.decode("utf-8").split(old)
        assert len(parts) > nth + 1, f"{old!r} stands {len(parts) - 1} times"
        return (old.join(parts[: nth + 1]) + new + old.join(parts[nth + 1 :])).encode("utf-8")

    return edit


def word(old: str, new: str, nth: int = 0, part: str = DOCUMENT) -> Edit:
    """Other words in a part of a Word file."""

    def edit(data: bytes) -> bytes:
        out = BytesIO()
        with zipfile.ZipFile(BytesIO(data)) as source, zipfile.ZipFile(out, "w") as target:
            for name in source.namelist():
                content = source.read(name)
                target.writestr(name, put(old, new, nth)(content) if name == part else content)
        return out.getvalue()

    return edit


def without(words: str, tag: str = "p") -> Edit:
    """A Word file without the paragraph, or the row of a table, that holds these words."""

    def edit(data: bytes) -> bytes:
        with zipfile.ZipFile(BytesIO(data)) as source:
            text = source.read(DOCUMENT).decode("utf-8")
        found = [
            one for one in re.findall(rf"<w:{tag}>.*?</w:{tag}>|<w:{tag} .*?</w:{tag}>", text) if words in one
        ]
        assert len(found) == 1, f"{words!r} stands in {len(found)}"
        return word(found[0], "")(data)

    return edit


def cell(old: str, new: str, nth: int = 0) -> Edit:
    """Another value in a cell of a workbook."""

    def edit(data: bytes) -> bytes:
        book = openpyxl.load_workbook(BytesIO(data))
        found = [one for sheet in book for row in sheet.iter_rows() for one in row if one.value == old]
        found[nth].value = new
        out = BytesIO()
        book.save(out)
        return out.getvalue()

    return edit


def one_less(words: str) -> Edit:
    """A count before these words in a cell of a workbook, lowered by one."""

    def edit(data: bytes) -> bytes:
        book = openpyxl.load_workbook(BytesIO(data))
        for one in (one for sheet in book for row in sheet.iter_rows() for one in row):
            if isinstance(one.value, str):
                one.value = re.sub(rf"\d+(?= {words})", lambda found: str(int(found[0]) - 1), one.value)
        out = BytesIO()
        book.save(out)
        return out.getvalue()

    return edit


def pdf(old: str, new: str) -> Edit:
    """Other words in the first run of text of a PDF file that is these words."""

    def edit(data: bytes) -> bytes:
        raw = pypdfium2.raw
        document = pypdfium2.PdfDocument(data)
        for page in document:
            for one in page.get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT], textpage=page.get_textpage()):
                if one.extract().strip() == old:
                    wide = ctypes.create_string_buffer(new.encode("utf-16-le") + b"\0\0")
                    raw.FPDFText_SetText(one.raw, ctypes.cast(wide, ctypes.POINTER(ctypes.c_ushort)))
                    raw.FPDFPage_GenerateContent(page.raw)
                    out = BytesIO()
                    document.save(out)
                    return out.getvalue()
        raise AssertionError(f"no run of text is {old!r}")

    return edit


def picture(old: str, new: str) -> Edit:
    """Other words in the first drawing inside the report."""

    def edit(data: bytes) -> bytes:
        found = re.search(rb"data:image/svg\+xml;base64,([A-Za-z0-9+/=]+)", data)
        assert found is not None
        inside = put(old, new)(base64.b64decode(found[1]))
        return data.replace(found[1], base64.b64encode(inside), 1)

    return edit


def swapped(one: str, other: str, edit: Callable[[str, str], Edit]) -> Edit:
    """Two words in each other's place."""
    return lambda data: edit("@@", other)(edit(other, one)(edit(one, "@@")(data)))


COPINGS = "07-71-00-copings.docx"
BARRIER = "07-27-00-air-and-water-barriers-at-parapets.docx"
PLASTER = "09-24-00-cement-plastering.docx"
FLASHING = "07-65-00-flexible-flashing-at-parapet-tops.docx"
QUALITY = "01-40-00-quality-requirements.docx"
MANUAL = "project-manual.docx"
CARPENTRY = "06-10-00-rough-carpentry.docx"
LIST, SHEET = "submittal-checklist.docx", "submittal-checklist.xlsx"
REPORT = "basis-of-design.html"
MATRIX, HOLDS = "field/responsibility-matrix.docx", "field/hold-point-checklist.docx"
AGENDA, TESTS = "field/conference-agenda.docx", "field/mock-up-and-test-plan.docx"
SVG, DXF, PDF = "drawings/p-1-section.svg", "drawings/p-1-section.dxf", "drawings.pdf"
ORDER, BLANK = "drawings/p-1-order-of-work.svg", "drawings/p-1-coping-blank.svg"

COLD = "least temperature of air and substrate at application: ______ °F (at least 45 °F; 07 27 00, 1.7.A)"
LATER = "slope of the top: ______ in/ft (at least 1/4 in/ft"
STAINLESS = "Fasteners into preservative-treated blocking: stainless steel"
BEND, MOVED = "inner edge: at 17 1/4 in, turned 87.6°", "inner edge: at 16 1/4 in, turned 87.6°"
DRIP = "Drip projection clear of the outer face: at least "

PLANTS = (
    Plant("a drip in its section", "value", {COPINGS: word(DRIP + "1 in", DRIP + "1/2 in")}),
    Plant("a drip in the manual", "value", {MANUAL: word(DRIP + "1 in", DRIP + "1/2 in")}),
    Plant(
        "a thickness in section and manual",
        "value",
        {
            COPINGS: word("Metal thickness: at least 0.050 in", "Metal thickness: at least 0.040 in"),
            MANUAL: word("Metal thickness: at least 0.050 in", "Metal thickness: at least 0.040 in"),
        },
    ),
    Plant(
        "a thickness in the Word checklist", "value", {LIST: word("at least 0.050 in", "at least 0.040 in")}
    ),
    Plant("a thickness in the workbook", "value", {SHEET: cell("at least 0.050 in", "at least 0.040 in")}),
    Plant(
        "a thickness in the record of the checklist",
        "value",
        {"submittal-checklist.json": put("at least 0.050 in", "at least 0.040 in")},
    ),
    Plant("a thickness in the trace", "value", {"trace.json": put("at least 0.050 in", "at least 0.040 in")}),
    Plant("a limit in the report", "value", {REPORT: put("at least 102 psf", "at least 95 psf")}),
    Plant("a bound turned round", "value", {BARRIER: word("not more than 0.002", "at least 0.002")}),
    Plant(
        "a condition of a test", "value", {BARRIER: word("0.002 cfm/ft² at 75 Pa", "0.002 cfm/ft² at 300 Pa")}
    ),
    Plant(
        "a unit",
        "value",
        {BARRIER: word("Dry film thickness: at least 40 mils", "Dry film thickness: at least 40 in")},
    ),
    Plant("a test method in a row", "value", {SHEET: cell("ASTM E2178", "ASTM E283")}),
    Plant(
        "a test method in a paragraph",
        "value",
        {BARRIER: word("in accordance with ASTM E2178", "in accordance with ASTM E283")},
    ),
    Plant(
        "a generic kind",
        "value",
        {FLASHING: word("Flashing: self-adhered butyl sheet", "Flashing: self-adhered acrylic sheet")},
    ),
    Plant(
        "a limit at a hold point",
        "value",
        {HOLDS: word("(at least 9 in; 09 24 00", "(at least 8 in; 09 24 00")},
    ),
    Plant(
        "a limit in the agenda",
        "value",
        {AGENDA: word("at least 30 days (07 65 00", "at least 20 days (07 65 00")},
    ),
    Plant("a number in the test plan", "value", {TESTS: word("Time: at least 24 h", "Time: at least 12 h")}),
    Plant("a prohibition lifted", "value", {FLASHING: word("Do not fasten through", "Fasten through")}),
    Plant(
        "an evidence asked for", "value", {LIST: word("Mix designs: proportions", "Mix designs: quantities")}
    ),
    Plant("the type of a submittal", "value", {SHEET: cell("closeout", "action")}),
    Plant("the parapets of a row", "value", {SHEET: cell("P-1 and P-3", "P-1 and P-2")}),
    Plant("a value of the project file", "value", {REPORT: put("<td>16 ft</td>", "<td>14 ft</td>")}),
    Plant("a number and its origin", "value", {REPORT: put("24 in from practice", "20 in from practice")}),
    Plant(
        "a base flashing on one form of a sheet",
        "value",
        {SVG: put("base flashing 40 in", "base flashing 38 in")},
    ),
    Plant("a text of a DXF", "value", {DXF: put("lap 4 in", "lap 3 in")}),
    Plant("a size in the PDF", "value", {PDF: pdf("parapet 42 in", "parapet 40 in")}),
    Plant(
        "a size on the drawing in the report",
        "value",
        {REPORT: picture("base flashing 40 in", "base flashing 44 in")},
    ),
    Plant(
        "a limit in a note",
        "value",
        {SVG: put("metal thickness at least 0.050 in", "metal thickness at least 0.040 in")},
    ),
    Plant(
        "the girth of a blank",
        "value",
        {"drawings/p-2-coping-blank.svg": put("girth 26 3/4 in</text>", "girth 25 in</text>")},
    ),
    Plant(
        "a part in the description of a sheet",
        "value",
        {SVG: put("14 coping, formed metal coping, aluminum", "14 coping, formed metal coping, zinc")},
    ),
    Plant(
        "a bend of the blank, on all its forms",
        "value",
        {
            BLANK: put(BEND, MOVED, 1),
            BLANK.replace("svg", "dxf"): put(BEND, MOVED),
            PDF: pdf(BEND, MOVED),
        },
    ),
    Plant("a drip drawn too short", "size", {DXF: put("1 in\n", "1/2 in\n", 1)}),
    Plant(
        "a base flashing drawn and described too low",
        "size",
        {
            SVG: put(", height 40 in: 07 50 00", ", height 30 in: 07 50 00", 1),
            DXF: put("base flashing 40 in", "base flashing 30 in"),
        },
    ),
    Plant(
        "two steps of the matrix",
        "order",
        {MATRIX: swapped("<w:t>barrier</w:t>", "<w:t>top flashing</w:t>", word)},
    ),
    Plant(
        "the order in the agenda",
        "order",
        {
            AGENDA: word(
                "lath (plasterer) &gt; plaster (plasterer)", "plaster (plasterer) &gt; lath (plasterer)"
            )
        },
    ),
    Plant(
        "two steps on the drawing",
        "order",
        {ORDER: swapped(">lath: plasterer<", ">plaster: plasterer<", put)},
    ),
    Plant("a step at a hold point", "order", {HOLDS: word("<w:t>12</w:t>", "<w:t>10</w:t>")}),
    Plant(
        "a sentence of order",
        "order",
        {
            FLASHING: word(
                "Install the flashing after the wall barrier", "Install the flashing before the wall barrier"
            )
        },
    ),
    Plant(
        "blocking after its flashing",
        "order",
        {CARPENTRY: word("to the wall before the top flashing", "to the wall after the top flashing")},
    ),
    Plant(
        "which part laps over which",
        "order",
        {MATRIX: word("<w:t>barrier over weep screed</w:t>", "<w:t>weep screed over barrier</w:t>")},
    ),
    Plant(
        "the length of a lap",
        "order",
        {ORDER: put("over weep screed, lap 3 in", "over weep screed, lap 2 in")},
    ),
    Plant(
        "a temperature measured too late",
        "order",
        {HOLDS: lambda data: word(LATER, f"{COLD}; {LATER}")(word(COLD, "")(data))},
    ),
    Plant(
        "fasteners of stainless steel galvanized",
        "value",
        {
            CARPENTRY: word(STAINLESS, STAINLESS + ", the galvanizing by ASTM A153"),
            MANUAL: word(STAINLESS, STAINLESS + ", the galvanizing by ASTM A153"),
        },
    ),
    Plant(
        "plastering that waits for the barrier",
        "order",
        {
            PLASTER: word(
                "Keep plaster from contact",
                "Start after the barrier has passed the tests. Keep plaster from contact",
            )
        },
    ),
    Plant("the trade of a part", "order", {MATRIX: word("<w:t>roofer</w:t>", "<w:t>carpenter</w:t>")}),
    Plant(
        "the owner of a joint",
        "order",
        {
            REPORT: put(
                "bridged by bridging tape</th><td>air barrier installer",
                "bridged by bridging tape</th><td>roofer",
            )
        },
    ),
    Plant(
        "what a hold point looks for",
        "order",
        {HOLDS: word("level, open, flange fastened flat", "level and closed")},
    ),
    Plant("a paragraph taken out", "value", {COPINGS: without("Slope the top toward the roof.")}),
    Plant("the paragraph of a row", "value", {SHEET: cell("2.5.D", "2.5.E")}),
    Plant("a paragraph cited at a hold point", "value", {HOLDS: word("07 65 00, 3.2.F", "07 65 00, 3.2.G")}),
    Plant("a paragraph cited in the agenda", "value", {AGENDA: word("07 65 00, 2.1.D", "07 65 00, 2.1.C")}),
    Plant(
        "a paragraph cited in a note",
        "value",
        {SVG: put("0.050 in: 2.2.E", "0.050 in: 2.2.F"), DXF: put("0.050 in: 2.2.E", "0.050 in: 2.2.F")},
    ),
    Plant("plaster on the roof side", "place", {DXF: swapped("  1\n12\n  7", "  1\n5\n  7", put)}),
    Plant(
        "a weep screed set above the roof",
        "place",
        {
            PLASTER: word("finished surface of the roof below the weep screed", "finished roof"),
            MANUAL: word("finished surface of the roof below the weep screed", "finished roof"),
        },
    ),
    Plant("a paragraph that is not there", "place", {HOLDS: word("07 65 00, 3.2.D", "07 65 00, 3.2.X")}),
    Plant(
        "an article that is not there",
        "place",
        {
            QUALITY: word(
                "Roof Base Flashing at Parapets, Article ", "Roof Base Flashing at Parapets, Article 9"
            )
        },
    ),
    Plant(
        "checklist rows counted",
        "count",
        {SHEET: one_less("rows from 11 sections")},
    ),
    Plant("a row taken out", "count", {LIST: without("Plaster mix designs", "tr")}),
    Plant(
        "rules counted",
        "count",
        {REPORT: put(" rules that are met</summary>", "0 rules that are met</summary>")},
    ),
    Plant("findings counted", "count", {REPORT: put("<b>0</b> defects", "<b>2</b> defects")}),
    Plant("tests counted", "count", {AGENDA: word(" paragraphs", "0 paragraphs")}),
    Plant("hold points counted", "count", {AGENDA: word("26 hold points", "25 hold points")}),
    Plant(
        "changes of trade counted",
        "count",
        {AGENDA: word("The trade changes 7 times", "The trade changes 6 times")},
    ),
    Plant(
        "control joints counted",
        "count",
        {"drawings/p-1-plaster-panels.svg": put("15 upright", "14 upright", 1)},
    ),
    Plant("the state on one sheet", "identity", {SVG: put("Issued for bid", "Draft")}),
    Plant(
        "the state in a header",
        "identity",
        {COPINGS: word("Issued for bid", "Issued for construction", part="word/header1.xml")},
    ),
    Plant("the date of a sheet", "identity", {DXF: put("2026-11-02 |", "2026-11-20 |")}),
    Plant("the number of the project", "identity", {ORDER: put("project 2601", "project 2610")}),
    Plant(
        "the name of the project",
        "identity",
        {
            SHEET: cell(
                "Submittal Checklist: 2601 Alder Street Offices",
                "Submittal Checklist: 2601 Elder Street Offices",
            )
        },
    ),
    Plant("the adopted code", "identity", {QUALITY: word("IBC 2021", "IBC 2018")}),
    Plant(
        "the title of a section",
        "identity",
        {PLASTER: word("Section 07 71 00, Copings", "Section 07 71 00, Parapet Caps")},
    ),
    Plant("the page of a section in the contents", "identity", {MANUAL: word("07 71 00-", "07 92 00-")}),
)
