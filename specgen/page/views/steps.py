"""Steps back and forth, the name a person signs with, and reading again what somebody else changed."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.page.answer import Form, back, here_of, page, posted, refused, shown
from specgen.page.desk import Desk, StateChange
from specgen.render.differing_lines import differing_lines
from specgen.work.editing import Edited

LONGEST_NAME = 120


def in_words(done: StateChange) -> str:
    """What a change did to the findings, in one line."""
    before, after = (
        {(one.code, one.parapet, one.layer, one.message) for one in each.findings if one.counts}
        for each in (done.before, done.after)
    )
    closed, new = len(before - after), len(after - before)
    counts = [f"{closed} closed" if closed else "", f"{new} new" if new else ""]
    return f"{done.what}. Findings: {', '.join(one for one in counts if one) or 'as before'}."


def written(request: Request, desk: Desk, edited: Edited, to: str) -> Response:
    """Write a change of the project file, and go on to a view with what it did in words."""
    done = desk.change(lambda _: edited.text, edited.what)
    words = in_words(done) + (f" Left out: {edited.left_out}." if edited.left_out else "")
    return back(request, to, words)


@posted
def undo(request: Request, desk: Desk, form: Form) -> Response:
    """Go one step back."""
    return back(request, form["here"], in_words(desk.undo()))


@posted
def redo(request: Request, desk: Desk, form: Form) -> Response:
    """Go one step forth."""
    return back(request, form["here"], in_words(desk.redo()))


@shown
def steps(request: Request, desk: Desk) -> Response:
    """The steps made on the page, newest first."""
    found, at = desk.steps.all()
    return page(request, "live/steps_list.html", listed=[*enumerate(found)][::-1], at=at)


@posted
def person(request: Request, desk: Desk, form: Form) -> Response:
    """Who works at the page from now on."""
    name = " ".join(form["person"].split())
    if len(name) > LONGEST_NAME or any(not letter.isprintable() for letter in name):
        return refused(request, [f"A name has at most {LONGEST_NAME} characters, all of them printable."])
    desk.person = name
    return back(request, here_of(request), f"You sign as {name}." if name else "You sign without a name.")


@shown
def changed(request: Request, desk: Desk) -> Response:
    """What somebody else changed in the file that is open."""
    found = desk.found()
    if found is None:
        return back(request, "")
    text = found.decode("utf-8", "replace")
    return page(request, "live/changed.html", rows=differing_lines(desk.text, text), gone=not found)


@posted
def read_again(request: Request, desk: Desk, form: Form) -> Response:
    """Take the file as it is now."""
    desk.read_again()
    return back(request, "", "The file was read again.")


ROUTES = (
    Route("/undo", undo, methods=["POST"]),
    Route("/redo", redo, methods=["POST"]),
    Route("/steps", steps),
    Route("/person", person, methods=["POST"]),
    Route("/changed", changed),
    Route("/read-again", read_again, methods=["POST"]),
)
