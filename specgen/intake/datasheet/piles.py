"""A folder of mixed paper, sorted: which papers are of which product, and what is left aside."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from specgen.files.marks import InputError
from specgen.intake.datasheet.labels import Labels
from specgen.intake.datasheet.notices import DATA_SHEET, kind_of_paper, title
from specgen.intake.datasheet.owners import Owners
from specgen.intake.datasheet.read import FORMS, load_sheets, roles_of, shown_name
from specgen.model.datasheet import DataSheet
from specgen.practice.datasheet_names import load_datasheet_names, plain_name
from specgen.practice.entries import Practice
from specgen.practice.product_names import designations, same_product

UNREAD = "unreadable"
MOST_PAPERS = 500


@dataclass(frozen=True)
class Opened:
    """One file of a folder, opened: what kind of paper it is, and of which product it speaks."""

    path: Path
    file: str
    kind: str  # "data sheet", "test report" …; UNREAD for what holds nothing to read
    why: str  # why it is set aside, "" where it is not
    sheet: DataSheet | None = None
    pdf: bytes = b""
    digest: str = ""
    roles: tuple[str, ...] = ()
    product: str = ""


@dataclass(frozen=True)
class Pile:
    """The papers of one product."""

    role: str
    product: str
    papers: tuple[Opened, ...]


def papers_in(folder: Path) -> tuple[Path, ...]:
    """The files of a folder and of the folders in it, in the order of their names; hidden ones and links left out."""
    found = (one for one in sorted(folder.rglob("*")) if one.is_file() and not one.is_symlink())
    return tuple(
        one for one in found if not any(part.startswith(".") for part in one.relative_to(folder).parts)
    )


def opened(path: Path, folder: Path, practice: Practice, recognize: bool = False) -> Opened:
    """One file of a folder; a file that cannot be used is set aside with the reason.

    Args:
        path: the file.
        folder: in which it lies, for its name in messages.
        practice: the vocabulary.
        recognize: whether pages without text are read by character recognition.
    """
    file = shown_name(Path(str(path.relative_to(folder)).replace("\\", "/").replace("/", " - ")))
    if path.suffix.lower() not in FORMS:
        return Opened(
            path, file, UNREAD, f"{path.suffix or 'a file without an ending'} is no paper that is read here"
        )
    try:
        sheets, pdfs = load_sheets([path], recognize)
    except InputError as error:
        return Opened(path, file, UNREAD, "; ".join(f"{one.message} ({one.fix})" for one in error.problems))
    sheet = replace(sheets[0], file=file)
    digest = hashlib.sha256(repr(sheet.pages).encode()).hexdigest()
    data = next(iter(pdfs.values()), b"")
    if all(page.unreadable for page in sheet.pages):
        why = sheet.pages[0].unreadable if sheet.pages else "it holds nothing"
        return Opened(path, file, UNREAD, why, sheet, data, digest)
    roles = roles_of([sheet], practice)
    kind = kind_of_paper(sheet)
    product = ""
    for role in roles[:1]:
        labels = Labels(role, load_datasheet_names(), practice.vocabulary)
        product = Owners(sheet, labels).name
    return Opened(path, file, kind, "", sheet, data, digest, roles, product or title(sheet))


def piles(papers: Sequence[Opened]) -> tuple[tuple[Pile, ...], tuple[Opened, ...]]:
    """The papers by product: data sheets say which products there are, the others join those that they name.

    Returns:
        The piles, and what is set aside with the reason.
    """
    aside = [one for one in papers if one.why]
    known: dict[str, Opened] = {}
    fresh = []
    for one in papers:
        if one.why:
            continue
        twin = known.setdefault(one.digest, one)
        if twin is one:
            fresh.append(one)
        else:
            aside.append(replace(one, why=f"says the same as {twin.file}, word for word"))
    found: list[Pile] = []
    rest: list[Opened] = []
    for one in fresh:
        if one.kind != DATA_SHEET or len(one.roles) != 1:
            rest.append(one)
            continue
        at = next((at for at, pile in enumerate(found) if _same(pile, one)), None)
        if at is None:
            found.append(Pile(one.roles[0], one.product, (one,)))
        else:
            found[at] = replace(found[at], papers=(*found[at].papers, one))
    for one in rest:
        mine = [at for at, pile in enumerate(found) if _speaks_of(pile, one)]
        for at in mine:
            found[at] = replace(found[at], papers=(*found[at].papers, one))
        if not mine:
            aside.append(replace(one, why=_why_alone(one)))
    return tuple(found), tuple(aside)


def _same(pile: Pile, one: Opened) -> bool:
    ours, theirs = designations(pile.product), designations(one.product)
    if bool(ours) != bool(theirs):
        return False
    return pile.role == one.roles[0] and same_product(pile.product, one.product)


def _speaks_of(pile: Pile, one: Opened) -> bool:
    """Whether a paper names the product of a pile: by its letters and numbers, or by all words of its name."""
    if one.sheet is None or one.kind in ("schedule", "safety data sheet"):
        return False
    ours = designations(pile.product)
    texts = list(_texts(one.sheet))
    if ours:
        return any(ours & designations(text) for text in texts)
    words = [word for word in plain_name(pile.product).split() if word not in load_datasheet_names().headings]
    everything = f" {plain_name(' '.join(texts))} "
    return bool(words) and f" {plain_name(pile.product)} " in everything


def _texts(sheet: DataSheet) -> Iterator[str]:
    for page in sheet.pages:
        yield from (line.text for line in page.lines)
        yield from (cell.text for grid in page.grids for row in grid.rows for cell in row if cell.text)


def _why_alone(one: Opened) -> str:
    if one.kind in ("schedule", "safety data sheet"):
        return f"a {one.kind}; nothing is read from it here"
    if one.kind == DATA_SHEET:
        what = (
            f"speaks of several kinds of product: {', '.join(one.roles)}"
            if one.roles
            else "does not say what the product is"
        )
        return f"{what}; read it with specgen read --role"
    return f"a {one.kind} that names none of the products of the data sheets"


def file_name(pile: Pile, taken: Sequence[str]) -> str:
    """The name of a product's submittal file, without its ending."""
    stem = re.sub(r"[^a-z0-9]+", "-", f"{pile.role} {pile.product}".casefold()).strip("-")[:60] or "product"
    return next(one for one in (stem, *(f"{stem}-{n}" for n in range(2, 999))) if one not in taken)
