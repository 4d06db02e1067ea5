"""Data sheets of one product, read: files in, a :class:`Reading` out."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from specgen.files.foreign import foreign_bytes
from specgen.files.marks import InputError, InputProblem, Mark
from specgen.intake.datasheet.asked import asked
from specgen.intake.datasheet.candidates import candidates
from specgen.intake.datasheet.child import ask, unusable
from specgen.intake.datasheet.combine import combined
from specgen.intake.datasheet.labels import Labels
from specgen.intake.datasheet.layout import page_of
from specgen.intake.datasheet.limits import MOST_BYTES, MOST_FILES
from specgen.intake.datasheet.lines import AS_BOLD
from specgen.intake.datasheet.notices import read_head, title
from specgen.intake.datasheet.owners import Owners
from specgen.intake.datasheet.unread import gave_nothing, unread
from specgen.model.datasheet import (
    Candidate,
    Cell,
    DataSheet,
    Evidence,
    Grid,
    Page,
    Reading,
    ReadValue,
    SheetHead,
    Standing,
)
from specgen.practice.datasheet_names import DatasheetNames, load_datasheet_names, plain_name
from specgen.practice.entries import Practice
from specgen.practice.product_names import designations, same_product
from specgen.practice.trade_names import hint
from specgen.units.counted import many

FORMS = {
    ".pdf": "pdf",
    ".docx": "word",
    ".xlsx": "workbook",
    ".xlsm": "workbook",
    ".csv": "csv",
    ".tsv": "csv",
    ".txt": "csv",
}
WANTED = ".pdf, .docx, .xlsx or .csv"
LONGEST_NAME = 60
MOST_WHYS = 3
CELL_WIDE, CELL_HIGH = 90.0, 12.0  # of the cells of a file without pages: places to compare, never shown


def load_sheets(
    paths: Sequence[Path], recognize: bool = False
) -> tuple[tuple[DataSheet, ...], dict[str, bytes]]:
    """Read every file, each in a process of its own.

    Args:
        paths: PDF, Word, Excel or CSV files.
        recognize: whether pages without text are read by character recognition.

    Returns:
        The sheets, and the bytes of the PDF files by name for the pictures of the evidence.

    Raises:
        InputError: carries the problem of every file that cannot be used.
    """
    problems: list[InputProblem] = []
    if len(paths) > MOST_FILES:
        raise unusable(
            str(paths[0]), f"{len(paths)} files, at most {MOST_FILES}", "name those of one product"
        )
    sheets: list[DataSheet] = []
    pictured: dict[str, bytes] = {}
    for path in paths:
        name = _unlike(shown_name(path), [one.file for one in sheets])
        try:
            form, data = _content(path)
            sheets.append(sheet_of(name, ask(str(path), form, data, {"recognize": recognize})))
        except InputError as error:
            problems += error.problems
            continue
        if form == "pdf":
            pictured[name] = data
    if problems:
        raise InputError(problems)
    return tuple(sheets), pictured


def shown_name(path: Path) -> str:
    """A file's name as it stands in texts: one line, no sign that a reader could take for something else.

    >>> shown_name(Path("a\\n<b>.pdf"))
    'a b .pdf'
    """
    kept = re.sub(r"[^\w .()+,&-]", " ", path.name)
    flat = " ".join(kept.split()) or "file"
    return flat if len(flat) <= LONGEST_NAME else f"{flat[: LONGEST_NAME - 8]}…{flat[-7:]}"


def _unlike(name: str, taken: Sequence[str]) -> str:
    return next(one for one in (name, *(f"{name} ({n})" for n in range(2, 99))) if one not in taken)


def _content(path: Path) -> tuple[str, bytes]:
    form = FORMS.get(path.suffix.lower())
    data = foreign_bytes(path, MOST_BYTES, f"a data sheet: {WANTED}", "send the data sheet alone")
    if not data:
        raise unusable(str(path), "the file is empty", "ask for it again")
    found = _by_content(data, form)
    if found is None:
        raise unusable(str(path), _other_kind(data), f"send it as {WANTED}")
    return found, data


def _by_content(data: bytes, form: str | None) -> str | None:
    """What a file is by its first bytes; its name decides only where they do not."""
    if b"%PDF-" in data[:1024]:
        return "pdf"
    if data[:4] == b"PK\x03\x04":
        return form if form in ("workbook", "word") else None
    return form if form == "csv" else None


def _other_kind(data: bytes) -> str:
    if data[:8] == b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1":
        return "this is an old or locked Office file"
    return "this is no PDF, no Word document, no Excel workbook and no CSV file"


def sheet_of(name: str, raw: Mapping[str, Any]) -> DataSheet:
    """One file as the process gave it, with its tables and lines found."""
    if "pages" in raw:
        pages = tuple(page_of(one) for one in raw["pages"])
        notes = tuple(f"{name}, {page.label}: {page.unreadable}" for page in pages if page.unreadable)
        return DataSheet(name, pages, notes)
    pages = tuple(_sheet_page(number, one) for number, one in enumerate(raw["sheets"], 1))
    notes = tuple(f"{name}: {note}" for one in raw["sheets"] for note in one.get("notes", ()))
    return DataSheet(name, pages, notes)


def _sheet_page(number: int, raw: Mapping[str, Any]) -> Page:
    width = max((len(row) for row in raw["rows"]), default=0)
    looks = raw.get("looks") or [[]] * len(raw["rows"])
    rows = tuple(
        tuple(
            _cell(text, line, column, look) for column, (text, look) in enumerate(_filled(row, shown, width))
        )
        for line, (row, shown) in enumerate(zip(raw["rows"], looks, strict=True))
        if any(row)
    )
    grids = (Grid(rows, ruled=True),) if rows else ()
    return Page(raw["label"], number, 0.0, 0.0, grids, unreadable="" if rows else "the sheet is empty")


def _filled(row: Sequence[str], looks: Sequence[Any], width: int) -> Iterator[tuple[str, Any]]:
    """The texts of a row with their looks, up to the width of the sheet."""
    for column in range(width):
        yield row[column] if column < len(row) else "", looks[column] if column < len(looks) else None


def _cell(text: str, line: int, column: int, look: Sequence[Any] | None) -> Cell:
    """A cell of a file without pages, at a place of its own."""
    left, top = CELL_WIDE * column, CELL_HIGH * line
    size, bold, struck = look or (0.0, False, False)
    box = (left, top, left + CELL_WIDE - 1, top + CELL_HIGH - 1)
    return Cell(text, box, struck=struck, size=size * (AS_BOLD if bold else 1.0))


def read_product(
    sheets: Sequence[DataSheet],
    role: str | None,
    practice: Practice,
    product: str = "",
    today: date | None = None,
) -> Reading:
    """What the files say of one product.

    Args:
        sheets: all of its files.
        role: of the vocabulary; None to take the one role that the files name.
        practice: the vocabulary.
        product: its name where a person gives it; "" to take it from the files.
        today: what papers are out of date by; None for the day of the system.

    Returns:
        Every attribute of the role that data sheets state: read, to confirm, or not found; with a question where the
        kind is not expected to have it.

    Raises:
        InputError: no role is given and the files do not name exactly one, or the role is unknown.
    """
    names = load_datasheet_names()
    chosen = _role(sheets, role, names, practice)
    labels = Labels(chosen, names, practice.vocabulary)
    found: dict[str, list[Candidate]] = {}
    left: list[Evidence] = []
    notes: list[str] = []
    owners = [Owners(sheet, labels, product) for sheet in sheets]
    for owner in owners:
        sheet = owner.sheet
        seen = candidates(owner, practice.vocabulary)
        left += unread(sheet, labels, seen)
        notes += [*sheet.notes, *not_read(sheet), *gave_nothing(sheet, seen)]
        for one in seen:
            found.setdefault(one.attribute, []).append(one)
    values = [
        combined(field, found.get(field.name, ()), names.least_confidence) for _, field in labels.attributes
    ]
    values = [_kind(sheets, chosen, names), *values]
    day = today or date.today()
    heads = tuple(read_head(owner.sheet, day, owner.name) for owner in owners)
    values = [_noticed(value, heads, product) for value in values]
    name = product or product_name(sheets, heads)
    return asked(Reading(chosen, name, tuple(values), tuple(notes), heads, tuple(left)), practice)


def not_read(sheet: DataSheet) -> Iterator[str]:
    """What of a file nobody read: its pictures and drawings."""
    for page in sheet.pages:
        if page.figures and not page.unreadable:
            yield f"{sheet.file}, {page.label}: not read: {many(page.figures, 'picture')} or drawn figures"


def _noticed(value: ReadValue, heads: Sequence[SheetHead], product: str) -> ReadValue:
    """A value of a paper that takes itself back, or that names another product than the other papers do."""
    if value.standing is Standing.NOT_FOUND:
        return value
    files = {one.file for one in value.evidence}
    whys = [str(notice) for head in heads if head.file in files for notice in head.notices]
    whys += [
        f"`{head.file}` is of `{head.product}`, not of `{product}`"
        for head in heads
        if product and head.file in files and head.product and not same_product(head.product, product)
    ]
    named = list(dict.fromkeys(head.product for head in heads if head.product and designations(head.product)))
    if not product and any(not same_product(named[0], other) for other in named[1:]):
        whys.append(f"the papers name different products: {', '.join(named[:4])}")
    if not whys:
        return value
    words = "; ".join(dict.fromkeys((*whys[:MOST_WHYS], *filter(None, [value.confirm]))))
    return replace(value, standing=Standing.CONFIRM, confirm=words)


def _first_page(sheet: DataSheet) -> Iterator[Cell]:
    for page in sheet.pages[:1]:
        yield from page.lines
        for grid in page.grids:
            for row in grid.rows:
                yield from row


def _texts(sheet: DataSheet) -> str:
    """The words of a file's first page, for comparison."""
    return f" {plain_name(' . '.join(cell.text for cell in _first_page(sheet)))} "


