"""specgen package: a folder of mixed paper as submittal files, one a product."""

from __future__ import annotations

import os
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.commands.common import echo_json, exits, refuse_standing
from specgen.commands.options import FORMAT, OUTPUT
from specgen.commands.progress import progress
from specgen.commands.unusable import WordError

if TYPE_CHECKING:
    from specgen.intake.datasheet.piles import Pile
    from specgen.model.datasheet import Reading
    from specgen.practice.entries import Practice
    from specgen.work.datasheets import ProductRead

PAGE = "papers.html"


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
class Package:
    """What is printed as data of a folder of paper."""

    products: tuple[ProductPapers, ...]
    aside: tuple[PaperAside, ...]
    written: tuple[Path, ...]


@click.command()
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False, exists=True))
@OUTPUT
@click.option(
    "--project",
    type=click.Path(path_type=Path, exists=True),
    help="Project whose checklist says what is missing of each product.",
)
@click.option(
    "--recognize", is_flag=True, help="Read pages that are pictures with tesseract, if it is installed."
)
@click.option("--jobs", type=click.IntRange(1, 64), help="Files read at one time; without it, one a core.")
@click.option(
    "--force", is_flag=True, help="Overwrite the files, and with them what a person corrected there."
)
@FORMAT
@exits
def command(
    folder: Path,
    output: Path,
    project: Path | None,
    recognize: bool,
    jobs: int | None,
    force: bool,
    form: str,
) -> int:
    """Sort a FOLDER of data sheets, reports, certificates, and letters by product, and read each into a submittal file.

    Papers are put to the product that they name. What belongs to no product, cannot be read, or says the same as
    another paper is set aside with the reason. Each value that is read is compared by a person, as after `read`.

    Exit status: 0 every paper went to a product, 2 nothing could be read, or the output is there already, 3 a paper was
    set aside.
    """
    from specgen.files.atomic import write_together
    from specgen.intake.datasheet.piles import MOST_PAPERS, file_name, opened, papers_in, piles
    from specgen.practice.load import load_practice
    from specgen.render.papers_page import papers_page

    practice = load_practice()
    paths = papers_in(folder)
    if not paths:
        raise WordError([f"{folder} holds no file; name a folder with the papers of a package."])
    if len(paths) > MOST_PAPERS:
        raise WordError(
            [f"{folder} holds {len(paths)} files, at most {MOST_PAPERS}; name a folder of one package."]
        )
    wanted = _asked_of(project, practice)
    workers = min(jobs or os.cpu_count() or 1, len(paths))
    with ThreadPoolExecutor(workers) as pool, progress(2 * len(paths), "Papers") as tell:
        papers = []
        for one in pool.map(lambda path: opened(path, folder, practice, recognize), paths):
            papers.append(one)
            tell(1)
        sorted_piles, aside = piles(papers)
        names: list[str] = []
        for pile in sorted_piles:
            names.append(file_name(pile, names))
        files: dict[Path, bytes] = {}
        products = []
        numbers = _numbers(sorted_piles, practice)
        done = pool.map(lambda pile, number: _read(pile, number, practice), sorted_piles, numbers)
        for pile, name, made in zip(sorted_piles, names, done, strict=True):
            files[output / f"{name}.yaml"] = made.submittal
            files[output / f"{name}-evidence.html"] = made.evidence
            products.append(_product(pile, output / f"{name}.yaml", made.reading, wanted))
            tell(len(pile.papers))
    found = Package(
        tuple(products),
        tuple(PaperAside(one.file, one.kind, one.why) for one in aside),
        (*files, output / PAGE),
    )
    if not found.products:
        raise WordError([f"{one.file}: {one.why}" for one in aside[:20]])
    files[output / PAGE] = papers_page(folder.name, found.products, found.aside)
    if not force:
        refuse_standing(files, "folder")
    output.mkdir(parents=True, exist_ok=True)
    write_together(files)
    _print(found, form, output)
    return 3 if found.aside else 0


def _print(found: Package, form: str, output: Path) -> None:
    if form == "json":
        echo_json(found)
        return
    for one in found.products:
        click.echo(f"{one.file}: {one.role}, {one.product}: {one.read} read, {one.to_confirm} to confirm")
        for paper in one.papers:
            click.echo(f"    {paper}")
        if one.missing:
            click.echo(f"    missing: {', '.join(one.missing)}")
    for other in found.aside:
        click.echo(f"set aside: {other.file}: {other.why}")
    click.echo(f"{output / PAGE}: what went where. A person compares every value with its evidence.")


def _numbers(sorted_piles: Sequence[Pile], practice: Practice) -> list[str]:
    """A number for each submittal: its section, and its place among those of that section."""
    found: list[str] = []
    for pile in sorted_piles:
        section = practice.vocabulary.roles[pile.role].section
        found.append(f"{section}-{sum(one.startswith(section) for one in found) + 1:02}")
    return found


def _read(pile: Pile, number: str, practice: Practice) -> ProductRead:
    """The papers of one product, read."""
    from specgen.work.datasheets import product_read

    sheets = [one.sheet for one in pile.papers if one.sheet is not None]
    pdfs = {one.file: one.pdf for one in pile.papers if one.pdf}
    return product_read(sheets, pdfs, pile.role, practice, pile.product, number)


def _product(
    pile: Pile, file: Path, reading: Reading, wanted: dict[str, frozenset[str]] | None
) -> ProductPapers:
    from specgen.model.datasheet import Standing

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


def _asked_of(project: Path | None, practice: Practice) -> dict[str, frozenset[str]] | None:
    """What a project asks of the products of each role; None without a project."""
    if project is None:
        return None
    from specgen.work.inputs import read_inputs

    assessed = read_inputs(project, None, False).assessed()
    of_role = assessed.requirements.of_role
    return {
        role: frozenset(one.attribute for one in of_role(role) if one.stage == "product")
        for role in practice.vocabulary.roles
    }
