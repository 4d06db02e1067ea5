"""specgen new: a project file to fill in, from answers, from a worked example, or from a sheet."""

from __future__ import annotations

import json
import shlex
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from specgen.commands.common import CLEAN, exits
from specgen.commands.options import output_folder
from specgen.commands.unusable import WordError
from specgen.files.atomic import write_together
from specgen.files.marks import suggestion
from specgen.intake.start import QUESTIONS, Question, read_words, start_text
from specgen.intake.values import UNKNOWN

if TYPE_CHECKING:
    from specgen.practice.entries import Practice

_SHEET = ".xlsx"


def _folder(context: click.Context, parameter: click.Parameter, given: str | None) -> Path | None:
    return None if given is None else output_folder(context, parameter, given)


def _with_questions(command: Callable[..., Any]) -> Callable[..., Any]:
    """An option for each question."""
    for one in reversed(QUESTIONS):
        name = one.option.replace("-", "_")
        command = click.option(f"--{one.option}", name, metavar="VALUE", help=f"{one.ask}.")(command)
    return command


@click.command()
@click.argument("folder", type=str, required=False, callback=_folder)
@_with_questions
@click.option(
    "--from", "source", metavar="EXAMPLE|SHEET.xlsx", help="Copy a worked example, or read a filled sheet."
)
@click.option(
    "--sheet",
    metavar="FILE.xlsx",
    help="Write a workbook to fill in instead: a row a parapet, a sheet for types.",
)
@exits
def command(folder: Path | None, source: str | None, sheet: str | None, **given: str | None) -> int:
    """Start a project in FOLDER: project.yaml, with the schema for an editor beside it.

    On a terminal it asks what is not given by an option; Enter leaves a question open. Elsewhere what is not given
    stays open. An open question is a line that begins with # and states nothing.

    Exit status: 0 written, 2 an answer or the sheet cannot be used, or the folder holds something; nothing is written.
    """
    from specgen.practice.load import load_practice

    answers = {
        one.option: words for one in QUESTIONS if (words := given[one.option.replace("-", "_")]) is not None
    }
    _refuse_mixed(folder, source, sheet, answers)
    practice = load_practice()
    if sheet is not None:
        return _write_sheet(Path(sheet), practice)
    assert folder is not None
    _refuse_full(folder)
    if source is not None:
        text = _copied(source, practice)
    else:
        _refuse_bad(answers, practice)
        if sys.stdin.isatty():
            answers |= _asked(folder, answers, practice)
        answers.setdefault("name", folder.resolve().name)
        _refuse_bad(answers, practice)
        text = start_text({key: words for key, words in answers.items() if words != UNKNOWN}, practice)
    return _write(folder, text, practice)


def _refuse_mixed(
    folder: Path | None, source: str | None, sheet: str | None, answers: Mapping[str, str]
) -> None:
    if (folder is None) == (sheet is None):
        raise WordError(["name a folder to start a project in, or a workbook to write: --sheet FILE.xlsx"])
    if answers and (source or sheet) is not None:
        which = "--from" if source is not None else "--sheet"
        raise WordError(
            [f"--{next(iter(answers))} answers a question, and {which} asks none; give one of them"]
        )
    if source is not None and sheet is not None:
        raise WordError(["--sheet writes a workbook, --from reads one; give one of them"])


def _refuse_full(folder: Path) -> None:
    held = sorted(folder.iterdir()) if folder.exists() else []
    if held:
        raise WordError([f"{held[0]} exists; it was left as it is. Choose another folder."])


def _refuse_bad(answers: Mapping[str, str], practice: Practice) -> None:
    """Every answer that cannot be used, at once."""
    wrong = [f"--{one.option}: {why}" for one in QUESTIONS if (why := _wrong(one, answers, practice))]
    if wrong:
        raise WordError(wrong)


def _wrong(question: Question, answers: Mapping[str, str], practice: Practice) -> str:
    from specgen.intake.values import UnusableValueError

    words = answers.get(question.option, UNKNOWN)
    if words == UNKNOWN:
        return ""
    try:
        read_words(question.field(practice), words, practice)
    except UnusableValueError as error:
        return f"{error.message}; {error.fix}"
    return ""


def _asked(folder: Path, given: Mapping[str, str], practice: Practice) -> dict[str, str]:
    """What a person at the terminal answers; a bad answer is told and asked again."""
    from specgen.intake.key_list import example

    def checked(question: Question) -> Callable[[str], str]:
        def check(words: str) -> str:
            if why := _wrong(question, {question.option: words}, practice):
                raise click.BadParameter(why)
            return words

        return check

    click.echo("Enter leaves a question open.")
    found = {}
    for one in QUESTIONS:
        if one.option in given:
            continue
        field = one.field(practice)
        hint = ", ".join(field.choices) or ("yes, no" if field.type == "yes or no" else "")
        hint = hint or f"such as {example(practice, one.what, field)}"
        default = folder.resolve().name if one.option == "name" else UNKNOWN
        asked = f"{one.ask} ({hint})"
        found[one.option] = click.prompt(asked, default=default, value_proc=checked(one))
    return found


def _copied(source: str, practice: Practice) -> str:
    """The text of a worked example, or of what a sheet states."""
    from specgen.intake.start import HEAD
    from specgen.intake.worked import worked_examples

    if source.lower().endswith(_SHEET):
        from specgen.intake.start_sheet import read_sheet

        return read_sheet(Path(source), practice)
    examples = worked_examples()
    if source not in examples:
        hint = suggestion(source, examples, f"worked examples: {', '.join(examples)}")
        raise WordError([f"no worked example `{source}`; {hint}"])
    return f"{HEAD[0]}\n{examples[source].read_text('utf-8')}"


def _write(folder: Path, text: str, practice: Practice) -> int:
    from specgen.intake.json_schema import project_schema
    from specgen.intake.project import FILE_NAME
    from specgen.intake.start import SCHEMA_FILE

    target = folder / FILE_NAME
    schema = json.dumps(project_schema(practice), ensure_ascii=False) + "\n"
    write_together({target: text.encode(), folder / SCHEMA_FILE: schema.encode()})
    click.echo(f"{target} written. Edit it, then run: specgen check {shlex.quote(str(folder))}")
    click.echo("Every key, with unit, example and range: specgen schema project --list")
    return CLEAN


def _write_sheet(path: Path, practice: Practice) -> int:
    from specgen.intake.start_sheet import start_sheet
    from specgen.render.workbook import workbook_bytes

    if path.suffix.lower() != _SHEET:
        raise WordError([f"--sheet {path}: name a workbook, as walls.xlsx"])
    output_folder(click.get_current_context(), click.Option(["--sheet"]), str(path.parent))
    if path.exists() or path.is_symlink():
        raise WordError([f"{path} exists; it was left as it is. Choose another name."])
    write_together({path: workbook_bytes(start_sheet(practice))})
    click.echo(f"{path} written. Fill it in, then run: specgen new DIR --from {shlex.quote(str(path))}")
    return CLEAN
