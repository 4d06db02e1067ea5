"""The form on which the open questions of a project go out: numbered, with room for the answer, its giver and the day."""

from __future__ import annotations

from specgen.model.document import Block, Document, Para, Properties, Style, Table, framed, text
from specgen.model.project import Project
from specgen.model.question import OpenQuestion, OpenQuestions
from specgen.sections.form_text import FormText
from specgen.sections.words import parapets_in_words

WORDS = "letters/questions"
_WIDTHS = (0.04, 0.2, 0.08, 0.22, 0.1, 0.1, 0.14, 0.12)


def question_rows(found: OpenQuestions) -> tuple[tuple[str, ...], ...]:
    """The rows of the form: the last two cells are for the answer, who gives it, and the day."""
    words = FormText(WORDS)
    return tuple(
        (
            str(one.number),
            _asked(one),
            parapets_in_words(one.where) if one.where else words("everywhere"),
            one.decides,
            one.who,
            one.meanwhile or words("nothing"),
            "",
            "",
        )
        for one in found.questions
    )


def _asked(one: OpenQuestion) -> str:
    return f"{one.question}? ({one.answers})"


def questions_form(project: Project, found: OpenQuestions) -> Document:
    """The form as a document; it has no issue date where the project has none yet."""
    words = FormText(WORDS)
    rows = question_rows(found)
    blocks: list[Block] = [
        Para(Style.TITLE, text(words("title"))),
        Para(Style.BODY, text(words("opening" if rows else "none"))),
        Para(Style.NOTE, text(words("not_read"))),
    ]
    if rows:
        blocks.append(Table(words.list("columns"), rows, _WIDTHS, words("caption")))
    properties = Properties(words("title"), words("subject"), project.title, project.issued, words("state"))
    return framed(properties, blocks, words("state"), landscape=True)
