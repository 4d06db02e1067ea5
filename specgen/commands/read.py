"""specgen read: what data sheets say of a product, as a submittal file with its evidence."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

import click

from specgen.commands.common import echo_json, exits, refuse_standing, status
from specgen.commands.options import FORMAT, completed
from specgen.commands.terminal import print_text
from specgen.commands.unusable import WordError
from specgen.design.progress import tell

if TYPE_CHECKING:
    from specgen.model.datasheet import Reading


def output_file(_context: click.Context, _parameter: click.Parameter, given: str) -> Path:
    """The file to write, in a folder that is there."""
    path = Path(given)
    if path.suffix.lower() not in (".yaml", ".yml"):
        raise click.BadParameter("the file is a submittal; name it like product.yaml")
    if not path.parent.is_dir():
        raise click.BadParameter(f"{path.parent} is no folder; make it first")
    if path.is_dir() or path.is_symlink():
        raise click.BadParameter(f"{path} is a folder or a link; name a file")
    return path


@dataclass(frozen=True)
class SheetsRead:
    """What is printed as data of data sheets that were read."""

    reading: Reading
    written: tuple[Path, ...]
    SPREAD_PLAIN: ClassVar = ("reading",)


@click.command()
@click.argument("datasheets", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option(
    "-o",
    "--output",
    type=str,
    callback=output_file,
    metavar="PRODUCT.yaml",
    required=True,
    help="Submittal file to write; the page with its evidence lands beside it.",
)
@click.option(
    "--role",
    shell_complete=completed("roles"),
    help="What the product does in the wall, where its sheets do not say: barrier, coping …",
)
@click.option(
    "--product",
    default="",
    help="Name of the product, where the papers speak of several: its letters and numbers.",
)
@click.option(
    "--recognize", is_flag=True, help="Read pages that are pictures with tesseract, if it is installed."
)
@click.option("--force", is_flag=True, help="Overwrite the file, and with it what a person corrected there.")
@FORMAT
@exits
def command(
    datasheets: tuple[Path, ...],
    output: Path,
    role: str | None,
    product: str,
    recognize: bool,
    force: bool,
    form: str,
) -> int:
    """Read the DATASHEETs of one product (PDF, Word, Excel, CSV) into a submittal file for `review`.

    Each value keeps its evidence. A value that is not certain, or is stated without its test method or condition,
    carries a line `confirm:` that a person deletes after a look at the sheet. So does each value of a paper that says of
    itself that it is superseded, a draft, or not to be used, and each that may belong to another product. A value that
    is not expected of such a product is written with the question that the review would ask.

    Exit status: 0 written, 2 a file that cannot be read, or the output is there already, 3 written, but a value is
    not expected of such a product.
    """
    from specgen.files.atomic import write_together
    from specgen.files.foreign import refused
    from specgen.intake.datasheet.read import load_sheets
    from specgen.intake.wrong_file import file_words, standing_kind
    from specgen.practice.load import load_practice
    from specgen.units.counted import many
    from specgen.work.datasheets import product_read

    for folder in (path for path in datasheets if path.is_dir()):
        fix = f"name the papers of one product, or: specgen package {folder} -o OUT"
        raise refused(folder, "this is a folder, not a file", fix)
    page = output.with_name(f"{output.stem}-evidence.html")
    if not force:
        refuse_standing((output, page), "file")
    elif (kind := standing_kind(output)) not in ("", "submittal"):
        raise WordError([f"{output} is {file_words(kind)}; it was left as it is. Name another file."])
    practice = load_practice()
    sheets, pictured = load_sheets(datasheets, recognize)
    tell(0.7)
    made = product_read(sheets, pictured, role, practice, product.strip())
    reading = made.reading
    write_together({output: made.submittal, page: made.evidence})
    tell(1.0)
    if form == "json":
        echo_json(SheetsRead(reading, (output, page)))
        return status(reading.values)
    print_text(f"{output}: {reading.role}; evidence in {page}")
    for head in reading.sheets:
        about = (head.product, head.grade, head.edition and f"edition {head.edition}", head.day)
        print_text(
            f"    {head.file}: {', '.join(filter(None, about)) or 'names no product, no edition and no day'}"
        )
        for notice in head.notices:
            print_text(f"    {head.file}: {notice}")
    for value in reading.values:
        words = "; ".join(part for part in (value.confirm, value.question) if part)
        to_confirm = f" ({words})" if words else ""
        print_text(
            f"    {value.title}: {value.standing.value}{': ' if value.value else ''}{value.value}{to_confirm}"
        )
    for note in reading.notes:
        print_text(f"    note: {note}")
    if reading.unread:
        rows = many(len(reading.unread), "row")
        print_text(f"    note: {rows} not understood or not asked for; the evidence page shows them")
    print_text("A person compares every value with its evidence.")
    return status(reading.values)
