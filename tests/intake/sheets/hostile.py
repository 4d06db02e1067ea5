"""Files made to do harm: each case is a file name and its bytes, made from a seed."""

from __future__ import annotations

import io
import random
import zipfile
import zlib
from collections.abc import Callable, Mapping
from functools import lru_cache

import pypdfium2
from openpyxl import Workbook
from reportlab.lib.pdfencrypt import StandardEncryption
from reportlab.pdfgen import canvas

from tests.intake.sheets.layouts import LAYOUTS

Case = tuple[str, bytes]
NASTY = (
    "{{ 7*7 }}", "{% for x in range(10**9) %}x{% endfor %}", "<script>alert(1)</script>", "=cmd|' /C calc'!A0",
    "+1+1", "@SUM(1)", "-2+3", '"; drop: table', "a: b: c", "- [", "&a *a", "!!python/object:os.system x",
    "\u202e1.0 mm", "\ufeff14 perms", "14 perms\u0000", "'", '"', "#", "%TAG", "---", "..", "../../x", "A" * 3000,
    "9" * 400 + " mm", "1e999 mm", "1e-999 mm", "nan perms", "-0 perms", "0/0 in", "1/0 in", "∞ perms", "14 ½½ perms",
    "(" * 500, "{^" * 200, "{^1}" * 100, "14 perms (" * 60, "@ " * 300, "1-" * 400, "75 Pa at " * 80, "ASTM " * 200,
)  # fmt: skip
LABELS = (
    "Vapor permeance",
    "Air permeance",
    "Dry film thickness",
    "Service temperature",
    "Property",
    "Result",
)


@lru_cache(maxsize=8)
def sound(layout: str) -> bytes:
    """A sound sheet, to be damaged."""
    return LAYOUTS[layout](3)[0]


def damaged_pdf(seed: int) -> Case:
    """A sound PDF with bytes changed, cut, doubled or mixed up."""
    rnd = random.Random(seed)
    data = bytearray(sound(rnd.choice(("table with lines", "footnotes", "rotated", "scanned"))))
    for _ in range(rnd.choice((1, 3, 20, 200))):
        at = rnd.randrange(max(len(data), 1))
        match rnd.randrange(5):
            case 0:
                data[at : at + 1] = bytes([rnd.randrange(256)])
            case 1:
                del data[at : at + rnd.choice((1, 10, 1000))]
            case 2:
                data[at:at] = data[at : at + rnd.choice((1, 50, 2000))]
            case 3:
                data[at:at] = rnd.choice(
                    (b"99999999999", b"<<>>", b"endobj", b"[[[[[", b"/Kids 1 0 R", b"-1 ")
                )
            case _:
                data = data[: max(at, 20)]
    return "sheet.pdf", bytes(data)


def pdf_of(objects: dict[int, bytes], root: int = 1) -> bytes:
    """A PDF of hand-written objects."""
    out = io.BytesIO(b"")
    out.write(b"%PDF-1.7\n")
    places = {}
    for number, body in objects.items():
        places[number] = out.tell()
        out.write(b"%d 0 obj\n%s\nendobj\n" % (number, body))
    start = out.tell()
    out.write(b"xref\n0 %d\n0000000000 65535 f \n" % (max(objects) + 1))
    for number in range(1, max(objects) + 1):
        out.write(b"%010d 00000 n \n" % places.get(number, 0))
    out.write(b"trailer\n<</Size %d/Root %d 0 R>>\nstartxref\n%d\n%%%%EOF" % (max(objects) + 1, root, start))
    return out.getvalue()


def stream(content: bytes, packed: bool = True, extra: bytes = b"") -> bytes:
    """A stream object."""
    body = zlib.compress(content, 9) if packed else content
    kind = b"/Filter/FlateDecode" if packed else b""
    return b"<<%s%s/Length %d>>stream\n%s\nendstream" % (kind, extra, len(body), body)


def one_page(content: bytes, box: bytes = b"0 0 612 792", more: bytes = b"", **objects: bytes) -> bytes:
    """A PDF of one page with this content."""
    made = {
        1: b"<</Type/Catalog/Pages 2 0 R%s>>" % objects.get("catalog", b""),
        2: b"<</Type/Pages/Kids[3 0 R]/Count 1>>",
        3: b"<</Type/Page/Parent 2 0 R/MediaBox[%s]/Contents 4 0 R/Resources<</Font<</F 5 0 R>>/XObject<</X 6 0 R>>>>%s>>"
        % (box, more),
        4: stream(content),
        5: b"<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>",
        6: stream(
            b"/X Do", extra=b"/Type/XObject/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</X 6 0 R>>>>"
        ),
    }
    return pdf_of(made)


def many_pages(count: int) -> bytes:
    """A page named again and again."""
    kids = b"3 0 R " * count
    return pdf_of(
        {
            1: b"<</Type/Catalog/Pages 2 0 R>>",
            2: b"<</Type/Pages/Count %d/Kids[%s]>>" % (count, kids),
            3: b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 9 9]>>",
        }
    )


