"""A project started or opened: ten facts, a worked example, what lies in the folder, or a file that is brought."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.files.faults import OutputError
from specgen.files.marks import InputError, problem_lines
from specgen.intake.field_words import accepted, example
from specgen.intake.project import FILE_NAME
from specgen.intake.start import FIRST, MORE, NAMING, Question, Reasoned, reasoned
from specgen.intake.start_sheet import start_sheet
from specgen.intake.values import SHEET_THICKNESS, UNKNOWN
from specgen.intake.worked import worked_examples
from specgen.page.answer import UNUSABLE, Form, back, page, piece, posted, shown
from specgen.page.desk import Desk
from specgen.page.field_view import FieldChoice, at_its_field
from specgen.page.fields import choices
from specgen.page.views.overview import overview
from specgen.page.views.proposals import start_search
from specgen.page.walls_job import VIEW as PROPOSALS
from specgen.practice.entries import Practice
from specgen.practice.load import load_practice
from specgen.render.workbook import workbook_bytes
from specgen.units.echo import in_usual_units
from specgen.units.quantity import QuantityError, parse
from specgen.work import starting

SHEET_NAME = "walls.xlsx"
_PROPOSE, _WALL = "proposals", "wall"
_NOT_MEASURED = ("text", "word", "yes or no", "date", "count")
_PARTS = re.compile(r"(?<=[.;]) ")
_HEADS = {
    NAMING: "What it is called",
    FIRST: "Ten facts that come first",
    MORE: "More facts, where you know them",
}


@dataclass(frozen=True)
class AskedFact:
    """A question as the form shows it."""

    option: str
    label: str
    why: str
    hangs: str
    input: str  # choice, date or text
    typed: str
    open: bool  # whether it was said to be not known yet
    choices: tuple[FieldChoice, ...]
    offered: tuple[str, ...]
    hint: str
    needed: bool
    echo: str = ""
    problem: str = ""


@dataclass(frozen=True)
class WorkedExample:
    """A worked example, by what its file says of itself."""

    name: str
    about: str


# The choices, and the overview of what is open


@shown
def front(request: Request, desk: Desk) -> Response:
    """What is open, in plain words; where nothing is, the ways to begin."""
    return overview(request, desk) if desk.is_open else _ways(request, desk)


@shown
def ways(request: Request, desk: Desk) -> Response:
    """The ways to begin."""
    return _ways(request, desk)


def _ways(
    request: Request, desk: Desk, status: int = 200, problems: tuple[str, ...] = (), folder: str = ""
) -> Response:
    found = starting.projects_below(desk.root)
    return page(
        request,
        "live/start.html",
        status,
        projects=found,
        free=starting.is_free(desk.root),
        root=desk.root.name or str(desk.root),
        problems=problems,
        folder=folder,
        most=starting.LARGEST // 1_000_000,
    )


# Ten facts


@shown
def facts(request: Request, desk: Desk) -> Response:
    """The questions, none answered but what the program would take anyway."""
    practice = load_practice()
    fields = {option: one.field(practice) for option, one in _by_option().items()}
    taken = {option: str(one.default) for option, one in fields.items() if one.default is not None}
    return _facts(request, desk, taken, {})


def _facts(
    request: Request,
    desk: Desk,
    answers: Mapping[str, str],
    problems: Mapping[str, str],
    status: int = 200,
    lines: tuple[str, ...] = (),
    folder: str = "",
) -> Response:
    practice = load_practice()
    groups = [
        (_HEADS[group], [one for one in asked_facts(practice, answers, problems) if one[0] == group])
        for group in (NAMING, FIRST, MORE)
    ]
    shown_groups = [(head, [one for _, one in held]) for head, held in groups]
    return page(
        request,
        "live/start_facts.html",
        status,
        groups=shown_groups,
        wrong=[one for _, held in shown_groups for one in held if one.problem],
        lines=lines,
        free=starting.is_free(desk.root),
        folder=folder,
    )


def asked_facts(
    practice: Practice, answers: Mapping[str, str], problems: Mapping[str, str]
) -> Iterator[tuple[str, AskedFact]]:
    """Every question with what was answered so far, and the group that it stands in."""
    understood = starting.echoes(answers, practice)
    for one in reasoned(practice):
        option = one.question.option
        yield (
            one.group,
            _asked(
                one, practice, answers.get(option, ""), problems.get(option, ""), understood.get(option, "")
            ),
        )


def _asked(one: Reasoned, practice: Practice, typed: str, problem: str, echo: str) -> AskedFact:
    question, field = one.question, one.question.field(practice)
    words = example(practice, question.what, field).strip('"')
    offered: tuple[str, ...] = ()
    if field.type not in _NOT_MEASURED:
        accept = SHEET_THICKNESS if field.type == "sheet thickness" else {field.type}
        try:
            offered = in_usual_units(parse(typed, accept))
        except QuantityError:
            offered = in_usual_units(parse(words, accept))
    chosen = choices(practice, question.what, field, typed)
    measured = f"{accepted(field)}; as {words}" if offered else ""
    return AskedFact(
        question.option,
        question.ask,
        one.why,
        one.hangs,
        "choice" if chosen else "date" if field.type == "date" and not problem else "text",
        "" if typed == UNKNOWN else typed,
        typed == UNKNOWN,
        chosen,
        offered,
        measured,
        field.required,
        echo,
        problem,
    )


@posted
def answer(request: Request, desk: Desk, form: Form) -> Response:
    """What was understood of one answer, or why it cannot be used."""
    practice, option = load_practice(), form["asked"]
    if option not in _by_option():
        raise LookupError("That is not asked.")
    given = {option: form[option]} if form[option] else {}
    problem = at_its_field(starting.wrong_answers(given, practice).get(option, "")) if given else ""
    echo = starting.echoes(given, practice).get(option, "")
    return piece(request, "live/start_echo.html", option=option, echo=echo, problem=problem)


def _by_option() -> Mapping[str, Question]:
    return {one.question.option: one.question for one in reasoned(load_practice())}


@posted
def begin(request: Request, desk: Desk, form: Form) -> Response:
    """Write the project file of the answers; what cannot be used is shown where it was typed, with all the rest."""
    practice = load_practice()
    answers = {option: words for option in _by_option() if (words := _given(form, option))}
    problems = {
        option: at_its_field(why) for option, why in starting.wrong_answers(answers, practice).items()
    }
    if not answers.get("name"):
        problems["name"] = "every paper bears the name of the project; write one"
    for option in _by_option():
        if form[option] not in ("", UNKNOWN) and form[f"{option}-open"]:
            problems[option] = (
                "a value is typed, and “not known yet” is chosen beside it; keep one of the two"
            )
            answers[option] = form[option]
    if problems:
        return _facts(request, desk, answers, problems, UNUSABLE, folder=form["folder"])
    text = starting.answered_text(answers, practice)
    try:
        place = _place(desk, form, answers["name"])
        starting.start(place, text, practice)
    except OutputError as error:
        return _facts(request, desk, answers, {}, UNUSABLE, (str(error),), form["folder"])
    desk.open(place)
    words = f"{place.name}/{FILE_NAME} was written."
    if form["then"] != _PROPOSE:
        return back(request, "", words)
    start_search(request, desk)
    return back(request, PROPOSALS, words)


def _given(form: Form, option: str) -> str:
    """What somebody answered; not known yet, where that was chosen and nothing typed."""
    typed = form[option]
    return typed or (UNKNOWN if form[f"{option}-open"] else "")


def _place(desk: Desk, form: Form, project: str) -> Path:
    """The folder to start in: the one the page was started in where the form was made for it, else one below it.

    Raises:
        OutputError: the name cannot be that of a folder here.
    """
    folder = form["folder"]
    if not folder and form["where"] != "here":  # a form that is sent twice starts one project
        folder = starting.folder_name(project, desk.root)
    return starting.folder_for(desk.root, folder)


# A worked example


@shown
def examples(request: Request, desk: Desk) -> Response:
    """The worked examples to start from."""
    return _examples(request, desk)


def _examples(
    request: Request, desk: Desk, typed: Mapping[str, str] | None = None, problems: tuple[str, ...] = ()
) -> Response:
    return page(
        request,
        "live/start_example.html",
        UNUSABLE if problems else 200,
        examples=known_examples(),
        typed=typed or {"example": "", "name": "", "number": "", "folder": ""},
        problems=problems,
        free=starting.is_free(desk.root),
    )


@lru_cache(maxsize=1)
def known_examples() -> tuple[WorkedExample, ...]:
    """The worked examples with the words at the head of each file."""
    return tuple(WorkedExample(name, _about(file)) for name, file in worked_examples().items())


def _about(file: Path) -> str:
    """The comment at the head of a file, as far as its first empty line, without what it says of files and commands."""
    lines: list[str] = []
    for line in file.read_text("utf-8").splitlines():
        if not line.startswith("#") or not line.strip("# "):
            break
        lines.append(line.strip("# "))
    parts = [one for one in _PARTS.split(" ".join(lines)) if "`" not in one]
    return " ".join(parts).rstrip(".;") + "."


@posted
def copy(request: Request, desk: Desk, form: Form) -> Response:
    """Copy a worked example under a name of its own."""
    practice = load_practice()
    typed = {name: form[name] for name in ("example", "name", "number", "folder")}
    own = {name: typed[name] for name in starting.OWN if typed[name]}
    problems = [
        f"{option.capitalize()}: {at_its_field(why)}"
        for option, why in starting.wrong_answers(own, practice).items()
    ]
    if "name" not in own:
        problems.append("Write a name for the project; every paper bears it.")
    if typed["example"] not in worked_examples():
        problems.append("Choose an example.")
    if problems:
        return _examples(request, desk, typed, tuple(problems))
    text = starting.example_text(typed["example"], practice, own)
    try:
        place = _place(desk, form, own["name"])
        starting.start(place, text, practice)
    except OutputError as error:
        return _examples(request, desk, typed, (str(error),))
    desk.open(place)
    return back(request, "", f"{place.name}/{FILE_NAME} was copied from {typed['example']}.")


# What exists


@posted
def open_(request: Request, desk: Desk, form: Form) -> Response:
    """Open a project that lies below the folder of the page."""
    wanted = form["project"]
    if wanted not in {one.path for one in starting.projects_below(desk.root)}:
        return _ways(request, desk, UNUSABLE, ("That project is no longer there. Choose one of these.",))
    desk.open(desk.root / wanted)
    return back(request, "", f"{desk.assessment.project.title} is open.")


@posted
def bring(request: Request, desk: Desk, form: Form) -> Response:
    """Take a project file, or the filled workbook, that somebody brings, into an empty folder."""
    files = form.files("file")
    if not files:
        return _ways(request, desk, UNUSABLE, ("Choose a file first.",), form["folder"])
    name, data = files[0].filename or "", files[0].file.read(starting.LARGEST + 1)
    practice = load_practice()
    try:
        text = starting.brought_text(name, data, practice)
        place = _place(desk, form, Path(name).stem)
        starting.start(place, text, practice)
    except (InputError, OutputError) as error:
        lines = problem_lines(error.problems) if isinstance(error, InputError) else (str(error),)
        return _ways(request, desk, UNUSABLE, tuple(lines), form["folder"])
    desk.open(place)
    return back(request, "", f"{place.name}/{FILE_NAME} was written.")


@shown
def sheet(request: Request, desk: Desk) -> Response:
    """The workbook to fill in."""
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
    given: dict[str, Any] = {"Content-Disposition": f'attachment; filename="{SHEET_NAME}"'}
    return Response(workbook_bytes(start_sheet(load_practice())), media_type=kind, headers=given)


ROUTES = (
    Route("/", front),
    Route("/start", ways),
    Route("/start/facts", facts),
    Route("/start/facts", begin, methods=["POST"]),
    Route("/start/answer", answer, methods=["POST"]),
    Route("/start/example", examples),
    Route("/start/example", copy, methods=["POST"]),
    Route("/start/open", open_, methods=["POST"]),
    Route("/start/bring", bring, methods=["POST"]),
    Route(f"/start/{SHEET_NAME}", sheet),
)
