"""The file that a project starts with: what somebody answered, and `unknown` for each open question."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from specgen.files.yaml_scalars import bad_characters, plain_value, text_as_written, why_bad
from specgen.intake.formats import FORMAT, current
from specgen.intake.project import ProjectReader
from specgen.intake.schema import may_be_open
from specgen.intake.values import UNKNOWN, UnusableValueError, convert
from specgen.model.project import Value
from specgen.practice.entries import Field, Practice

SCHEMA_FILE = "project.schema.json"
HEAD = (
    f"# yaml-language-server: $schema={SCHEMA_FILE}",
    "# Write a value for each `unknown`; a line that begins with # states nothing until the # is deleted.",
    "# Every key with its unit, an example and its range: specgen schema project --list",
    f"{FORMAT}: {current('project')}",
)
PLACES_HINT = (
    "    # When they are decided: build_up, top, transitions; each component has a role and a kind, most a family.",
    "    # Places along it: corners, ends, steps, joints, scuppers, penetrations. A standing wall: existing.",
)
NEW, STANDING = "new", "standing"
NAMING, FIRST, MORE = "name", "first", "more"
_ASKED = ("group", "why", "hangs")
_NOT_WORDS = ("yes or no", "date", "count")  # types that YAML tells apart from words
_LISTS = ("words", "families")
_LONGEST_CHOICES = 60  # characters behind a line
_SPACED = re.compile(r"\s+")


@dataclass(frozen=True)
class Question:
    """What a new project is asked, and the place of the answer in its file."""

    option: str  # of the command line
    what: str  # section or record; `framing` for the wall behind the sheathing
    key: str
    ask: str

    def field(self, practice: Practice) -> Field:
        """The definition of the answer."""
        known = practice.vocabulary
        if self.what == "framing":
            return Field(self.key, "backup wall", "word", choices=tuple(known.roles["framing"].kinds))
        if self.key == "existing":
            return Field(self.option, "work", "word", choices=(NEW, STANDING))
        return known.records[self.what].fields[self.key]


QUESTIONS = (
    Question("name", "project", "name", "Name of the project"),
    Question("number", "project", "number", "Number of the project"),
    Question("issue-date", "project", "issue_date", "Issue date"),
    Question("units", "project", "units", "Language of units"),
    Question("place", "site", "place", "Place of the building"),
    Question("code", "site", "code", "Adopted building code and edition"),
    Question("climate-zone", "site", "climate_zone", "ASHRAE 169 climate zone"),
    Question("wind-speed", "site", "wind_speed", "Basic wind speed for the building's risk category"),
    Question("exposure", "site", "exposure", "Wind exposure category"),
    Question("salt-water-distance", "site", "salt_water_distance", "Distance to salt water"),
    Question("height", "building", "height", "Mean roof height"),
    Question("roof-membrane", "building", "roof_membrane", "Roof membrane"),
    Question("roof-slope", "building", "roof_slope", "Slope of the roof"),
    Question("construction-type", "building", "construction_type", "Type of construction"),
    Question("risk-category", "building", "risk_category", "Risk category"),
    Question("seismic-design-category", "building", "seismic_design_category", "Seismic design category"),
    Question("parapet-height", "parapet", "height", "Height of the parapet above the finished roof"),
    Question("inner-face", "parapet", "inner_face", "Roof-side face of the parapet"),
    Question("drained-area", "parapet", "drained_area", "Roof area that drains through the parapet"),
    Question("fire-rated", "parapet", "fire_rated", "Fire-rated exterior wall that needs a parapet"),
    Question("backup-wall", "framing", "kind", "Backup wall"),
    Question("work", "parapet", "existing", "New or standing parapet"),
)


@dataclass(frozen=True)
class Reasoned:
    """A question with why it is asked and what hangs on it, as the table `first_facts` says it."""

    question: Question
    group: str  # NAMING, FIRST or MORE
    why: str
    hangs: str


def reasoned(practice: Practice) -> tuple[Reasoned, ...]:
    """Every question in the order in which it is asked: what it is called, the facts that come first, the others."""
    by_place = {(one.what, one.key): one for one in QUESTIONS}
    return tuple(
        Reasoned(by_place[str(row["what"]), str(row["attribute"])], *(str(row[name]) for name in _ASKED))
        for row in practice.table("first_facts").rows
    )


def question_of(what: str, field: Field) -> str:
    """What is asked for a value of a record, in words."""
    asked = (one.ask for one in QUESTIONS if one.what == what and one.key == field.name)
    return next(asked, f"{field.title[:1].upper()}{field.title[1:]}")


def read_words(field: Field, words: str, practice: Practice) -> Value:
    """An answer as the value that it stands for.

    Raises:
        UnusableValueError: it cannot stand in the file.
    """
    value: object = words
    if field.type in _LISTS:
        value = [one.strip() for one in words.strip().strip("[]").split(",")]
    if field.type in _NOT_WORDS:
        try:
            value = plain_value(words.lower())
        except ValueError as error:
            raise UnusableValueError(f"`{field.name}`: {error}", "write it as 2026-11-02") from None
    if isinstance(value, str) and (wrong := bad_characters(value)):
        raise UnusableValueError(f"`{field.name}`: character {wrong}: {why_bad(wrong)}", "delete it")
    return convert(field, value, practice.vocabulary)


def scalar(words: str, type_: str = "text") -> str:
    """Words as they stand in a project file, for a field of a type; in quotes where they would mean something else.

    >>> scalar("115 mph"), scalar("7", "word"), scalar("Yes", "yes or no"), scalar('a "b": c')
    ('115 mph', '"7"', 'yes', '"a \\\\"b\\\\": c"')
    >>> scalar("TPO, butyl", "families")
    '[TPO, butyl]'
    """
    folded = _SPACED.sub(" ", words).strip()
    if type_ in _LISTS:
        return f"[{', '.join(scalar(one) for one in folded.strip('[]').split(','))}]"
    with contextlib.suppress(ValueError):
        if type_ in _NOT_WORDS and not isinstance(plain_value(folded.lower()), str):
            return folded.lower()
    return text_as_written(folded)


def start_text(answers: Mapping[str, str], practice: Practice) -> str:
    """The project file of one parapet.

    Args:
        answers: what somebody answered, by the option of the question; what is open is absent.
        practice: holds the vocabulary.
    """
    return "\n".join([*(line for line, _ in start_lines(answers, practice)), ""])


def start_lines(answers: Mapping[str, str], practice: Practice) -> Iterator[tuple[str, Question | None]]:
    """The lines of :func:`start_text`, each with the question that it answers or leaves open."""
    yield from ((line, None) for line in HEAD)
    for section in ("project", "site", "building"):
        yield f"{section}:", None
        yield from _lines(section, answers, practice, "  ")
    yield "parapets:", None
    yield "  - name: P-1", None
    yield from _lines("parapet", answers, practice, "    ")
    yield from _work(answers)
    yield from ((line, None) for line in PLACES_HINT)


def _lines(
    what: str, answers: Mapping[str, str], practice: Practice, indent: str
) -> Iterator[tuple[str, Question]]:
    for one in QUESTIONS:
        if one.what == what and one.key != "existing":
            yield _line(one, answers, practice, indent), one


def _line(question: Question, answers: Mapping[str, str], practice: Practice, indent: str) -> str:
    field, key = question.field(practice), question.key
    if question.option in answers:
        return f"{indent}{key}: {scalar(answers[question.option], field.type)}"
    choices = ", ".join(field.choices)
    more = f": {choices}" if 0 < len(choices) <= _LONGEST_CHOICES else ""
    known = question.what in ProjectReader.OPEN and may_be_open(field)
    return f"{indent}{'' if known else '# '}{key}: {UNKNOWN}  # {field.title}{more}"


def _work(answers: Mapping[str, str]) -> Iterator[tuple[str, Question]]:
    work, wall = (next(one for one in QUESTIONS if one.option == name) for name in ("work", "backup-wall"))
    if answers.get("work") == STANDING:
        yield "    existing: {}  # inspected, by, hazardous_materials, observations, openings, repairs", work
    if "backup-wall" in answers:
        yield "    build_up:", wall
        yield f"      - {{role: framing, kind: {scalar(answers['backup-wall'])}}}", wall
    else:
        yield f"    # build_up: [{{role: framing, kind: {UNKNOWN}}}]", wall