def deep_pages(depth: int) -> bytes:
    """A tree of pages, each in the next."""
    made = {1: b"<</Type/Catalog/Pages 2 0 R>>"}
    for number in range(2, depth):
        made[number] = b"<</Type/Pages/Count 1/Kids[%d 0 R]>>" % (number + 1)
    made[depth] = b"<</Type/Pages/Count 1/Kids[2 0 R]>>"
    return pdf_of(made)


def locked_pdf() -> bytes:
    """A PDF that asks for a password."""
    out = io.BytesIO()
    page = canvas.Canvas(out, encrypt=StandardEncryption("secret", "owner", canPrint=0))
    page.drawString(72, 700, "Vapor permeance: 14 perms")
    page.save()
    return out.getvalue()


def _joined_pdf() -> bytes:
    document = pypdfium2.PdfDocument.new()
    source = pypdfium2.PdfDocument(sound("table with lines"))
    for _ in range(201):
        document.import_pages(source)
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


TEXT = b"BT /F 9 Tf 40 700 Td (Vapor permeance: 14 perms, ASTM E96 Procedure B) Tj ET "
CRAFTED: tuple[Callable[[], Case], ...] = (
    lambda: ("many.pdf", many_pages(10_000)),
    lambda: ("more.pdf", many_pages(300_000)),
    lambda: ("many.pdf", _joined_pdf()),
    lambda: ("deep.pdf", deep_pages(2_000)),
    lambda: ("loop.pdf", pdf_of({1: b"<</Type/Catalog/Pages 2 0 R>>", 2: b"<</Type/Pages/Count 9/Kids[2 0 R 2 0 R]>>"})),
    lambda: ("locked.pdf", locked_pdf()),
    lambda: ("bomb.pdf", one_page(b" " * 300_000_000)),
    lambda: ("letters.pdf", one_page(TEXT * 3_000)),
    lambda: ("paths.pdf", one_page(b"0 0 m 500 500 l S " * 60_000)),
    lambda: ("rects.pdf", one_page(TEXT + b"10 10 300 300 re S " * 3_000)),
    lambda: ("forms.pdf", one_page(TEXT + b"/X Do " * 200)),
    lambda: ("huge.pdf", one_page(TEXT, b"0 0 999999999 999999999")),
    lambda: ("thin.pdf", one_page(TEXT, b"0 0 0.0001 9999")),
    lambda: ("none.pdf", one_page(TEXT, b"0 0 0 0")),
    lambda: ("turned.pdf", one_page(TEXT, b"612 792 0 0", b"/Rotate 45")),
    lambda: ("user.pdf", one_page(TEXT, b"0 0 612 792", b"/UserUnit 1e9")),
    lambda: ("far.pdf", one_page(b"BT /F 1e30 Tf 1e30 -1e30 Td (14 perms) Tj ET")),
    lambda: ("script.pdf", one_page(TEXT, catalog=b"/OpenAction<</S/JavaScript/JS(app.alert\\(1\\))>>")),
    lambda: ("launch.pdf", one_page(TEXT, catalog=b"/OpenAction<</S/Launch/F(/bin/true)>>")),
    lambda: ("nested.pdf", one_page(b"q " * 400_000 + TEXT)),
    lambda: ("arrays.pdf", one_page(b"[" * 300_000 + TEXT)),
    lambda: ("head.pdf", b"%PDF-1.7"),
    lambda: ("zero.pdf", b"%PDF-1.7\n" + b"\0" * 100_000),
    lambda: ("notes.pdf", b"junk" * 100 + b"%PDF-1.4 nothing else"),
    lambda: ("empty.pdf", b""),
    lambda: ("text.pdf", b"Vapor permeance: 14 perms"),
    lambda: ("image.pdf", sound("scanned")),
    lambda: ("rest.docx", workbook([["a"]])),
    lambda: ("old.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 2_000),
    lambda: ("locked.xlsx", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 2_000),
    lambda: ("bomb.xlsx", with_part("xl/worksheets/sheet1.xml", b"<x>" + b" " * 90_000_000)),
    lambda: ("lies.xlsx", lying_zip()),
    lambda: ("parts.xlsx", with_parts({f"xl/x{n}.bin": b"x" for n in range(3_000)})),
    lambda: ("laughs.xlsx", with_part("xl/worksheets/sheet1.xml", LAUGHS)),
    lambda: ("utf16.xlsx", with_part("xl/worksheets/sheet1.xml", LAUGHS.decode().encode("utf-16"))),
    lambda: ("outside.xlsx", with_part("xl/sharedStrings.xml", OUTSIDE)),
    lambda: ("macro.xlsm", with_part("xl/vbaProject.bin", b"\0" * 100)),
    lambda: ("links.xlsx", with_part("xl/externalLinks/externalLink1.xml", b"<externalLink/>")),
    lambda: ("path.xlsx", with_part("../../evil.xml", b"<x/>")),
    lambda: ("gone.xlsx", with_part("xl/workbook.xml", b"")),
    lambda: ("wide.xlsx", workbook([["x"] * 500])),
    lambda: ("long.xlsx", workbook([["x"]] * 6_000)),
    lambda: ("formula.xlsx", workbook([["Property", "Result"], ["Vapor permeance", "=1+13"], ["Thickness", "=A1"]])),
    lambda: ("long.csv", b"Vapor permeance,14 perms\n" * 6_000),
    lambda: ("wide.csv", b"," * 5_000),
    lambda: ("line.csv", b"x" * 3_000_000),
    lambda: ("null.csv", b"a,b\0c\n"),
    lambda: ("utf16.csv", "Vapor permeance,14 perms".encode("utf-16")),
    lambda: ("quote.csv", b'"Vapor permeance,14 perms\n' * 500),
    lambda: ("binary.csv", bytes(range(256)) * 50),
)  # fmt: skip
LAUGHS = (
    b'<?xml version="1.0"?><!DOCTYPE l [<!ENTITY a "ha">'
    + b"".join(b'<!ENTITY %c "%s">' % (98 + n, b"&%c;" % (97 + n) * 10) for n in range(9))
    + b"]><worksheet>&j;</worksheet>"
)
OUTSIDE = b'<?xml version="1.0"?><!DOCTYPE s [<!ENTITY x SYSTEM "file:///etc/hostname">]><sst>&x;</sst>'


def workbook(rows: list[list[object]]) -> bytes:
    """A workbook with these rows."""
    book = Workbook()
    for row in rows:
        book.active.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def with_part(name: str, content: bytes) -> bytes:
    """A workbook with one part put in or replaced."""
    return with_parts({name: content})


def with_parts(parts: dict[str, bytes]) -> bytes:
    """A workbook with parts put in or replaced."""
    out = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(workbook([["Vapor permeance", "14 perms"]]))) as old,
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for name in old.namelist():
            if name not in parts:
                new.writestr(name, old.read(name))
        for name, content in parts.items():
            new.writestr(name, content)
    return out.getvalue()


