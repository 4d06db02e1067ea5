"""specgen comment: what people ask on findings, paragraphs and values, and what is answered."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.commands.common import CLEAN, echo_json, exits
from specgen.commands.options import ALLOW_CODE, FORMAT, OFFICE, PROJECT_FILE, completed
from specgen.commands.terminal import print_text

if TYPE_CHECKING:
    from specgen.explain.commented import Commented
    from specgen.model.comment import About
    from specgen.specification import Specification
    from specgen.work.comments import Beside


@dataclass(frozen=True)
class Comments:
    """What is printed as data of the comments on a project."""

    project: str
    comments: tuple[Commented, ...]


@dataclass(frozen=True)
class _Asked:
    """What is to be entered, and by whom."""

    add: str | None
    answer: tuple[str, str] | None
    answered: str | None
    reopen: str | None
    by: str

    @property
    def several(self) -> bool:
        return sum(one is not None for one in (self.add, self.answer, self.answered, self.reopen)) > 1


@click.command()
@PROJECT_FILE
@click.option("--add", metavar="TEXT", help="Comment on what the options below name.")
@click.option(
    "--finding",
    default="",
    shell_complete=completed("rules"),
    metavar="CODE",
    help="On a finding, by its rule.",
)
@click.option("--layer", default="", help="Of a finding: the component that it is about, by id.")
@click.option(
    "--section",
    default="",
    shell_complete=completed("sections"),
    metavar="NUMBER",
    help="On a paragraph: its section.",
)
@click.option("--paragraph", default="", help="The paragraph by number or key.")
@click.option("--value", default="", metavar="KEY", help="On a value of the project file, by its key.")
@click.option("--of", default="", help="What the value is of: site, building …, or the id of a component.")
@click.option(
    "--parapet", default="", shell_complete=completed("parapets"), help="Where the finding or the value is."
)
@click.option("--answer", nargs=2, metavar="KEY TEXT", help="Answer a comment, named by its key in the list.")
@click.option("--answered", metavar="KEY", help="Mark a comment as answered.")
@click.option("--reopen", metavar="KEY", help="Mark a comment as not answered.")
@click.option("--by", default="", metavar="NAME", help="Who comments or answers.")
@click.option("--open", "open_only", is_flag=True, help="List only what waits for an answer.")
@OFFICE
@ALLOW_CODE
@FORMAT
@exits
def command(
    project: Path,
    add: str | None,
    answer: tuple[str, str] | None,
    answered: str | None,
    reopen: str | None,
    by: str,
    open_only: bool,
    office: Path | None,
    allow_code: bool,
    form: str,
    **named: str,
) -> int:
    """List the comments on PROJECT, or enter one, an answer, or that one is answered, in comments.yaml beside it.

    A comment is on a finding, a paragraph, or a value. What stands in the file stays as it is written; a comment whose
    object is gone stays too, and is listed as such. Comments decide nothing: the basis report shows them.

    Exit status: 0 listed or entered, 2 unusable input, nothing was written.
    """
    from specgen.explain.commented import commented
    from specgen.intake.comments import comments_beside
    from specgen.model.comment import About
    from specgen.specification import specify
    from specgen.work.comments import Beside
    from specgen.work.inputs import read_inputs

    asked = _Asked(add, answer, answered, reopen, by)
    if asked.several:
        raise click.UsageError("one of --add, --answer, --answered and --reopen at a time")
    if (add is not None or answer is not None) and not by.strip():
        raise click.BadParameter("who writes it is missing", param_hint="--by")
    inputs = read_inputs(project, office, allow_code)
    spec = specify(inputs.assessed())
    beside = Beside(Path(inputs.project.path), inputs.practice)
    _enter(spec, beside, asked, About(**named))
    found = commented(spec, comments_beside(beside.project, inputs.practice))
    if open_only:
        found = tuple(one for one in found if one.open)
    if form == "json":
        echo_json(Comments(inputs.project.title, found))
        return CLEAN
    for one in found:
        for line in lines_of(one):
            print_text(line)
    waiting = sum(one.open for one in found)
    print_text(
        f"{inputs.project.title}: {len(found)} comment{'' if len(found) == 1 else 's'}, {waiting} open."
    )
    return CLEAN


def _enter(spec: Specification, beside: Beside, asked: _Asked, about: About) -> None:
    """Write what is asked for, if anything is."""
    from specgen.work import comments

    now = datetime.now().astimezone()
    try:
        if asked.add is not None:
            if sum(bool(one) for one in (about.finding, about.paragraph, about.value)) != 1:
                raise click.UsageError("--add needs one of --finding, --section with --paragraph, or --value")
            comments.add(beside, comments.meant(spec, about), asked.by, asked.add, now)
        elif asked.answer is not None:
            comments.answer(beside, asked.answer[0], asked.by, asked.answer[1], now)
        elif asked.answered is not None or asked.reopen is not None:
            key = asked.answered or asked.reopen or ""
            comments.mark_answered(beside, key, asked.answered is not None)
    except LookupError as error:
        raise click.BadParameter(str(error.args[0])) from None


def lines_of(one: Commented) -> Iterator[str]:
    """A comment as it is printed: key, object, words, answers."""
    comment, state = one.comment, "open" if one.open else "answered"
    yield f"{comment.key} {state}: {one.object.where}"
    yield f"    {comment.name}, {comment.time}: {_folded(comment.text)}"
    for each in comment.answers:
        yield f"    answer of {each.name}, {each.time}: {_folded(each.text)}"
    yield f"    stands there now: {one.object.now or one.object.gone}"


def _folded(words: str) -> str:
    return " ".join(words.split())
