"""Data sheets drawn from known products, in the layouts that manufacturers use. Each returns a PDF and its truth."""

from __future__ import annotations

import io
import random
from collections.abc import Callable
from dataclasses import replace

import pypdfium2
from reportlab.lib import colors
from reportlab.lib.pagesizes import landscape, letter
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfgen import canvas
from reportlab.platypus import (
    BaseDocTemplate,
    Frame,
    FrameBreak,
    PageTemplate,
    Paragraph,
    SimpleDocTemplate,
    Spacer,
    Table,
)

from tests.intake.sheets.truth import Fact, Truth, product

Drawn = tuple[bytes, Truth]
BODY = ParagraphStyle("body", fontName="Helvetica", fontSize=9, leading=11.5)
SMALL = ParagraphStyle("small", parent=BODY, fontSize=7, leading=9)
TITLE = ParagraphStyle("title", parent=BODY, fontName="Helvetica-Bold", fontSize=18, leading=24)
LINES = [("GRID", (0, 0), (-1, -1), 0.4, colors.black), ("VALIGN", (0, 0), (-1, -1), "MIDDLE")]
TALK = (
    "Apply to clean and dry sheathing. Store above freezing and keep from sunlight. The finished membrane is "
    "continuous over joints, corners and fasteners. Protect open tops at the end of each day. Read the safety data "
    "before use. Coordinate the sequence with the work of other trades and keep records of each area covered. "
)


def _p(text: str, style: ParagraphStyle = BODY) -> Paragraph:
    text = text.replace("≥", "&gt;=").replace("≤", "&lt;=")  # no built-in font has these signs
    return Paragraph(text.replace("²", "<super>2</super>"), style)


def _escaped(text: str) -> str:
    return text.replace("<", "&lt;").replace(">", "&gt;")


def value_text(fact: Fact, systems: str = "both", condition: bool = True) -> str:
    """A value as a cell states it."""
    text = fact.ip
    if fact.si:
        text = {"both": f"{fact.ip} ({fact.si})", "ip": fact.ip, "si": fact.si}[systems]
    if fact.compare:
        text = f"{fact.compare} {text}"
    if condition and fact.condition:
        text += f" @ {fact.condition}"
    return _escaped(text)


def _built(story: list, truth: Truth, pagesize: tuple[float, float] = letter) -> bytes:
    out = io.BytesIO()
    head = [Paragraph(truth.title, TITLE), _p(truth.opening), Spacer(1, 8)]
    SimpleDocTemplate(out, pagesize=pagesize, invariant=1, leftMargin=54, rightMargin=54).build(
        [*head, *story]
    )
    return out.getvalue()


def _rows(
    truth: Truth, head: tuple[str, ...], cells: Callable[[Fact], tuple[str, ...]]
) -> list[list[Paragraph]]:
    return [
        [_p(f"<b>{name}</b>") for name in head],
        *[[_p(cell) for cell in cells(fact)] for fact in truth.facts],
    ]


def ruled(seed: int) -> Drawn:
    """A table with lines: property, method, result."""
    truth = product(seed)
    head = ("Property", "Test Method", "Result")
    rows = _rows(truth, head, lambda f: (f.label, f.method, value_text(f)))
    table = Table(rows, colWidths=[150, 140, 210], style=LINES)
    return _built([table, Spacer(1, 10), _p(TALK)], truth), truth


def uprights(seed: int) -> Drawn:
    """Rulings between the columns and around, none between the rows."""
    truth = product(seed)
    head = ("Property", "Test Method", "Result")
    rows = _rows(truth, head, lambda f: (f.label, f.method, value_text(f)))
    style = [("BOX", (0, 0), (-1, -1), 0.5, colors.black), ("LINEAFTER", (0, 0), (-2, -1), 0.5, colors.black)]
    style += [("LINEBELOW", (0, 0), (-1, 0), 0.5, colors.black), ("VALIGN", (0, 0), (-1, -1), "TOP")]
    return _built([Table(rows, colWidths=[150, 140, 210], style=style)], truth), truth