def lying_zip() -> bytes:
    """A workbook whose entries say that they are small."""
    data = bytearray(with_part("xl/worksheets/sheet1.xml", b"<x>" + b" " * 80_000_000))
    size = (80_000_003).to_bytes(4, "little")
    at = data.find(size)
    while at >= 0:
        data[at : at + 4] = (100).to_bytes(4, "little")
        at = data.find(size)
    return bytes(data)


def damaged_workbook(seed: int) -> Case:
    """A sound workbook with bytes changed."""
    rnd = random.Random(seed)
    data = bytearray(workbook([["Property", "Result"], ["Vapor permeance", "14 perms"]]))
    for _ in range(rnd.choice((1, 5, 50))):
        at = rnd.randrange(len(data))
        if rnd.random() < 0.7:
            data[at] = rnd.randrange(256)
        else:
            del data[at : at + rnd.choice((1, 30))]
    return "sheet.xlsx", bytes(data)


def nasty_table(seed: int) -> Case:
    """Cells that another program would run, as CSV or as a workbook."""
    rnd = random.Random(seed)
    rows = [
        [rnd.choice(LABELS), *[rnd.choice(NASTY) for _ in range(rnd.randint(1, 3))]]
        for _ in range(rnd.randint(1, 8))
    ]
    if seed % 3 == 0:
        clean = [["".join(c for c in cell if c.isprintable()) for cell in row] for row in rows]
        return "nasty.xlsx", workbook(clean)
    mark = rnd.choice(",;\t")
    return "nasty.csv", "\n".join(mark.join(row) for row in rows).encode("utf-8", "replace")


def nasty_pdf(seed: int) -> Case:
    """A PDF whose cells hold what a program could mistake for its own language."""
    rnd = random.Random(seed)
    out = io.BytesIO()
    page = canvas.Canvas(out, invariant=1)
    for row in range(rnd.randint(2, 20)):
        for x in (40, 200, 380):
            text = rnd.choice((*NASTY, *LABELS, "14 perms", "0.004 cfm/ft2 @ 75 Pa"))[:200]
            page.setFont("Helvetica", rnd.choice((1, 6, 9, 40)))
            page.drawString(x, 760 - 18 * row, "".join(c if 31 < ord(c) < 255 else "?" for c in text))
    page.save()
    return "nasty.pdf", out.getvalue()


def case(seed: int) -> Case:
    """One case: the crafted ones first, then random ones of every kind in turn."""
    if seed < len(CRAFTED):
        return CRAFTED[seed]()
    makers = (damaged_pdf, damaged_workbook, nasty_table, damaged_pdf, nasty_pdf)
    return makers[seed % len(makers)](seed)


@lru_cache(maxsize=1)
def crafted() -> Mapping[str, bytes]:
    """The crafted files by their names; made when they are first asked for, as they take seconds."""
    return dict(case() for case in CRAFTED)
