"""specgen schema: what an editor needs to complete and check a file while it is written."""

from __future__ import annotations

from pathlib import Path

import click

from specgen.commands.common import CLEAN, exits, print_json
from specgen.commands.options import completed
from specgen.commands.terminal import print_text
from specgen.commands.unusable import WordError
from specgen.files.marks import suggestion

FILES = (
    *("project", "submittal", "request", "office", "schedule", "acceptance", "comments", "prices"),
    "bad products",
)


@click.command()
@click.argument("file", shell_complete=completed("files"))
@click.option(
    "--list", "listed", is_flag=True, help="List the keys instead, with unit, example and range of each."
)
@click.option(
    "--for",
    "own",
    type=click.Path(path_type=Path),
    metavar="PROJECT",
    help="Offer the names of this project as well: its components, types, and parapets, as they are now.",
)
@exits
def command(file: str, listed: bool, own: Path | None) -> int:
    """Print the JSON Schema (draft 2020-12) of a kind of FILE that people write.

    The kinds: project, submittal, request, office, schedule, acceptance, comments, prices, "bad products".

    Save it and name it to your editor, which then completes keys and marks errors. What compares two places
    of a file, as the ids of components, only the other commands check; with `--for` the editor offers the ids
    that a project has.

    With `--list`, one line a key, by place and role: what it means, what to write, an example, the range that a value
    can have at all, the range that is expected, and what the trade also calls it. A value outside the first range is
    refused, one outside the second is asked about.

    Exit status: 0 printed, 2 there is no such file to describe, or the project cannot be read.
    """
    if file not in FILES:
        hint = suggestion(file, FILES, f"known: {', '.join(FILES)}")
        raise WordError([f"no file `{file}`; {hint}"])
    if listed and own is not None:
        raise click.UsageError("--for is for the schema; --list lists the keys of every project")
    from specgen.practice.load import load_practice

    practice = load_practice()
    if listed:
        from specgen.intake.key_list import key_list

        print_text("\n".join(key_list(practice, file)))
        return CLEAN
    from specgen.intake.json_schema_own import own_names, with_names
    from specgen.work.schemas import file_schema

    names = None if own is None else own_names(own)
    schema = file_schema(file, practice)
    print_json(schema if names is None else with_names(schema, names))
    return CLEAN