def unruled(seed: int) -> Drawn:
    """A table without lines, cells wrapped."""
    truth = product(seed)
    head = ("Physical Property", "Result", "Test Method")
    rows = _rows(truth, head, lambda f: (f.label, value_text(f), f.method))
    valign = ("TOP", "MIDDLE", "BOTTOM")[seed % 3]
    table = Table(rows, colWidths=[170, 130, 150], style=[("VALIGN", (0, 0), (-1, -1), valign)])
    return _built([_p(TALK), Spacer(1, 8), table, Spacer(1, 10), _p(TALK)], truth), truth


QUALIFIERS = (
    "after weathering",
    "on primed board",
    "of primer",
    "wet film",
    "at -20 °F",
    "per coat",
    "(aged)",
    "Type B",
    "14 days",
)
FRAMES = (
    [],
    LINES,
    [("LINEBELOW", (0, 0), (-1, -1), 0.4, colors.black), ("LINEABOVE", (0, 0), (-1, 0), 0.4, colors.black)],
    [("ROWBACKGROUNDS", (0, 0), (-1, -1), (colors.white, colors.whitesmoke))],
    [("BOX", (0, 0), (-1, -1), 0.5, colors.black), ("LINEAFTER", (0, 0), (-2, -1), 0.5, colors.black)],
)


def wrapped(seed: int) -> Drawn:
    """Any spacing, font and frame; a second line in a cell may limit the value in the first."""
    rnd = random.Random(seed)
    truth = product(seed)
    size = rnd.choice((7.0, 8.5, 10.0, 12.0))
    font = rnd.choice(("Helvetica", "Times-Roman", "Courier"))
    style = ParagraphStyle("any", fontName=font, fontSize=size, leading=size * rnd.uniform(1.05, 1.9))
    columns = rnd.sample(range(3), k=3) if rnd.random() < 0.3 else [0, 1, 2]
    columns.remove(0)
    columns.insert(0, 0)
    facts, rows = [], []
    for fact in truth.facts:
        cells = [fact.label, value_text(fact), fact.method]
        if rnd.random() < 0.4:
            cells[rnd.choice((0, 1, 1))] += f"<br/>{rnd.choice(QUALIFIERS)}"
            fact = replace(fact, acceptable=False, why="a second line limits it")
        facts.append(fact)
        rows.append([_p(cells[at], style) for at in columns])
    padding = rnd.choice((0, 1, 3, 8))
    look = [*rnd.choice(FRAMES), ("VALIGN", (0, 0), (-1, -1), rnd.choice(("TOP", "MIDDLE", "BOTTOM")))]
    look += [(f"{side}PADDING", (0, 0), (-1, -1), padding) for side in ("TOP", "BOTTOM")]
    table = Table(
        rows,
        colWidths=[rnd.choice((90, 140, 190)), rnd.choice((110, 170)), rnd.choice((90, 150))],
        style=look,
    )
    return _built([Spacer(1, 20), table, Spacer(1, 30), _p(TALK)], truth), replace(truth, facts=tuple(facts))


def two_columns(seed: int) -> Drawn:
    """Text on the left, a narrow table without lines on the right."""
    truth = product(seed)
    out = io.BytesIO()
    left, right = Frame(40, 40, 255, 700), Frame(315, 40, 260, 700)
    document = BaseDocTemplate(out, pagesize=letter, invariant=1)
    document.addPageTemplates([PageTemplate(frames=[left, right])])
    rows = [
        [_p(f.label), _p(" ".join(part for part in (value_text(f), f.method) if part))] for f in truth.facts
    ]
    table = Table(rows, colWidths=[110, 140], style=[("VALIGN", (0, 0), (-1, -1), "TOP")])
    story = [
        Paragraph(truth.title, TITLE),
        _p(truth.opening),
        _p(TALK * 4),
        FrameBreak(),
        _p("<b>Technical data</b>"),
        table,
    ]
    document.build(story)
    return out.getvalue(), truth


