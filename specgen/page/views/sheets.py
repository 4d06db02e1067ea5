"""Calculations: what each parapet has, each as a sheet that can be followed by hand, and what follows of other values."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.basis import content
from specgen.intake.hourly import load_hourly
from specgen.model.calculation import CalcLine, Calculation
from specgen.page import job_kinds
from specgen.page.answer import CHANGED, Form, back, base_of, live, page, pieces, posted, refused, shown
from specgen.page.desk import Desk
from specgen.page.finding_rows import MARKS, plain_words
from specgen.page.guard import DRAWING_POLICY
from specgen.page.jobs import Jobs
from specgen.page.places import line_place, paragraph_place, sheet_place
from specgen.page.sheet_view import (
    HOURS,
    SLOW,
    TriedSlide,
    address_of,
    calculation_of,
    in_digits,
    job_of,
    job_title,
    kept_hours,
    plots_of,
    quoting,
    rows,
    shown_subjects,
    slides_of,
    title_of,
    tried_slides,
)
from specgen.page.views.compare import keep_before
from specgen.page.views.jobs import jobs_of
from specgen.page.views.steps import in_words
from specgen.render.basis import drawings_beside
from specgen.render.svg_inline import inline_svg
from specgen.sections.words import requirement_words
from specgen.units.counted import many
from specgen.work.compared import by_parapets
from specgen.work.editing import set_way
from specgen.work.sensitivity import TriedValues, tried_values
from specgen.work.trial import TrialError


@shown
def calculations(request: Request, desk: Desk) -> Response:
    """The calculations of one parapet: done or what is missing, and the first results."""
    _take_kept(desk)
    parapets = [one.name for one in desk.assessment.project.parapets]
    asked = request.query_params.get("parapet", "")
    parapet = _known(asked, parapets, "parapet") if asked else parapets[0]
    return page(
        request,
        "live/calculations.html",
        parapets=parapets,
        parapet=parapet,
        rows=rows(desk, jobs_of(request), parapet),
        sheet_place=sheet_place,
        hours=HOURS,
        kept=kept_hours(desk, parapet),
    )


def _known(word: str, known: Iterable[str], what: str) -> str:
    """The word, where it is known.

    Raises:
        LookupError: it is not.
    """
    if word not in known:
        raise LookupError(f"There is no {what} “{word}”.")
    return word


def _take_kept(desk: Desk) -> None:
    """Read the results again that a run has kept beside the project file since."""
    if desk.found() is None and load_hourly(desk.folder) != desk.inputs.project.hourly:
        desk.read_again()


@shown
def sheet(request: Request, desk: Desk) -> Response:
    """One calculation; a script of the page asks for the tried values alone."""
    _take_kept(desk)
    parapet, subject = _asked(request, desk)
    jobs = jobs_of(request)
    one = calculation_of(desk, jobs, parapet, subject)
    slides = tried_slides(slides_of(desk, one), request.query_params) if one else ()
    tried, problem = _tried(desk, one, slides)
    trial: dict[str, Any] = {
        "tried": tried,
        "problem": problem,
        "slides": slides,
        "looks": MARKS,
        "by_parapets": by_parapets,
        "address": sheet_place(parapet, subject),
        "in_digits": in_digits,
        "plain": plain_words(desk),
    }
    if live(request):
        apart = ("live/slides_apart.html", {**trial, "moved": _moved(request, slides)})
        return pieces(request, [("live/trial.html", trial), apart], _in_words(tried, problem))
    whole = _whole(desk, jobs, parapet, subject, one)

    def place_of(line: CalcLine) -> str:
        where = line_place(desk, parapet, line)
        return base_of(request) + where if where else ""

    return page(request, "live/sheet.html", place_of=place_of, **whole, **trial)


def _asked(request: Request, desk: Desk) -> tuple[str, str]:
    """Parapet and subject of the address.

    Raises:
        LookupError: there is no such calculation.
    """
    parapets = [one.name for one in desk.assessment.project.parapets]
    parapet = _known(request.path_params["parapet"], parapets, "parapet")
    return parapet, _known(request.path_params["subject"], shown_subjects(desk), "calculation")


def _whole(desk: Desk, jobs: Jobs, parapet: str, subject: str, one: Calculation | None) -> dict[str, Any]:
    spec, assessment = desk.specification(), desk.assessment
    drawings = drawings_beside(spec, subject, parapet) if one is not None and one.done else ()
    return {
        "parapet": parapet,
        "subject": subject,
        "title_of_sheet": title_of(subject),
        "calculation": one,
        "line_cells": lambda line: content.line_cells(line, assessment),
        "table_rows": lambda table: content.table_rows(table, assessment.system),
        "drawings": [inline_svg(each) for each in drawings],
        "plots": [name for name, _ in plots_of(desk, parapet, subject)] if one and one.done else [],
        "quoting": [
            (
                each,
                requirement_words(each, assessment.practice, assessment.system),
                spec.paragraphs.get(each.id),
            )
            for each in quoting(desk, parapet, subject)
        ],
        "paragraph_place": paragraph_place,
        "job": job_of(jobs, parapet, subject),
        "now": desk.digest,
        "on_request": subject in SLOW,
        "kept": kept_hours(desk, parapet) if subject == HOURS else None,
    }


def _tried(
    desk: Desk, one: Calculation | None, slides: tuple[TriedSlide, ...]
) -> tuple[TriedValues | None, str]:
    """What follows of the tried values, or why one of them cannot be; neither where none is tried."""
    wrong = [each.problem for each in slides if each.problem]
    values = {each.slide.path: each.words for each in slides if each.moved and not each.problem}
    if wrong or not values or one is None:
        return None, "; ".join(wrong)
    try:
        return tried_values(desk.assessment, one, values), ""
    except TrialError as error:
        return None, str(error)


def _moved(request: Request, slides: tuple[TriedSlide, ...]) -> list[tuple[TriedSlide, bool]]:
    """The inputs whose field or slider is to follow the other one, with whether it was typed."""
    asked = request.query_params
    out = []
    for one in slides:
        was = asked.get(f"was-{one.number}", "")
        typed, slid = asked.get(f"try-{one.number}", was), asked.get(f"slide-{one.number}", was)
        if one.slide.narrow and (typed != was or slid != was):
            out.append((one, typed != was))
    return out


def _in_words(tried: TriedValues | None, problem: str) -> str:
    if problem:
        return problem
    if tried is None:
        return "The values as stated."
    results, findings = len(tried.results), len(tried.findings)
    return f"{many(results, 'result')} and {many(findings, 'finding')} change."


@posted
def run(request: Request, desk: Desk, form: Form) -> Response:
    """Start what runs on request, beside the page."""
    parapet, subject = _asked(request, desk)
    title, where = job_title(parapet, subject), sheet_place(parapet, subject)
    kwargs: dict[str, Any] = {
        "project": desk.inputs.project,
        "practice": desk.assessment.practice,
        "link": where,
    }
    if subject == HOURS:
        if not kept_hours(desk, parapet).can_run:
            return refused(request, ["The hours cannot be run before what is missing is stated."])
        job = jobs_of(request).start(title, job_kinds.HOURS, {**kwargs, "parapets": (parapet,)}, desk.digest)
    elif subject in SLOW:
        more = {"parapet": parapet, "subject": subject}
        job = jobs_of(request).start(title, job_kinds.SHEET, {**kwargs, **more}, desk.digest)
    else:
        return back(request, where)
    if live(request):
        return pieces(
            request, [("live/job.html", {"job": job, "now": desk.digest})], f"{job.title} was started."
        )
    return back(request, where, f"{job.title} was started.")


@posted
def write(request: Request, desk: Desk, form: Form) -> Response:
    """Write a value that was tried into the project file, where it stands; what it changed is shown."""
    parapet, subject = _asked(request, desk)
    one = calculation_of(desk, jobs_of(request), parapet, subject)
    slide = next((each for each in (slides_of(desk, one) if one else ()) if each.path == form["path"]), None)
    if slide is None or not slide.writable or slide.stated.text != form["was"]:
        words = "That value stands otherwise by now. Look at the sheet again; nothing was written."
        return refused(request, [words], CHANGED)
    before = desk.specification()
    where, project = address_of(slide.path, parapet), desk.inputs.project
    edited = set_way(desk.text, project, desk.assessment.practice, where, "stated", form["value"])
    done = desk.change(lambda _: edited.text, edited.what)
    keep_before(desk, before)
    return back(request, "compare", in_words(done))


@shown
def plot(request: Request, desk: Desk) -> Response:
    """One plot of a calculation, as a drawing of its own."""
    parapet, subject = _asked(request, desk)
    found, number = plots_of(desk, parapet, subject), request.path_params["number"]
    if number >= len(found):
        raise LookupError("There is no such plot.")
    headers = {"content-security-policy": DRAWING_POLICY}
    return Response(found[number][1], media_type="image/svg+xml", headers=headers)


ROUTES = (
    Route("/calculations", calculations),
    Route("/calculations/{parapet:path}/{subject}/plot-{number:int}.svg", plot),
    Route("/calculations/{parapet:path}/{subject}/run", run, methods=["POST"]),
    Route("/calculations/{parapet:path}/{subject}/write", write, methods=["POST"]),
    Route("/calculations/{parapet:path}/{subject}", sheet),
)