def _role(sheets: Sequence[DataSheet], role: str | None, names: DatasheetNames, practice: Practice) -> str:
    known = practice.vocabulary.roles
    where = sheets[0].file
    if role is not None:
        if role not in known:
            raise unusable(where, f"no role `{role}`", hint(role, known, f"choose: {', '.join(known)}"))
        return role
    found = roles_of(sheets, practice)
    if len(found) == 1:
        return found[0]
    what = (
        f"the files speak of several roles: {', '.join(found)}"
        if found
        else "the files do not say what the product is"
    )
    raise InputError(
        [InputProblem(Mark(where, 1, 1), what, f"add --role, one of: {', '.join(found or known)}")]
    )


def roles_of(sheets: Sequence[DataSheet], practice: Practice) -> tuple[str, ...]:
    """The roles that papers name: those of their titles where these name one, else of their first pages."""
    titles = " . ".join(title(sheet) for sheet in sheets)
    found: tuple[str, ...] = ()
    for text in (f" {plain_name(titles)} ", "".join(map(_texts, sheets))):
        roles = load_datasheet_names().roles.items()
        found = tuple(one for one, words in roles if any(f" {word} " in text for word in words))
        if len(found) == 1:
            break
    return tuple(one for one in found if one in practice.vocabulary.roles)


