"""specgen template: what an office's Word file gives as the look of the documents, and what is put in for the rest."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.commands.common import CLEAN, echo_json, exits
from specgen.commands.options import FORMAT
from specgen.commands.terminal import print_text

if TYPE_CHECKING:
    from specgen.render.word_office import StyleUse
    from specgen.render.word_template import Template

_TWIPS = 1440  # in an inch


def template_of(path: Path | None) -> Template | None:
    """The template named on the command line; what is left out of it is told on standard error.

    Raises:
        InputError: the file cannot be used.
    """
    if path is None:
        return None
    from specgen.render.word_office import load_office_template

    office = load_office_template(path)
    for note in office.notes:
        print_text(f"{path}: note: {note}", err=True)
    return office.template


@dataclass(frozen=True)
class TemplateRead:
    """What is printed as data of an office's Word file."""

    file: Path
    page_inches: tuple[float, float]
    text_width_inches: float
    styles: tuple[StyleUse, ...]
    places: tuple[str, ...]
    notes: tuple[str, ...]


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@FORMAT
@exits
def command(file: Path, form: str) -> int:
    """Read FILE, an office's Word file, and tell what its documents would take from it.

    A style is found by its name; the names are those of the documents that `write` makes. Words go into header and
    footer where the file says {header left}, {header right}, {footer left} and {page}.

    Exit status: 0 the file can be used, 2 it cannot.
    """
    from specgen.render.word_office import load_office_template

    office = load_office_template(file)
    page = office.template.page
    found = TemplateRead(
        file,
        (page.width / _TWIPS, page.height / _TWIPS),
        page.text_width / _TWIPS,
        office.styles,
        office.places,
        office.notes,
    )
    if form == "json":
        echo_json(found)
        return CLEAN
    wide, high = found.page_inches
    print_text(f"Page {wide:.2f} by {high:.2f} in, text {found.text_width_inches:.2f} in")
    print_text(
        "    `paper:` in the office file or the project sets another, and that of drawings and printed pages"
    )
    for one in office.styles:
        used = f"`{one.used}` of the office" if one.used else "specgen's own is put in"
        print_text(f"    {one.wanted:20} {used}")
    print_text(f"Places in header and footer: {', '.join(office.places) or 'none'}")
    for note in office.notes:
        print_text(f"Note: {note}")
    return CLEAN
