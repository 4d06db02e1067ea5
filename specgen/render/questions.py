"""The open questions as files: a form to send (Word) and a page (HTML)."""

from __future__ import annotations

from specgen.assessment import Assessment
from specgen.files.writing import OutputFolder
from specgen.model.question import OpenQuestions
from specgen.render.files import docx_bytes
from specgen.render.page import page_template
from specgen.render.plain import in_plain_words
from specgen.render.word_template import Template
from specgen.review.questions_form import WORDS, people, printed, questions_form
from specgen.sections.form_text import FormText

FORM, PAGE = "open-questions.docx", "open-questions.html"


def add_questions(
    folder: OutputFolder, one: Assessment, found: OpenQuestions, template: Template | None = None
) -> tuple[str, ...]:
    """Add the form and the page. Returns the names of the files."""
    plain = one.paper_words()
    form = in_plain_words(questions_form(one.project, found), plain)
    folder.add(FORM, docx_bytes(form, template))
    made = page_template("questions/questions.html").render(
        project=one.project.title,
        paper=one.project.paper,
        words=FormText(WORDS).texts,
        questions=printed(found, plain),
        people=people(found),
    )
    folder.add(PAGE, f"{made.rstrip()}\n".encode())
    return FORM, PAGE
