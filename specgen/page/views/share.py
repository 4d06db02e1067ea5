"""Comments on findings, paragraphs and values: the list, what is said on one thing, and answers."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.explain.commented import Commented, commented, object_of
from specgen.files.faults import OutputError
from specgen.files.marks import InputError, of_file, problem_lines
from specgen.intake.comments import FILE_NAME
from specgen.model.comment import About
from specgen.page.answer import UNUSABLE, Form, back, page, posted, shown
from specgen.page.comments import beside, comments_of, new_place, place_of
from specgen.page.desk import Desk
from specgen.work.comments import add, answer, mark_answered, meant

SHOWN: Mapping[str, Callable[[Commented], bool]] = {
    "open": lambda one: one.open,
    "answered": lambda one: not one.open,
    "all": lambda one: True,
}
KINDS = {"finding": "findings", "paragraph": "paragraphs", "value": "values"}
_NAMES = ("finding", "section", "paragraph", "value", "of", "parapet", "layer")


@shown
def listed(request: Request, desk: Desk) -> Response:
    """The comments, those that wait for an answer first, or those that the filters let through."""
    asked = {name: request.query_params.get(name, "") for name in ("show", "kind", "parapet", "by")}
    show = asked["show"] if asked["show"] in SHOWN else "open"
    every = commented(desk.specification(), comments_of(desk))
    found = [one for one in every if SHOWN[show](one) and _passes(one, asked)]
    return page(
        request,
        "live/comments.html",
        found=found,
        every=every,
        show=show,
        asked=asked,
        kinds=KINDS,
        parapets=[one.name for one in desk.assessment.project.parapets],
        people=sorted({one.comment.name for one in every}),
        **_leading(desk),
    )


def _passes(one: Commented, asked: Mapping[str, str]) -> bool:
    about = one.comment.about
    return (
        asked["kind"] in ("", about.kind)
        and asked["parapet"] in ("", about.parapet)
        and asked["by"] in ("", one.comment.name)
    )


def _leading(desk: Desk) -> dict[str, Any]:
    """How a template finds the place of what a comment is on."""
    return {"place_of": lambda about: place_of(desk, about), "new_place": new_place}


@shown
def new(request: Request, desk: Desk) -> Response:
    """One thing with what was said on it, and the form for another comment."""
    return _of_one(request, desk, _about(request.query_params))


def _of_one(
    request: Request, desk: Desk, about: About, form: Form | None = None, why: Exception | None = None
) -> Response:
    """What is said on one thing; with what a person typed and why it was not taken, where it was not."""
    every = [one for one in commented(desk.specification(), comments_of(desk)) if one.comment.about == about]
    return page(
        request,
        "live/comment.html",
        UNUSABLE if why else 200,
        about=about,
        object=object_of(desk.specification(), about),
        found=every,
        problems=_lines(why),
        typed=form["text"] if form else "",
        **_leading(desk),
    )


def _lines(why: Exception | None) -> list[str]:
    if isinstance(why, InputError):
        return list(problem_lines(why.problems))
    return [str(why)] if why else []


def _about(given: Mapping[str, str]) -> About:
    """What an address or a form names.

    Raises:
        InputError: it names nothing, or two things.
    """
    named = {name: " ".join(given.get(name, "").split()) for name in _NAMES}
    about = About(**named)
    heads = [name for name in KINDS if named[name]]
    if len(heads) != 1 or (about.kind == "paragraph" and not about.section):
        fix = "come here by the link beside a finding, a paragraph or a value"
        raise InputError([of_file(FILE_NAME, "a comment is on one finding, paragraph or value", fix)])
    return about


@posted
def added(request: Request, desk: Desk, form: Form) -> Response:
    """Add a comment to the file beside the project."""
    about = meant(desk.specification(), _about({name: form[name] for name in _NAMES}))
    try:
        one = add(beside(desk), about, _name(desk, form), form["text"], _now())
    except (InputError, OutputError) as error:
        return _of_one(request, desk, about, form, error)
    return back(request, f"{new_place(about)}#c-{one.key}", "The comment stands beside the project.")


@posted
def answered(request: Request, desk: Desk, form: Form) -> Response:
    """Add an answer; with the tick, the comment is marked as answered as well."""
    key = str(request.path_params["key"])
    known = next((one for one in comments_of(desk) if one.key == key), None)
    try:
        one = answer(beside(desk), key, _name(desk, form), form["text"], _now(), form["seen"])
        if form["answered"]:
            one = mark_answered(beside(desk), key, True, one.state)
    except (InputError, OutputError) as error:
        if known is None:
            raise
        return _of_one(request, desk, known.about, form, error)
    return back(request, f"{new_place(one.about)}#c-{key}", "The answer stands beside the project.")


@posted
def marked(request: Request, desk: Desk, form: Form) -> Response:
    """Mark a comment as answered, or open it again."""
    key, done = str(request.path_params["key"]), form["answered"] == "yes"
    one = mark_answered(beside(desk), key, done, form["seen"])
    return back(
        request,
        f"{new_place(one.about)}#c-{key}",
        "Marked as answered." if done else "Open again.",
    )


def _name(desk: Desk, form: Form) -> str:
    """Who writes; the page knows the name from then on.

    Raises:
        InputError: nobody is named.
    """
    name = " ".join(form["name"].split())
    if not name:
        fix = "write your name beside the words; the page keeps it"
        raise InputError([of_file(FILE_NAME, "a comment bears the name of who writes it", fix)])
    desk.person = desk.person or name
    return name


def _now() -> datetime:
    return datetime.now().astimezone()


ROUTES = (
    Route("/comments", listed),
    Route("/comments", added, methods=["POST"]),
    Route("/comments/new", new),
    Route("/comments/{key}/answer", answered, methods=["POST"]),
    Route("/comments/{key}/mark", marked, methods=["POST"]),
)
