"""The questions of a project in words, with what is usual taken from the worked examples."""

from __future__ import annotations

import contextlib
from functools import lru_cache, partial
from pathlib import Path

from specgen.assessment import Assessment
from specgen.explain.questions import Asked, Decides, Question, World, questions
from specgen.explain.unknowns import KIND, Unknown
from specgen.files.withdrawn import Owner
from specgen.files.writing import OutputFolder, Written
from specgen.files.yaml_scalars import plain_value
from specgen.intake.field_words import accepted, example
from specgen.intake.project import load_project
from specgen.intake.start import question_of
from specgen.intake.values import UnusableValueError, convert
from specgen.intake.worked import worked_examples
from specgen.model.finding import count_words
from specgen.model.project import Component, Value
from specgen.model.question import OpenQuestion, OpenQuestions
from specgen.practice.entries import Field, Practice
from specgen.practice.load import load_practice
from specgen.render.questions import add_questions
from specgen.render.word_template import Template
from specgen.units.counted import many
from specgen.wall.change import TRIED, of_kind

USUAL = (
    "commented",
    "hot-humid-lowrise",
)  # of steel and of wood: what stands in place of a wall that is open
_NAMED = 4  # checks and calculations named in one question
_BARE = ("yes or no", "date", "count", "number")  # types that YAML tells apart from words


def questions_of(one: Assessment) -> OpenQuestions:
    """The questions that a project leaves open, what decides most first."""
    return in_words(one, weighed(one))


def weighed(one: Assessment) -> Asked:
    """The questions that a project leaves open, each tried at its answers; many open values take a while."""
    practice = one.practice
    worlds = [
        World(partial(_usual, name, practice=practice), partial(_part, name, practice=practice))
        for name in USUAL
    ]
    return questions(one, worlds)


def in_words(one: Assessment, asked: Asked) -> OpenQuestions:
    """Questions in words, in the same order.

    Args:
        one: the project that they are of.
        asked: what was found of them.
    """
    found = tuple(
        _in_words(number, each, one.practice) for number, each in enumerate(asked.questions, start=1)
    )
    return OpenQuestions(one.project.title, found, asked.walls, asked.trials, asked.untried, asked.idle)


def write_questions(
    one: Assessment, found: OpenQuestions, folder: Path, look: Template | None = None
) -> tuple[tuple[str, ...], Written]:
    """Write the questions as a form to send and as a page. Returns the names of the two, and what was written.

    Raises:
        OutputError: the folder is another project's, or cannot be written; nothing was.
    """
    number = one.project.info.word("number")
    owner = Owner(number, one.project.info.word("name") or "") if number else None
    output = OutputFolder(folder, owner, other_project=False)
    names = add_questions(output, one, found, look)
    return names, output.commit()


def _in_words(number: int, one: Question, practice: Practice) -> OpenQuestion:
    unknown, decides = one.unknown, one.decides
    return OpenQuestion(
        number,
        _key(unknown),
        question_words(unknown, practice),
        accepted(unknown.field),
        unknown.parapets,
        decides.count,
        decides.findings,
        decides.paragraphs,
        decides.limits,
        decides.sections,
        decides.calculations,
        decides.rules,
        _hanging(decides, unknown.field.to_issue),
        one.who,
        one.meanwhile,
        one.tried,
    )


def _key(unknown: Unknown) -> str:
    where = unknown.called or unknown.what
    return f"{where}.{unknown.field.name}"


def question_words(unknown: Unknown, practice: Practice) -> str:
    """What is asked, in words: of a role its kind, of a value what the trade calls it."""
    known = practice.vocabulary
    if unknown.role:
        asked = question_of(unknown.what, unknown.field)
        return (
            asked
            if asked != _first_large(unknown.field.title)
            else f"Which kind of {known.roles[unknown.what].title}"
        )
    if not unknown.parapets or unknown.what == "parapet":
        return question_of(unknown.what, unknown.field)
    if unknown.what == "transition":
        return f"{_first_large(unknown.field.title)}, where {unknown.called} meet"
    kind = known.roles.get(unknown.what) if unknown.what in known.roles else known.records[unknown.what]
    of = kind.title if kind is not None else unknown.what
    named = (
        f" {unknown.called}"
        if unknown.called not in ("", unknown.what) and unknown.what not in known.roles
        else ""
    )
    return f"{_first_large(unknown.field.title)}, of the {of}{named}"


def _first_large(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def _hanging(one: Decides, to_issue: bool) -> str:
    """What hangs on a question, in words; "nothing" where no trial changed a conclusion."""
    if not one.count:
        return "no paper is issued without it" if to_issue else "nothing that is checked or specified"
    parts = [
        many(count, "open check") if kind == "unknown" else count_words(count, kind)
        for kind, count in one.findings.items()
    ]
    at = f" of {_sections(one.sections)}" if one.sections else ""
    if one.paragraphs:
        parts.append(f"{many(one.paragraphs, 'paragraph')} to come or go{at}")
    if one.limits:
        parts.append(f"{many(one.limits, 'limit')}{'' if one.paragraphs else at}")
    if one.calculations:
        parts.append(many(len(one.calculations), "calculation"))
    words = f"{many(one.count, 'conclusion')}: {', '.join(parts)}"
    named = [*one.rules, *(each[:1].lower() + each[1:] for each in one.calculations)]
    more = " and more" if len(named) > _NAMED else ""
    return f"{words}; on {', '.join(named[:_NAMED])}{more}" if named else words


def _sections(numbers: tuple[str, ...]) -> str:
    return f"Section{'' if len(numbers) == 1 else 's'} {', '.join(numbers)}"


def _usual(name: str, what: str, field: Field, *, practice: Practice) -> Value | None:
    """A value as a worked example states it, or as one may be written; None where there is none that can stand."""
    if field.name == KIND:
        return next((part.kind for part in _parts(name) if part.role == what), field.choices[0])
    words = example(practice, what, field)
    with contextlib.suppress(UnusableValueError, ValueError):
        return convert(field, _read(words, field), practice.vocabulary)
    return None


def _read(words: str, field: Field) -> object:
    """What YAML makes of a written value of a field."""
    if words.startswith("["):
        return [one.strip().strip('"') for one in words.strip("[]").split(",")]
    bare = words.strip('"')
    return plain_value(bare) if field.type in _BARE else bare


def _part(name: str, role: str, kind: str, *, practice: Practice) -> Component | None:
    """A component as a worked example has it, of this kind."""
    alike = [part for part in _parts(name) if part.role == role]
    if not alike:
        return Component(role, {}, {}, TRIED, id=role, kind=kind)
    same = next((part for part in alike if part.kind == kind), None)
    return same or of_kind(alike[0], kind, practice)


@lru_cache(maxsize=len(USUAL))
def _parts(name: str) -> tuple[Component, ...]:
    """The components of a worked example, then those of the other examples."""
    files, practice = worked_examples(), load_practice()
    order = [name, *(one for one in files if one != name)]
    projects = [load_project(files[one], practice) for one in order]
    return tuple(part for one in projects for wall in one.parapets for part in wall.components())
