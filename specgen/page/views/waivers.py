"""Waivers of findings, and answers where no rule covers a place: what stands, and one more of them; the history."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.files.foreign import refused
from specgen.model.finding import Outcome
from specgen.model.project import Decision
from specgen.page.answer import Form, back, count_in, page, posted, shown
from specgen.page.desk import Desk
from specgen.page.handed import UNSIGNED, signed, today
from specgen.page.views.steps import in_words
from specgen.rules.waivers import expired
from specgen.work.editing_decisions import ANSWER, EVERYWHERE, WAIVER, ended, with_decision, without_decision
from specgen.work.history import history

WORDS = {WAIVER: "Waiver", ANSWER: "Answer"}


def _line(desk: Desk, number: int, one: Decision) -> Mapping[str, Any]:
    project, assessment = desk.inputs.project, desk.assessment
    holds = one in (*assessment.waivers_in_force, *assessment.answers_in_force)
    over = expired(one, project)
    standing = "in force" if holds else "ended" if over else "fits no finding"
    name = next((each.name for each in assessment.findings if each.code == one.rule), "")
    return {
        "number": number,
        "what": one.what,
        "rule": one.rule,
        "name": name,
        "where": "all parapets" if one.parapet == EVERYWHERE else one.parapet,
        "by": one.word("by") or "",
        "date": one.values.get("date"),
        "until": one.values.get("until"),
        "reason": one.word("reason") or one.word("answer") or "",
        "more": one.word("reference") or one.word("limit") or "",
        "standing": standing,
        "look": "good" if holds else "doubt",
    }


@shown
def waivers(request: Request, desk: Desk) -> Response:
    """Every waiver and answer with reason, who, when, until when, and whether it is in force."""
    project = desk.inputs.project
    return page(
        request,
        "live/waivers.html",
        waivers=[_line(desk, number, one) for number, one in enumerate(project.waivers)],
        answers=[_line(desk, number, one) for number, one in enumerate(project.answers)],
        issued=project.issued,
        open=_uncovered(desk),
    )


def _uncovered(desk: Desk) -> list[tuple[str, str, str]]:
    """Code, parapet and words of what no rule covers and nobody has answered."""
    found = (one for one in desk.assessment.findings if one.outcome is Outcome.NOT_COVERED and not one.answer)
    return [(one.code, one.parapet, one.message) for one in found]


@shown
def new(request: Request, desk: Desk) -> Response:
    """The form of a waiver, or of an answer where no rule covers the place."""
    code, parapet = request.query_params.get("code", ""), request.query_params.get("parapet", "")
    named = [one for one in desk.assessment.findings if one.code == code]
    here = [one for one in named if not parapet or one.parapet == parapet]
    what = ANSWER if any(one.outcome is Outcome.NOT_COVERED for one in here) else WAIVER
    limits = sorted({one.limit for one in here if one.limit})
    return page(
        request,
        "live/waiver_new.html",
        what=what,
        word=WORDS[what],
        code=code,
        parapet=parapet or EVERYWHERE,
        parapets=[one.name for one in desk.inputs.project.parapets],
        messages=list(
            dict.fromkeys(one.message for one in here if one.outcome in (Outcome.FAIL, Outcome.NOT_COVERED))
        ),
        codes=sorted(
            {(one.code, one.name) for one in desk.assessment.findings if one.outcome is Outcome.FAIL}
        ),
        limits=limits,
        today=today().isoformat(),
        issued=desk.inputs.project.issued,
    )


@posted
def add(request: Request, desk: Desk, form: Form) -> Response:
    """One more waiver or answer in the project file."""
    what = ANSWER if form["what"] == ANSWER else WAIVER
    values = {
        key: form[key]
        for key in ("rule", "parapet", "date", "reason", "until", "limit", "answer", "reference")
    }
    values["by"] = signed(desk, form)
    if not values["by"]:
        raise refused(desk.path.name, UNSIGNED)
    if what == WAIVER and not values["until"] and not form["endless"]:
        raise refused(
            desk.path.name,
            "the waiver does not say when it ends",
            "give its last day, or choose that it has none",
        )
    if form["endless"]:
        values["until"] = ""
    practice, name = desk.inputs.practice, desk.path.name
    done = desk.change(
        lambda text: with_decision(text, practice, what, values, name), f"{WORDS[what]} of {values['rule']}"
    )
    return back(request, "waivers", in_words(done))


@posted
def change(request: Request, desk: Desk, form: Form) -> Response:
    """Another last day of a waiver, or a waiver or an answer taken out."""
    what = ANSWER if form["what"] == ANSWER else WAIVER
    number = -1 if (count := count_in(form["number"])) is None else count
    rule, until, name = form["rule"], form["until"], desk.path.name
    if form["act"] == "end":
        words = f"Waiver of {rule} until {until}"
        done = desk.change(lambda text: ended(text, number, rule, until, name), words)
    else:
        words = f"{WORDS[what]} of {rule} taken out"
        done = desk.change(lambda text: without_decision(text, what, number, rule, name), words)
    return back(request, "waivers", in_words(done))


@shown
def decisions(request: Request, desk: Desk) -> Response:
    """Who decided what and when, as the files of the project hold it."""
    events, problems = history(desk.inputs.project, desk.inputs.practice)
    return page(
        request,
        "live/history.html",
        events=events,
        problems=[str(one) for one in problems],
        steps=len(desk.steps.all()[0]),
    )


ROUTES = (
    Route("/waivers", waivers),
    Route("/waivers/new", new),
    Route("/waivers", add, methods=["POST"]),
    Route("/waivers/change", change, methods=["POST"]),
    Route("/history", decisions),
)
