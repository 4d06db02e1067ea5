"""What a paper says of itself: that it is superseded, a draft, a sample; its product, grade, edition and day."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date

from specgen.intake.datasheet.days import days_in
from specgen.intake.datasheet.row import flat
from specgen.model.datasheet import Cell, DataSheet, Grid, Notice, Page, SheetHead, filled
from specgen.practice.datasheet_names import load_datasheet_names, plain_name
from specgen.practice.datasheet_notices import NoticeTable, NoticeWords, load_notices

NEAR_AFTER = 3  # words after a notice in which it can turn out to speak of something else
FLOWS = 1.9  # of the height of a line: the next line of a sentence is no farther below
FEWEST_IN_SENTENCE = 5  # words of a line that goes on in the next
LONGEST_ALONE = 14  # words of a line that is nothing but a notice
LONGEST_SAYING = 6  # words of a sentence among others that is a notice and nothing else
DATA_SHEET = "data sheet"
FIRST_LINES = 12  # of a first page, in which a paper says what it is
MOST = 12  # notices of one file
_SENTENCE = re.compile(r"(?<=[a-z)0-9])[.;!?]\s+")
_EDITION = re.compile(
    r"\s*(?:no\.?|number|nr\.?)?\s*[:#.]?\s*([0-9]{1,3}(?:\.[0-9]{1,3})?|[A-Z])(?![\w.])", re.I
)
_OTHER_EDITION = re.compile(r"\b(?:by|see|previous|supersedes?|replaces?)\s*$", re.I)
_PAIR = re.compile(r"^\s*([A-Za-z][A-Za-z /]{2,40}?)\s*:\s*(\S.*)$")


def read_head(sheet: DataSheet, today: date, named: str = "") -> SheetHead:
    """What a file says of itself.

    Args:
        sheet: the file.
        named: the heading that names the product which is read; "" where none does.
        today: a paper whose last day lies before it has expired; one that is dated after it cannot be.

    Returns:
        Its product, grade, edition and day as it states them, blank where it does not, and every notice on it.
    """
    table = load_notices()
    editions = list(dict.fromkeys(_editions(sheet, table)))
    days = dict.fromkeys(_dated(sheet, table, "dated"))
    notices = list(_notices(sheet, table))
    for last, words, page in _dated_words(sheet, table, "valid"):
        if last < today:
            notices.append(Notice("expired", flat(words)[:80], page))
    for day, words, page in _dated_words(sheet, table, "dated"):
        if day > today:
            notices.append(Notice("dated in the future", flat(words)[:80], page))
    if len(editions) > 1:
        notices.append(Notice("of several editions", ", ".join(editions[:4]), sheet.pages[0].label))
    kind = kind_of_paper(sheet) if sheet.pages else DATA_SHEET
    return SheetHead(
        file=sheet.file,
        kind=kind,
        product=_stated(sheet, table, "product") or named or (title(sheet) if kind == DATA_SHEET else ""),
        grade=_stated(sheet, table, "grade"),
        edition=editions[0] if len(editions) == 1 else "",
        day=max(days).isoformat() if days else "",
        notices=tuple({(one.title, one.page): one for one in reversed(notices)}.values())[::-1][:MOST],
    )


def _notices(sheet: DataSheet, table: NoticeTable) -> Iterator[Notice]:
    yield from _of_name(sheet.file.rpartition(".")[0].replace("_", " "), "file name", table)
    for page in sheet.pages:
        yield from _of_name(page.label.removeprefix("sheet "), page.label, table)
        for text in page.beside:
            yield from _of_alone(text, page.label, table)
            yield from _of_sentence(text, page.label, table)
            yield from _of_alone(_closed(text), page.label, table)
        for text in _lone(page, table):
            yield from _of_alone(text, page.label, table)
        for sentence in sentences(page):
            yield from _of_sentence(sentence, page.label, table)
            if len(sentence.split()) <= LONGEST_SAYING and not sentence[:1].islower():
                yield from _of_alone(sentence, page.label, table)
        if page.across:
            words = "a picture or a drawing lies across the page; look whether it says something of the paper"
            yield Notice("perhaps marked", words, page.label)


def _closed(text: str) -> str:
    """A text whose letters stand apart, closed up: "D R A F T"."""
    parts = text.split()
    return "".join(parts) if parts and all(len(part) == 1 for part in parts) else text


def _lone(page: Page, table: NoticeTable) -> Iterator[str]:
    """Lines, cells that stand alone in their row, and what stands beside a status."""
    for line in page.lines:
        yield line.text
        yield _closed(line.text)
        yield from re.split(r"\s[|•·–—-]\s|\s{3,}", line.text)
        if (pair := _PAIR.match(line.text)) and plain_name(pair[1]) in table.heads["status"]:
            yield pair[2]
    for grid in page.grids:
        for row in grid.rows:
            cells = filled(row)
            if len(cells) == 1:
                yield cells[0].text
            elif cells and plain_name(cells[0].text) in table.heads["status"]:
                yield from (cell.text for cell in cells[1:])


def sentences(page: Page) -> Iterator[str]:
    """The sentences of a page: lines that go on in the next are joined, each cell of a table stands for itself."""
    text, last = "", None
    for line in page.lines:
        if last is not None and not _flows(last, line):
            yield from _SENTENCE.split(text)
            text = ""
        text, last = f"{text} {line.text}".strip(), line
    yield from _SENTENCE.split(text)
    for grid in page.grids:
        for row in grid.rows:
            for cell in dict.fromkeys(row):
                yield from _SENTENCE.split(cell.text)


def _flows(one: Cell, following: Cell) -> bool:
    if not one.box or not following.box or len(one.text.split()) < FEWEST_IN_SENTENCE:
        return False
    high = max(one.box[3] - one.box[1], 1.0)
    return 0 < following.box[1] - one.box[1] <= FLOWS * high and following.box[0] < one.box[2]


def _of_name(text: str, where: str, table: NoticeTable) -> Iterator[Notice]:
    """The name of a file or of a sheet of a workbook: a notice among its words counts."""
    words = f" {plain_name(text)} "
    for one in table.notices:
        if any(f" {phrase} " in words for phrase in (*one.anywhere, *one.alone)):
            yield Notice(one.title, flat(text)[:80], where)


def _of_alone(text: str, where: str, table: NoticeTable) -> Iterator[Notice]:
    """A text that is a notice and nothing else."""
    plain = plain_name(text)
    words = plain.split()
    if not words or len(words) > LONGEST_ALONE:
        return
    for one in table.notices:
        for phrase in (*one.alone, *one.anywhere):
            rest = f" {plain} ".replace(f" {phrase} ", " ", 1).split()
            if len(rest) < len(words) and all(_passes(word, table) for word in rest):
                yield Notice(one.title, flat(text)[:80], where)
                break


def _passes(word: str, table: NoticeTable) -> bool:
    return word in table.beside or word.isdecimal() or len(word) == 1 or bool(days_in(f"1 {word} 2000"))


def _of_sentence(text: str, where: str, table: NoticeTable) -> Iterator[Notice]:
    plain = plain_name(text)
    for one in table.notices:
        found = next((phrase for phrase in one.anywhere if f" {phrase} " in f" {plain} "), None)
        loud = any(re.search(rf"(?<![\w-]){word.upper()}(?![\w-])", text) for word in one.capitals)
        if loud or (found is not None and not _innocent(plain, found, one)):
            yield Notice(one.title, flat(text)[:160], where)


def _innocent(plain: str, phrase: str, one: NoticeWords) -> bool:
    """Whether a sentence speaks of something else: of previous editions, of cleaning that comes first."""
    before, _, after = f" {plain} ".partition(f" {phrase} ")
    near = f" {' '.join(after.split()[:NEAR_AFTER])} "
    return any(f" {word} " in f"{before} " for word in one.before) or any(
        f" {word} " in near for word in one.after
    )


def _pairs(sheet: DataSheet) -> Iterator[tuple[str, str, str]]:
    """What stands beside a word: label, text, page; of lines "label: text" and of rows of tables."""
    for page in sheet.pages:
        for line in page.lines:
            for part in re.split(r"\s{3,}|\s[|•·]\s", line.text):
                if pair := _PAIR.match(part):
                    yield plain_name(pair[1]), pair[2], page.label
        for grid in page.grids:
            for row in grid.rows:
                texts = [cell.text for cell in filled(row)]
                if len(texts) % 2 == 0:
                    for label, text in zip(texts[::2], texts[1::2], strict=True):
                        yield plain_name(label), text, page.label


def _stated(sheet: DataSheet, table: NoticeTable, head: str) -> str:
    words = table.heads[head]
    found = dict.fromkeys(flat(text)[:60] for label, text, _ in _pairs(sheet) if label in words)
    return next(iter(found)) if len(found) == 1 else ""


def _spoken(sheet: DataSheet) -> Iterator[tuple[str, str]]:
    """Every line, lone cell, row and remark of a file, with its page."""
    for page in sheet.pages:
        yield from ((line.text, page.label) for line in page.lines)
        yield from ((text, page.label) for text in page.beside)
        for grid in page.grids:
            for row in grid.rows:
                yield " ".join(cell.text for cell in filled(row)), page.label


def _editions(sheet: DataSheet, table: NoticeTable) -> Iterator[str]:
    """The editions that a file says it is of; not those that it speaks of in a sentence."""
    heads = "|".join(re.escape(one) for one in sorted(table.heads["edition"], key=len, reverse=True))
    start = re.compile(rf"(?:^|[|•·,;:–—-]|\s{{3,}}|sheet|no)\s*({heads})\b\.?", re.I)
    for text, _ in _spoken(sheet):
        if len(text.split()) > LONGEST_ALONE:
            continue
        for match in start.finditer(text):
            edition = _EDITION.match(text, match.end())
            if edition and not _OTHER_EDITION.search(text[: match.start(1)]):
                yield edition[1].upper().lstrip("0") or "0"


def _dated(sheet: DataSheet, table: NoticeTable, head: str) -> Iterator[date]:
    yield from (day for day, _, _ in _dated_words(sheet, table, head))


def _dated_words(sheet: DataSheet, table: NoticeTable, head: str) -> Iterator[tuple[date, str, str]]:
    """The days that stand behind words such as "issued" or "valid until", each with its line and page."""
    words = "|".join(re.escape(one) for one in sorted(table.heads[head], key=len, reverse=True))
    start = re.compile(rf"(?<!\w)(?:{words})\b[\s:.]*(?:on )?", re.I)
    for text, page in _spoken(sheet):
        for match in start.finditer(text):
            for day in days_in(text[match.end() : match.end() + 24])[:1]:
                yield day, text[match.start() :], page


def kind_of_paper(sheet: DataSheet) -> str:
    """What kind of paper a file is, by its title or by its first lines; a data sheet where it says nothing else."""
    page = sheet.pages[0]
    lines = [line.text for line in page.lines[:FIRST_LINES]]
    lines += [cell.text for grid in page.grids[:1] for row in grid.rows[:FIRST_LINES] for cell in row]
    for text in (title(sheet), " . ".join(lines)):
        plain = f" {plain_name(text)} "
        for kind, words in load_datasheet_names().papers.items():
            if any(f" {word} " in plain for word in words):
                return kind
    return DATA_SHEET


def title(sheet: DataSheet) -> str:
    """The largest text of the first page; of a workbook, the first row that stands alone."""
    page = sheet.pages[0] if sheet.pages else None
    if page is None:
        return ""
    cells = [*page.lines, *(cell for grid in page.grids for cell in _alone_in_row(grid))]
    sized = [cell for cell in cells if cell.size]
    if not sized:
        return flat(cells[0].text)[:60] if cells else ""
    largest = max(cell.size for cell in sized)
    body = sorted(cell.size for cell in sized)[len(sized) // 2]
    first = next((cell for cell in sized if cell.size == largest), None)
    if first is None or (largest <= body and len(sized) > 2):
        return ""
    return flat(first.text)[:60]


def _alone_in_row(grid: Grid) -> Sequence[Cell]:
    return [cells[0] for cells in map(filled, grid.rows) if len(cells) == 1]
