"""specgen schema: what an editor needs to complete and check a file while it is written."""

from __future__ import annotations

import click

from specgen.commands.common import CLEAN, exits, print_json
from specgen.commands.options import completed
from specgen.commands.terminal import print_text
from specgen.commands.unusable import WordError
from specgen.files.marks import suggestion

FILES = ("project", "submittal", "request", "office")


@click.command()
@click.argument("file", metavar="[project|submittal|request|office]", shell_complete=completed("files"))
@click.option(
    "--list", "listed", is_flag=True, help="List the keys instead, with unit, example and range of each."
)
@exits
def command(file: str, listed: bool) -> int:
    """Print the JSON Schema (draft 2020-12) of a project, submittal, request or office file.

    Save it and name it to your editor, which then completes keys and marks errors. What compares two places
    of a file, as the ids of components, only the other commands check.

    With `--list`, one line a key, by place and role: what it means, what to write, an example, the range that a value
    can have at all, the range that is expected, and what the trade also calls it. A value outside the first range is
    refused, one outside the second is asked about.

    Exit status: 0 printed, 2 there is no such file to describe.
    """
    if file not in FILES:
        hint = suggestion(file, FILES, f"known: {', '.join(FILES)}")
        raise WordError([f"no file `{file}`; {hint}"])
    from specgen.intake.json_schema import office_schema, project_schema, request_schema, submittal_schema
    from specgen.practice.load import load_practice
    from specgen.rules.office import changeable

    practice = load_practice()
    if listed:
        from specgen.intake.key_list import key_list

        print_text("\n".join(key_list(practice, file)))
        return CLEAN
    if file == "office":
        print_json(office_schema(practice, changeable(practice)))
    else:
        made = {"project": project_schema, "submittal": submittal_schema, "request": request_schema}
        print_json(made[file](practice))
    return CLEAN