def _kind(sheets: Sequence[DataSheet], role: str, names: DatasheetNames) -> ReadValue:
    """The generic kind where the files name exactly one; a person confirms it, as words say what a table does not."""
    found: dict[str, Evidence] = {}
    for sheet in sheets:
        for cell in _first_page(sheet):
            text = f" {plain_name(cell.text)} "
            for kind, phrases in names.kinds.get(role, {}).items():
                if kind not in found and any(f" {phrase} " in text for phrase in phrases):
                    found[kind] = Evidence(
                        sheet.file, sheet.pages[0].label, sheet.pages[0].number, cell.box, cell.text[:160]
                    )
    if not found:
        return ReadValue("kind", "kind", Standing.NOT_FOUND, "", "", "", (), 0.0, ())
    why = "the generic kind is taken from words of the sheet"
    if len(found) > 1:
        why = f"the files speak of several kinds: {', '.join(found)}"
    value = next(iter(found)) if len(found) == 1 else ""
    return ReadValue("kind", "kind", Standing.CONFIRM, value, "", why, (), 0.5, tuple(found.values()))


def product_name(sheets: Sequence[DataSheet], heads: Sequence[SheetHead]) -> str:
    """A name to correct: what the first paper names, or else that of its file, without its ending."""
    if heads and heads[0].product:
        return heads[0].product
    stem = sheets[0].file.rpartition(".")[0] or sheets[0].file
    return " ".join(re.sub(r"[_-]+", " ", stem).split())[:60] or "product"


def pictures(
    reading: Reading, pictured: Mapping[str, bytes]
) -> tuple[Reading, dict[tuple[str, int, tuple[float, ...]], bytes]]:
    """A PNG picture of every place of the evidence in a PDF, by file, page and box.

    Returns:
        The reading, in which a value is to be confirmed where nothing is drawn; and the pictures.
    """
    wanted: dict[str, list[Evidence]] = {}
    for one in (*(place for value in reading.values for place in value.evidence), *reading.unread):
        if one.box and one.file in pictured:
            wanted.setdefault(one.file, []).append(one)
    found = {}
    blank: set[Evidence] = set()
    for file, places in wanted.items():
        unlike = list(dict.fromkeys(places))
        regions = [(one.number, one.box, one.value_box or one.box) for one in unlike]
        drawn = ask(file, "crops", pictured[file], {"regions": regions})["crops"]
        for one, crop in zip(unlike, drawn, strict=True):
            if crop["picture"] and one.box:
                found[(file, one.number, tuple(one.box))] = base64.b64decode(crop["picture"])
            if not crop["drawn"]:
                blank.add(one)
    return replace(reading, values=tuple(_seen(value, blank) for value in reading.values)), found


def _seen(value: ReadValue, blank: set[Evidence]) -> ReadValue:
    """A value whose text is in the file and not on the page: a layer that is off, or something drawn over it."""
    if not any(one in blank for one in value.evidence):
        return value
    why = "; ".join(part for part in ("nothing is drawn where it was read", value.confirm) if part)
    return replace(value, standing=Standing.CONFIRM, confirm=why)
