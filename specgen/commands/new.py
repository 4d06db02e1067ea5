"""specgen new: a project file to fill in, from answers, from a worked example, or from a sheet."""

from __future__ import annotations

import shlex
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from specgen.commands.common import CLEAN, exits
from specgen.commands.options import completed, output_folder
from specgen.commands.progress import end_bar
from specgen.commands.terminal import print_text
from specgen.commands.unusable import WordError
from specgen.files.atomic import write_together
from specgen.intake.start import FIRST, MORE, QUESTIONS, Reasoned, reasoned
from specgen.intake.values import UNKNOWN

if TYPE_CHECKING:
    from specgen.practice.entries import Practice

_SHEET = ".xlsx"
_HEADS = {
    FIRST: "Ten facts come first: what is proposed, checked, and specified hangs on them most.",
    MORE: "More facts, where you know them.",
}


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
    "--from",
    "source",
    shell_complete=completed("examples"),
    metavar="EXAMPLE|SHEET.xlsx",
    help="Copy a worked example, under another --name and --number where they are given, or read a filled sheet.",
)
@click.option(
    "--sheet",
    metavar="FILE.xlsx",
    help="Write a workbook to fill in instead: a row a parapet, a sheet for types.",
)
@exits
def command(folder: Path | None, source: str | None, sheet: str | None, **given: str | None) -> int:
    """Start a project in FOLDER: project.yaml, with the schema for an editor beside it.

    On a terminal it asks what is not given by an option, and says of each fact why it is asked and what hangs on it;
    Enter leaves a question open. Elsewhere what is not given stays open. An open question is a line that begins with #
    and states nothing.

    Exit status: 0 written, 2 an answer or the sheet cannot be used, or the folder holds something; nothing is written.
    """
    from specgen.practice.load import load_practice
    from specgen.work.starting import answered_text, refuse_full

    answers = {
        one.option: words for one in QUESTIONS if (words := given[one.option.replace("-", "_")]) is not None
    }
    _refuse_mixed(folder, source, sheet, answers)
    practice = load_practice()
    if sheet is not None:
        return _write_sheet(Path(sheet), practice)
    assert folder is not None
    refuse_full(folder)
    _refuse_bad(answers, practice)
    if source is not None:
        text = _copied(source, answers, practice)
    else:
        if sys.stdin.isatty():
            answers |= _asked(folder, answers, practice)
        answers.setdefault("name", folder.resolve().name)
        _refuse_bad(answers, practice)
        text = answered_text(answers, practice)
    return _write(folder, text, practice)


def _refuse_mixed(
    folder: Path | None, source: str | None, sheet: str | None, answers: Mapping[str, str]
) -> None:
    if (folder is None) == (sheet is None):
        raise WordError(["name a folder to start a project in, or a workbook to write: --sheet FILE.xlsx"])
    if source is not None and sheet is not None:
        raise WordError(["--sheet writes a workbook, --from reads one; give one of them"])
    copied = source is not None and not source.lower().endswith(_SHEET)
    strange = [option for option in answers if not (copied and option in ("name", "number"))]
    if strange and (source or sheet) is not None:
        which = "--from" if source is not None else "--sheet"
        raise WordError([f"--{strange[0]} answers a question, and {which} asks none; give one of them"])


def _refuse_bad(answers: Mapping[str, str], practice: Practice) -> None:
    """Every answer that cannot be used, at once."""
    from specgen.work.starting import wrong_answers

    if wrong := wrong_answers(answers, practice):
        raise WordError([f"--{option}: {why}" for option, why in wrong.items()])


def _asked(folder: Path, given: Mapping[str, str], practice: Practice) -> dict[str, str]:
    """What a person at the terminal answers; a bad answer is told and asked again, a quantity told as understood."""
    from specgen.work.starting import echoes

    end_bar()  # it is the person who takes long
    print_text("Enter leaves a question open.")
    found: dict[str, str] = {}
    group = ""
    for one in reasoned(practice):
        option = one.question.option
        if option in given:
            continue
        if one.group != group and one.group in _HEADS:
            print_text(f"\n{_HEADS[one.group]}")
        group = one.group
        found[option] = _answer(folder, one, practice)
        for words in echoes({option: found[option]}, practice).values():
            print_text(f"  {words}")
    return found


def _answer(folder: Path, one: Reasoned, practice: Practice) -> str:
    from specgen.intake.field_words import example
    from specgen.work.starting import wrong_answers

    question, option = one.question, one.question.option
    field = question.field(practice)

    def checked(words: str) -> str:
        if why := wrong_answers({option: words}, practice).get(option):
            raise click.BadParameter(why)
        return words

    hint = ", ".join(field.choices) or ("yes, no" if field.type == "yes or no" else "")
    hint = hint or f"such as {example(practice, question.what, field)}"
    print_text(f"\n{one.why} {one.hangs}")
    default = folder.resolve().name if option == "name" else UNKNOWN
    answer: str = click.prompt(f"{question.ask} ({hint})", default=default, value_proc=checked)
    return answer


def _copied(source: str, own: Mapping[str, str], practice: Practice) -> str:
    """The text of a worked example, or of what a sheet states."""
    from specgen.work.starting import example_text

    if source.lower().endswith(_SHEET):
        from specgen.intake.start_sheet import read_sheet

        return read_sheet(Path(source), practice)
    try:
        return example_text(source, practice, own)
    except LookupError as error:
        raise WordError([str(error.args[0])]) from None


def _write(folder: Path, text: str, practice: Practice) -> int:
    from specgen.work.starting import start

    target = start(folder, text, practice)
    print_text(f"{target} written. Edit it, then run: specgen check {shlex.quote(str(folder))}")
    print_text("Every key, with unit, example and range: specgen schema project --list")
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
    print_text(f"{path} written. Fill it in, then run: specgen new DIR --from {shlex.quote(str(path))}")
    return CLEAN
