"""What is unknown, in the order of what hangs on it, each with the field that answers it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.explain.questions import Asked, who_answers
from specgen.explain.unknowns import Unknown, unknowns
from specgen.intake.field_words import accepted
from specgen.model.question import OpenQuestion
from specgen.page import job_kinds
from specgen.page.answer import Form, back, live, page, pieces, posted, shown
from specgen.page.desk import Desk
from specgen.page.field_view import COMPONENT, FieldAddress, FieldView
from specgen.page.jobs import DONE, Job, Jobs
from specgen.page.places import wall_place
from specgen.page.views.jobs import jobs_of
from specgen.page.views.wall import field_at
from specgen.work.questions import in_words, question_words, weighed

FEW = 8  # values that are open, up to which they are tried while the view is made
MOST_FIELDS = 40
TITLE = "Questions in the order of what hangs on them"


@dataclass(frozen=True)
class QuestionRow:
    """A question with the field that answers it, or the place where it is answered."""

    words: str
    answers: str
    parapets: tuple[str, ...]
    who: str
    meanwhile: str
    decides: str
    place: str
    field: FieldView | None


@shown
def questions(request: Request, desk: Desk) -> Response:
    """The questions: tried where they are few or were tried before, else in the order of the file."""
    jobs, found = jobs_of(request), desk.once("unknowns", lambda: unknowns(desk.assessment))
    asked = _asked(desk, jobs, found)
    job = _job(jobs)
    context: dict[str, Any] = {
        "ordered": asked is not None,
        "rows": _in_order(desk, asked) if asked is not None else _as_written(desk, found),
        "job": job if job is not None and (asked is None or not job.over) else None,
        "now": desk.digest,
        "left_out": asked.idle if asked is not None else 0,
    }
    return page(request, "live/questions.html", **context)


def _asked(desk: Desk, jobs: Jobs, found: tuple[Unknown, ...]) -> Asked | None:
    """What was tried of this state, or is tried now for it is little."""
    job = _job(jobs)
    made = job is not None and job.state == DONE and not job.outdated(desk.digest)
    if made and job is not None and isinstance(job.result, Asked):
        return job.result
    if len(found) > FEW:
        return None
    return desk.once("questions", lambda: weighed(desk.assessment))


def _job(jobs: Jobs) -> Job | None:
    return jobs.latest(job_kinds.QUESTIONS, TITLE)


def _in_order(desk: Desk, asked: Asked) -> list[QuestionRow]:
    words: tuple[OpenQuestion, ...] = in_words(desk.assessment, asked).questions
    return [
        QuestionRow(
            one.question,
            one.answers,
            one.where,
            one.who,
            one.meanwhile,
            one.decides,
            _place(each.unknown),
            _field(desk, each.unknown) if number < MOST_FIELDS else None,
        )
        for number, (one, each) in enumerate(zip(words, asked.questions, strict=True))
    ]


def _as_written(desk: Desk, found: tuple[Unknown, ...]) -> list[QuestionRow]:
    """What is open in the order of the file: nothing is known yet of what hangs on it."""
    rows = []
    for number, one in enumerate(found):
        who, meanwhile = who_answers(desk.assessment, one)
        words, answers = question_words(one, desk.assessment.practice), accepted(one.field)
        field = _field(desk, one) if number < MOST_FIELDS else None
        rows.append(QuestionRow(words, answers, one.parapets, who, meanwhile, "", _place(one), field))
    return rows


def _address(one: Unknown) -> FieldAddress | None:
    """Where the answer stands, at the first parapet that asks; None where a part has to be chosen first."""
    if not one.parapets:
        return FieldAddress(one.what, one.field.name)
    part = one.at.partition(", part ")[2]
    if one.role or (one.at and not part):
        return None
    if part:
        return FieldAddress(COMPONENT, one.field.name, one.parapets[0], part)
    return FieldAddress(one.what, one.field.name, one.parapets[0])


def _place(one: Unknown) -> str:
    address = _address(one)
    anchor = f"#{address.id}" if address else ""
    if not one.parapets:
        return f"facts{anchor}"
    return wall_place(one.parapets[0], one.at.partition(", part ")[2]) + anchor


def _field(desk: Desk, one: Unknown) -> FieldView | None:
    address = _address(one)
    return field_at(desk, address) if address else None


@posted
def weigh(request: Request, desk: Desk, form: Form) -> Response:
    """Start to try the open values at their possible answers, beside the page."""
    kwargs = {"project": desk.inputs.project, "options": desk.options, "link": "questions"}
    job = jobs_of(request).start(TITLE, job_kinds.QUESTIONS, kwargs, desk.digest)
    if live(request):
        return pieces(request, [("live/job.html", {"job": job, "now": desk.digest})], "It was started.")
    return back(request, "questions", "It was started.")


ROUTES = (Route("/questions", questions), Route("/questions/weigh", weigh, methods=["POST"]))
