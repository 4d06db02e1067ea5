"""Parapets and the places along them: put in, named anew, taken out; a parapet's wall made a type for others."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.page.answer import Form, posted
from specgen.page.desk import Desk
from specgen.page.views.steps import written
from specgen.page.views.wall import FIELDS, address
from specgen.work.editing import (
    add_parapet,
    add_place,
    make_type,
    remove_parapet,
    remove_place,
    rename_parapet,
)

VALUE = "value-"  # before the key of a place's value in a form


@posted
def add(request: Request, desk: Desk, form: Form) -> Response:
    """One more parapet: as another is, of a type, or not yet described."""
    kind, _, like = form["like"].partition(":")
    edited = add_parapet(
        desk.text,
        desk.inputs.project,
        desk.inputs.effective(),
        form["name"],
        like if kind == "parapet" else "",
        like if kind == "type" else "",
    )
    return written(request, desk, edited, address("", " ".join(form["name"].split())))


@posted
def rename(request: Request, desk: Desk, form: Form) -> Response:
    """Another name of a parapet."""
    now = " ".join(form["name"].split())
    edited = rename_parapet(desk.text, desk.inputs.project, desk.inputs.effective(), form["parapet"], now)
    return written(request, desk, edited, address("", now))


@posted
def take_out(request: Request, desk: Desk, form: Form) -> Response:
    """A parapet less."""
    edited = remove_parapet(desk.text, desk.inputs.project, desk.inputs.effective(), form["parapet"])
    return written(request, desk, edited, "wall")


@posted
def typed(request: Request, desk: Desk, form: Form) -> Response:
    """What other parapets can share, made a type."""
    edited = make_type(
        desk.text,
        desk.inputs.project,
        desk.inputs.effective(),
        form["parapet"],
        " ".join(form["name"].split()),
    )
    return written(request, desk, edited, address("", form["parapet"]))


@posted
def place(request: Request, desk: Desk, form: Form) -> Response:
    """A corner, an end, a step, a joint, a scupper or a penetration more."""
    values = {name.removeprefix(VALUE): form[name] for name in form.names() if name.startswith(VALUE)}
    stated = {key: words for key, words in values.items() if words}
    edited = add_place(
        desk.text,
        desk.inputs.project,
        desk.inputs.effective(),
        form["parapet"],
        form["record"],
        stated,
        form["scope"],
    )
    return written(request, desk, edited, address("", form["parapet"], "", FIELDS, form["scope"]))


@posted
def no_place(request: Request, desk: Desk, form: Form) -> Response:
    """A place less."""
    edited = remove_place(
        desk.text,
        desk.inputs.project,
        desk.inputs.effective(),
        form["parapet"],
        form["record"],
        form["place"],
        form["scope"],
    )
    return written(request, desk, edited, address("", form["parapet"], "", FIELDS, form["scope"]))


ROUTES = (
    Route("/parapets/add", add, methods=["POST"]),
    Route("/parapets/rename", rename, methods=["POST"]),
    Route("/parapets/take-out", take_out, methods=["POST"]),
    Route("/parapets/type", typed, methods=["POST"]),
    Route("/parapets/place", place, methods=["POST"]),
    Route("/parapets/no-place", no_place, methods=["POST"]),
)
