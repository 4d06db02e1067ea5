"""Parts and laps put in, taken out and moved."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.page.answer import Form, posted
from specgen.page.desk import Desk
from specgen.page.views.steps import written
from specgen.page.views.wall import FIELDS, address
from specgen.work.editing import (
    add_layer,
    add_transition,
    move_layer,
    remove_layer,
    remove_transition,
)


def _here(form: Form, part: str) -> str:
    return address("", form["parapet"], part, FIELDS, form["scope"])


@posted
def add(request: Request, desk: Desk, form: Form) -> Response:
    """Put in a part; its kind may be left for later."""
    role, _, kind = form["what"].partition(" / ")
    edited = add_layer(
        desk.text,
        desk.inputs.project,
        desk.inputs.effective(),
        form["parapet"],
        role,
        kind or "unknown",
        name=form["name"],
        before=form["before"] or None,
        scope=form["scope"],
    )
    return written(request, desk, edited, _here(form, form["name"] or role))


@posted
def take_out(request: Request, desk: Desk, form: Form) -> Response:
    """Take a part out, with the laps that it has."""
    edited = remove_layer(
        desk.text, desk.inputs.project, desk.inputs.effective(), form["parapet"], form["part"], form["scope"]
    )
    return written(request, desk, edited, _here(form, ""))


@posted
def move(request: Request, desk: Desk, form: Form) -> Response:
    """Move a part one place in its list."""
    by = -1 if form["way"] == "before" else 1
    edited = move_layer(
        desk.text,
        desk.inputs.project,
        desk.inputs.effective(),
        form["parapet"],
        form["part"],
        by,
        form["scope"],
    )
    return written(request, desk, edited, _here(form, form["part"]))


@posted
def lap(request: Request, desk: Desk, form: Form) -> Response:
    """Describe the lap of a part with another; which lies over the other is said at once."""
    first, second = form["part"], form["other"]
    upper = {"this": first, "other": second}.get(form["upper"], "")
    edited = add_transition(
        desk.text,
        desk.inputs.project,
        desk.inputs.effective(),
        form["parapet"],
        first,
        second,
        {"upper": upper} if upper else None,
        form["scope"],
    )
    return written(request, desk, edited, _here(form, first))


@posted
def no_lap(request: Request, desk: Desk, form: Form) -> Response:
    """Take the description of a lap out."""
    edited = remove_transition(
        desk.text, desk.inputs.project, desk.inputs.effective(), form["parapet"], form["place"], form["scope"]
    )
    return written(request, desk, edited, _here(form, form["part"]))


ROUTES = tuple(
    Route(f"/layers/{name}", endpoint, methods=["POST"])
    for name, endpoint in (
        ("add", add),
        ("take-out", take_out),
        ("move", move),
        ("lap", lap),
        ("no-lap", no_lap),
    )
)