def footnoted(seed: int) -> Drawn:
    """Methods and conditions stand in footnotes; one note is about aged specimens."""
    rnd = random.Random(seed)
    truth = product(seed, conditions_apart=True)
    notes: list[str] = []
    rows, facts = [[_p("<b>Property</b>"), _p("<b>Typical Value</b>")]], []
    for fact in truth.facts:
        parts = [
            f"Tested in accordance with {fact.method}" if fact.method else "",
            f"at {fact.condition}" if fact.condition else "",
        ]
        note = " ".join(part for part in parts if part)
        if note and rnd.random() < 0.2:
            note += rnd.choice(
                (", after 1000 hours of weathering", " on primed concrete", ", wet film of 80 mils")
            )
            fact = replace(fact, acceptable=False, why="a note that limits it")
        mark = ""
        if note:
            notes.append(note)
            mark = f"<super>{len(notes)}</super>"
        facts.append(fact)
        where = rnd.random() < 0.5
        rows.append(
            [
                _p(fact.label + (mark if where else "")),
                _p(value_text(fact, condition=False) + ("" if where else mark)),
            ]
        )
    table = Table(rows, colWidths=[200, 230], style=LINES if seed % 2 else [])
    story = [
        table,
        Spacer(1, 12),
        *[_p(f"<super>{n}</super> {note}.", SMALL) for n, note in enumerate(notes, 1)],
    ]
    return _built(story, truth), replace(truth, facts=tuple(facts))


def mixed_units(seed: int) -> Drawn:
    """A column for each system of units; now and then the two disagree."""
    rnd = random.Random(seed)
    truth = product(seed)
    facts, cells = [], []
    for fact in truth.facts:
        si = fact.si
        if si and rnd.random() < 0.15:
            number, _, unit = si.partition(" ")
            if unit:
                si = f"{float(number) * 2:g} {unit}"
                fact = replace(fact, acceptable=False, why="two systems that disagree")
        facts.append(fact)
        condition = f" @ {fact.condition}" if fact.condition else ""
        compare = f"{fact.compare} " if fact.compare else ""
        cells.append((fact.label, fact.method, _escaped(f"{compare}{fact.ip}{condition}"), _escaped(si)))
    rows = [
        [_p(f"<b>{h}</b>") for h in ("Property", "Method", "Imperial", "Metric")],
        *[[_p(c) for c in row] for row in cells],
    ]
    table = Table(rows, colWidths=[130, 130, 130, 110], style=LINES)
    return _built([table], truth), replace(truth, facts=tuple(facts))


def by_grade(seed: int) -> Drawn:
    """Two grades side by side; what differs between them cannot be taken."""
    rnd = random.Random(seed)
    truth = product(seed)
    facts, rows = (
        [],
        [[_p(f"<b>{h}</b>") for h in ("Property", "Test Method", "Standard Grade", "Heavy Grade")]],
    )
    for fact in truth.facts:
        other = value_text(fact)
        if rnd.random() < 0.6 and not isinstance(fact.value, str):
            number = fact.ip.split()[0].rstrip("%°F").replace(",", "")
            if number.replace(".", "").isdigit():
                changed = fact.ip.replace(fact.ip.split()[0].rstrip("%°F"), f"{float(number) * 1.5:g}", 1)
                other = _escaped(
                    f"{fact.compare} {changed}".strip() + (f" @ {fact.condition}" if fact.condition else "")
                )
                fact = replace(fact, acceptable=False, why="grades differ")
        facts.append(fact)
        rows.append([_p(fact.label), _p(fact.method), _p(value_text(fact)), _p(other)])
    table = Table(rows, colWidths=[120, 120, 130, 130], style=LINES)
    return _built([table], truth), replace(truth, facts=tuple(facts))


