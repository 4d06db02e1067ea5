"""specgen exchange: the project in open formats for other programs, each a module that is loaded when it is called."""

from __future__ import annotations

import click

from specgen.commands import TableGroup

FORMATS = {
    "ids": "Write the requirements as IDS, to check a building model against them.",
    "ifc": "Write the parapets as a building model (IFC4X3).",
    "bcf": "Write findings and comments as topics for a list of issues.",
    "tables": "Write checklist, register, findings, and calculations as CSV and SQLite.",
}


class ExchangeGroup(TableGroup):
    """Knows the formats by name."""

    TABLE = FORMATS
    MODULE = "specgen.commands.exchange_{}"
    WORD = "format"


@click.group(
    cls=ExchangeGroup,
    epilog="Exit status: 0 written, 2 unusable input, nothing was written, 70 a fault of the program.",
)
def command() -> None:
    """Write PROJECT in an open format for other programs.

    Each format has a help of its own: specgen exchange FORMAT --help.
    """
