"""specgen schema: what an editor needs to complete and check a file while it is written."""

from __future__ import annotations

from collections.abc import Iterator

import click

from specgen.commands.common import CLEAN, exits, print_json
from specgen.commands.unusable import WordError
from specgen.files.marks import suggestion
from specgen.practice.entries import Field, Practice, RecordKind, Role
from specgen.practice.ranges import EXPECTED, Range

FILES = ("project", "submittal", "request", "office")
RECORDS = {
    "submittal": ("submittal",),
    "request": ("request",),
    "office": ("office", "office limit", "office value", "office source"),
}


@click.command()
@click.argument("file", metavar="[project|submittal|request|office]")
@click.option("--list", "listed", is_flag=True, help="List the attributes instead, with what each can be.")
@exits
def command(file: str, listed: bool) -> int:
    """Print the JSON Schema (draft 2020-12) of a project, submittal, request or office file.

    Save it and name it to your editor, which then completes keys and marks errors. What compares two places
    of a file, as the ids of components, only the other commands check.

    With `--list`, one line an attribute: its type, the range that a value can have at all, and the range that is
    expected; a value outside the first is refused, one outside the second is asked about.

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
        click.echo("\n".join(_attributes(practice, file)))
        return CLEAN
    if file == "office":
        print_json(office_schema(practice, changeable(practice)))
    else:
        made = {"project": project_schema, "submittal": submittal_schema, "request": request_schema}
        print_json(made[file](practice))
    return CLEAN


def _attributes(practice: Practice, file: str) -> Iterator[str]:
    """One line an attribute of what stands in a file, by the part it belongs to."""
    known = practice.vocabulary
    records = known.records if file == "project" else {name: known.records[name] for name in RECORDS[file]}
    roles = {} if file == "office" else known.roles
    kinds: list[RecordKind | Role] = [*records.values(), *roles.values()]
    for kind in kinds:
        yield f"{kind.name}:"
        for name, field in kind.fields.items():
            choices = f"one of {', '.join(field.choices)}" if field.choices else field.type
            yield f"  {name}: {field.title}; {choices}{_ranges(practice, kind.name, field)}"


def _ranges(practice: Practice, what: str, field: Field) -> str:
    if field.possible is None:
        return ""
    words = f"; can be {field.possible.words()}"
    rows = practice.table(EXPECTED).where(role=what, attribute=field.name)
    expected = [f"{Range.of(row).words()}{f' ({kind})' if (kind := row['kind']) else ''}" for row in rows]
    sources = dict.fromkeys(
        str(practice.table(EXPECTED).source_of(row, end))
        for row in rows
        for end in ("least", "most")
        if row[end]
    )
    return f"{words}; expected {'; '.join(expected)} [{'; '.join(sources)}]" if expected else words