def rotated(seed: int) -> Drawn:
    """A landscape table: drawn turned on an upright page, or on a page that says it is turned."""
    truth = product(seed)
    if seed % 2:
        head = ("Property", "Test Method", "Result")
        table = Table(
            _rows(truth, head, lambda f: (f.label, f.method, value_text(f))),
            colWidths=[200, 200, 260],
            style=LINES,
        )
        data = _built([table], truth, landscape(letter))
        document = pypdfium2.PdfDocument(data)
        document[0].set_rotation((90, 180, 270)[seed // 2 % 3])
        out = io.BytesIO()
        document.save(out)
        return out.getvalue(), truth
    out = io.BytesIO()
    page = canvas.Canvas(out, pagesize=letter, invariant=1)
    page.translate(612, 0)
    page.rotate(90)
    page.setFont("Helvetica-Bold", 16)
    page.drawString(60, 560, truth.title)
    page.setFont("Helvetica", 9)
    for row, fact in enumerate(truth.facts):
        for x, cell in (
            (60, fact.label),
            (260, value_text(fact).replace("&lt;", "<").replace("&gt;", ">")),
            (560, fact.method),
        ):
            page.drawString(x, 500 - 22 * row, cell.replace("≥", ">=").replace("≤", "<="))
    page.save()
    return out.getvalue(), truth


def listed(seed: int) -> Drawn:
    """A list of "label: value" lines, comparators in words."""
    truth = product(seed)
    story = [_p(f"• {f.label}: {value_text(f)}{f', {f.method}' if f.method else ''}") for f in truth.facts]
    return _built([*story, Spacer(1, 20), _p(TALK)], truth), truth


def running(seed: int) -> Drawn:
    """Values in sentences: found, never taken."""
    truth = product(seed)
    facts = tuple(replace(fact, acceptable=False, why="running text") for fact in truth.facts)
    text = TALK
    for fact in facts:
        method = f" when tested by {fact.method}" if fact.method else ""
        text += f"The {fact.label.lower()} is {value_text(fact)}{method}. "
    return _built([_p(text + TALK)], truth), replace(truth, facts=facts)


def decoys(seed: int) -> Drawn:
    """A requirement column and rows that look like the value and are another: aged, wet film, of the primer."""
    rnd = random.Random(seed)
    truth = product(seed)
    rows, facts = [[_p(f"<b>{h}</b>") for h in ("Property", "Test Method", "Requirement", "Result")]], []
    for fact in truth.facts:
        wild = {"air_permeance": "<= 0.004 cfm/ft²", "vapor_permeance": ">= 10 perms"}.get(
            fact.attribute, "Report"
        )
        if rnd.random() < 0.3:
            aged = rnd.choice(("after aging", "of primer", "at seams"))
            rows.append(
                [
                    _p(f"{fact.label} {aged}"),
                    _p(fact.method),
                    _p(""),
                    _p(value_text(replace(fact, compare=""))),
                ]
            )
            fact = replace(fact, acceptable=not fact.why)
        rows.append([_p(fact.label), _p(fact.method), _p(_escaped(wild)), _p(value_text(fact))])
        facts.append(fact)
    rows.insert(1, [_p("Wet film thickness"), _p(""), _p("Report"), _p("70 mils (1.8 mm)")])
    style = LINES if seed % 2 else [("VALIGN", (0, 0), (-1, -1), "TOP")]
    return _built([Table(rows, colWidths=[150, 120, 90, 150], style=style)], truth), replace(
        truth, facts=tuple(facts)
    )


def transposed(seed: int) -> Drawn:
    """Attributes across, one product in the row below."""
    truth = product(seed)
    facts = truth.facts[:4]
    rows = [
        [_p("<b>Product</b>"), *[_p(f"<b>{f.label}</b>") for f in facts]],
        [_p("Test Method"), *[_p(f.method) for f in facts]],
        [_p(truth.title), *[_p(value_text(f)) for f in facts]],
    ]
    table = Table(rows, colWidths=[90, *[105] * len(facts)], style=LINES)
    return _built([table], truth), replace(truth, facts=facts)


def scanned(seed: int) -> Drawn:
    """A picture of a sheet: no text to read."""
    data, truth = ruled(seed)
    picture = pypdfium2.PdfDocument(data)[0].render(scale=1).to_pil().convert("L")
    out = io.BytesIO()
    page = canvas.Canvas(out, pagesize=letter, invariant=1)
    page.drawInlineImage(picture, 0, 0, 612, 792)
    page.save()
    return out.getvalue(), truth


LAYOUTS: dict[str, Callable[[int], Drawn]] = {
    "table with lines": ruled,
    "table without lines": unruled,
    "uprights only": uprights,
    "any spacing": wrapped,
    "two columns": two_columns,
    "footnotes": footnoted,
    "mixed units": mixed_units,
    "by grade": by_grade,
    "rotated": rotated,
    "list in words": listed,
    "running text": running,
    "look-alikes": decoys,
    "attributes across": transposed,
    "scanned": scanned,
}
