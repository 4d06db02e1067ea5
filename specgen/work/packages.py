"""Mixed paper sorted by product, and each product read into a submittal file with the page of its evidence."""

from __future__ import annotations

import os
from collections.abc import Callable, Collection, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from specgen.assessment import Assessment
from specgen.intake.datasheet.piles import Opened, Pile, file_name, opened, piles
from specgen.model.datasheet import Reading, Standing
from specgen.practice.entries import Practice
from specgen.work.datasheets import ProductRead, product_read

Asked = Mapping[str, frozenset[str]]  # what a project asks of the products of each role


@dataclass(frozen=True)
class ProductPapers:
    """One product of a folder of paper: its papers, and what nobody found on them."""

    role: str
    product: str
    file: Path
    papers: tuple[str, ...]  # each with its kind
    read: int
    to_confirm: int
    missing: tuple[str, ...]  # what the project asks for, or where none is given what such a product states


@dataclass(frozen=True)
class PaperAside:
    """One paper that belongs to no product, with the reason."""

    file: str
    kind: str
    why: str


@dataclass(frozen=True)
class PackageRead:
    """What became of mixed paper: products, what is set aside, and the files to write."""

    products: tuple[ProductPapers, ...]
    aside: tuple[PaperAside, ...]
    files: Mapping[Path, bytes]


@dataclass(frozen=True)
class Taken:
    """Names of submittal files, without their endings, and numbers that others have."""

    names: Collection[str] = ()
    numbers: Collection[str] = ()


def read_package(
    paths: Sequence[Path],
    folder: Path,
    output: Path,
    practice: Practice,
    *,
    wanted: Asked | None = None,
    recognize: bool = False,
    jobs: int | None = None,
    tell: Callable[[int], object] = lambda _done: None,
) -> PackageRead:
    """Sort papers by product, and read each product.

    Args:
        paths: the papers, in a folder or below it.
        folder: their folder, for their names in messages.
        output: the folder that the submittal files are for; nothing is written into it here.
        practice: the vocabulary.
        wanted: what the project asks of the products; None without a project.
        recognize: whether pages without text are read by character recognition.
        jobs: files read at one time; None: one a core.
        tell: is called with the count of papers as they are opened, and again as they are read.
    """
    papers = []
    with ThreadPoolExecutor(_workers(jobs, len(paths))) as pool:
        for one in pool.map(lambda path: opened(path, folder, practice, recognize), paths):
            papers.append(one)
            tell(1)
    return read_opened(papers, output, practice, wanted=wanted, jobs=jobs, tell=tell)


def read_opened(
    papers: Sequence[Opened],
    output: Path,
    practice: Practice,
    *,
    wanted: Asked | None = None,
    taken: Taken | None = None,
    jobs: int | None = None,
    tell: Callable[[int], object] = lambda _done: None,
) -> PackageRead:
    """As :func:`read_package`, of papers that are opened.

    Args:
        papers: each as it was opened.
        output: the folder that the submittal files are for; nothing is written into it here.
        practice: the vocabulary.
        wanted: what the project asks of the products; None without a project.
        taken: names and numbers that no product may get.
        jobs: products read at one time; None: one a core.
        tell: is called with the count of papers as their products are read.
    """
    have = taken or Taken()
    sorted_piles, aside = piles(papers)
    names: list[str] = []
    for pile in sorted_piles:
        names.append(file_name(pile, [*have.names, *names]))
    files: dict[Path, bytes] = {}
    products = []
    numbers = _numbers(sorted_piles, practice, have.numbers)
    with ThreadPoolExecutor(_workers(jobs, len(papers))) as pool:
        done = pool.map(lambda pile, number: _read(pile, number, practice), sorted_piles, numbers)
        for pile, name, made in zip(sorted_piles, names, done, strict=True):
            files[output / f"{name}.yaml"] = made.submittal
            files[output / f"{name}-evidence.html"] = made.evidence
            products.append(_product(pile, output / f"{name}.yaml", made.reading, wanted))
            tell(len(pile.papers))
    return PackageRead(
        tuple(products), tuple(PaperAside(one.file, one.kind, one.why) for one in aside), files
    )


def _workers(jobs: int | None, count: int) -> int:
    return max(1, min(jobs or os.cpu_count() or 1, count))


def next_number(section: str, taken: Collection[str]) -> str:
    """The next number of a submittal of a section: its place among those of that section.

    >>> next_number("07 27 00", ["07 27 00-01", "07 71 00-01"])
    '07 27 00-02'
    """
    number = 1 + sum(one.startswith(section) for one in taken)
    while f"{section}-{number:02}" in taken:
        number += 1
    return f"{section}-{number:02}"


def _numbers(sorted_piles: Sequence[Pile], practice: Practice, taken: Collection[str]) -> list[str]:
    found: list[str] = []
    for pile in sorted_piles:
        section = practice.vocabulary.roles[pile.role].section
        found.append(next_number(section, [*taken, *found]))
    return found


def _read(pile: Pile, number: str, practice: Practice) -> ProductRead:
    """The papers of one product, read."""
    sheets = [one.sheet for one in pile.papers if one.sheet is not None]
    pdfs = {one.file: one.pdf for one in pile.papers if one.pdf}
    return product_read(sheets, pdfs, pile.role, practice, pile.product, number)


def _product(pile: Pile, file: Path, reading: Reading, wanted: Asked | None) -> ProductPapers:
    asked = None if wanted is None else wanted.get(pile.role, frozenset())
    missing = tuple(
        one.title
        for one in reading.values
        if one.standing is Standing.NOT_FOUND and (asked is None or one.attribute in asked)
    )
    counts = {standing: sum(one.standing is standing for one in reading.values) for standing in Standing}
    papers = tuple(f"{one.kind}: {one.file}" for one in pile.papers)
    return ProductPapers(
        pile.role, pile.product, file, papers, counts[Standing.READ], counts[Standing.CONFIRM], missing
    )


def asked_of(assessed: Assessment) -> dict[str, frozenset[str]]:
    """What a project asks of the products of each role."""
    of_role = assessed.requirements.of_role
    return {
        role: frozenset(one.attribute for one in of_role(role) if one.stage == "product")
        for role in assessed.practice.vocabulary.roles
    }
