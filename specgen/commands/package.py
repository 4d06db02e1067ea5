"""specgen package: a folder of mixed paper as submittal files, one a product."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.commands.common import echo_json, exits, refuse_standing
from specgen.commands.options import FORMAT, OUTPUT
from specgen.commands.terminal import print_text
from specgen.commands.unusable import WordError
from specgen.design.progress import tell

if TYPE_CHECKING:
    from specgen.work.packages import PaperAside, ProductPapers

PAGE = "papers.html"


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
    from specgen.intake.datasheet.piles import MOST_PAPERS, papers_in
    from specgen.practice.load import load_practice
    from specgen.render.papers_page import papers_page
    from specgen.work.inputs import read_inputs
    from specgen.work.packages import asked_of, read_package

    practice = load_practice()
    paths = papers_in(folder)
    if not paths:
        raise WordError([f"{folder} holds no file; name a folder with the papers of a package."])
    if len(paths) > MOST_PAPERS:
        raise WordError(
            [f"{folder} holds {len(paths)} files, at most {MOST_PAPERS}; name a folder of one package."]
        )
    wanted = asked_of(read_inputs(project, None, False).assessed()) if project else None
    done = read_package(
        paths,
        folder,
        output,
        practice,
        wanted=wanted,
        recognize=recognize,
        jobs=jobs,
        tell=_counting(2 * len(paths)),
    )
    found = Package(done.products, done.aside, (*done.files, output / PAGE))
    if not found.products:
        raise WordError([f"{one.file}: {one.why}" for one in found.aside[:20]])
    files = {**done.files}
    files[output / PAGE] = papers_page(folder.name, found.products, found.aside)
    if not force:
        refuse_standing(files, "folder")
    output.mkdir(parents=True, exist_ok=True)
    write_together(files)
    _print(found, form, output)
    return 3 if found.aside else 0


def _counting(steps: int) -> Callable[[int], None]:
    """What takes the number of steps that are done and tells their share of all."""
    every = 0

    def count(done: int) -> None:
        nonlocal every
        every += done
        tell(every / steps)

    return count


def _print(found: Package, form: str, output: Path) -> None:
    if form == "json":
        echo_json(found)
        return
    for one in found.products:
        print_text(f"{one.file}: {one.role}, {one.product}: {one.read} read, {one.to_confirm} to confirm")
        for paper in one.papers:
            print_text(f"    {paper}")
        if one.missing:
            print_text(f"    missing: {', '.join(one.missing)}")
    for other in found.aside:
        print_text(f"set aside: {other.file}: {other.why}")
    print_text(f"{output / PAGE}: what went where. A person compares every value with its evidence.")
