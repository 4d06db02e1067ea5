"""The form on which the open questions of a project go out: numbered, with room for the answer, its giver and the day."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from specgen.model.document import Block, Document, Para, Style, Table, framed, properties_of, text
from specgen.model.project import Project
from specgen.model.question import OpenQuestion, OpenQuestions
from specgen.sections.form_text import FormText
from specgen.sections.words import parapets_in_words
from specgen.units.counted import many

WORDS = "letters/questions"
_WIDTHS = (0.04, 0.21, 0.11, 0.22, 0.1, 0.08, 0.13, 0.11)
_PEOPLE = (0.3, 0.7)
_NAMED = 3  # checks and calculations named of one question


@dataclass(frozen=True)
class PrintedQuestion:
    """A question as the form and the page print it."""

    number: int
    question: str
    answers: str
    where: str
    hangs: str
    who: str
    meanwhile: str


def printed(found: OpenQuestions, plain: Callable[[str], str] = str) -> tuple[PrintedQuestion, ...]:
    """The questions in their order, in words of paper."""
    words = FormText(WORDS)
    return tuple(
        PrintedQuestion(
            one.number,
            plain(f"{one.question}?"),
            plain(one.answers),
            plain(parapets_in_words(one.where) if one.where else words("everywhere")),
            plain(_hangs(one)),
            plain(one.who),
            plain(one.meanwhile or words("nothing")),
        )
        for one in found.questions
    )


def people(found: OpenQuestions) -> tuple[tuple[str, tuple[int, ...]], ...]:
    """Who can answer, each with the numbers of the questions; who is asked first stands first."""
    asked: dict[str, list[int]] = {}
    for one in found.questions:
        asked.setdefault(one.who, []).append(one.number)
    return tuple((who, tuple(numbers)) for who, numbers in asked.items())


def _hangs(one: OpenQuestion) -> str:
    """How much hangs on a question, in which sections, and on what first."""
    if not one.count:
        return one.decides
    at = (
        f" in Section{'s' if len(one.sections) > 1 else ''} {', '.join(one.sections)}" if one.sections else ""
    )
    named = [*one.checks, *(each[:1].lower() + each[1:] for each in one.calculations)]
    more = ", and more" if len(named) > _NAMED else ""
    on = f": {', '.join(named[:_NAMED])}{more}" if named else ""
    return f"{many(one.count, 'point')}{at}{on}"


def questions_form(project: Project, found: OpenQuestions) -> Document:
    """The form as a document; it has no issue date where the project has none yet."""
    words = FormText(WORDS)
    rows = tuple(
        (
            str(one.number),
            f"{one.question} ({one.answers})",
            one.where,
            one.hangs,
            one.who,
            one.meanwhile,
            "",
            "",
        )
        for one in printed(found)
    )
    blocks: list[Block] = [
        Para(Style.TITLE, text(words("title"))),
        Para(Style.BODY, text(words("opening" if rows else "none"))),
    ]
    if rows:
        blocks += [
            Para(Style.NOTE, text(words("not_read"))),
            Table(
                (words("who"), words("asked")),
                tuple((who, ", ".join(map(str, numbers))) for who, numbers in people(found)),
                _PEOPLE,
                words("whom"),
            ),
            Table(words.list("columns"), rows, _WIDTHS, words("caption")),
        ]
    properties = properties_of(project, words("title"), words("subject"), words("state"))
    return framed(properties, blocks, words("state"), landscape=True)
