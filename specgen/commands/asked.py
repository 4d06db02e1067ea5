"""``specgen check --questions``: what the project leaves open, in the order in which it is to be asked."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from specgen.assessment import Assessment
from specgen.commands.common import echo_json, folder_lines
from specgen.commands.template import template_of
from specgen.commands.terminal import print_text
from specgen.design.progress import part
from specgen.model.question import OpenQuestion, OpenQuestions
from specgen.units.counted import many

if TYPE_CHECKING:
    from specgen.render.word_template import Template


def ask(one: Assessment, output: Path | None, template: Path | None, form: str) -> None:
    """Print the questions, and write the form and the page if a folder is named."""
    from specgen.work.questions import questions_of

    look, begun = template_of(template), time.perf_counter()
    with part(0.5, 1.0):
        found = questions_of(one)
    taken = time.perf_counter() - begun
    if form == "json":
        echo_json(found)
    else:
        print_text("\n".join(_lines(found)))
    print_text(f"{many(found.trials, 'trial')} in {taken:.1f} s", err=True)
    if output is not None:
        _write(one, found, output, look, form)


def _lines(found: OpenQuestions) -> Iterator[str]:
    for one in found.questions:
        yield from _question(one)
    yield f"{found.project}: {many(len(found.questions), 'open question')}."
    if found.left_out:
        yield f"May be left out, nothing being open without: {many(found.left_out, 'value')}."
    if found.untried:
        yield f"{many(found.untried, 'answer')} not tried: what is asked much is tried at some of its answers."


def _question(one: OpenQuestion) -> Iterator[str]:
    at = f" at {', '.join(one.where)}" if one.where else ""
    yield f"{one.number}. {one.question}{at}? [{one.key}]"
    yield f"    decides: {one.decides}"
    yield f"    answers: {one.answers}"
    yield f"    who: {one.who}; until then: {one.meanwhile or 'nothing is assumed'}"


def _write(one: Assessment, found: OpenQuestions, output: Path, look: Template | None, form: str) -> None:
    from specgen.work.questions import write_questions

    names, written = write_questions(one, found, output, look)
    lines = [*(str(output / name) for name in names), *folder_lines(written)]
    print_text("\n".join(lines), err=form == "json")
