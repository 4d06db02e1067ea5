"""A value that was changed in its field: written into the project file, and everything that follows shown again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any
from urllib.parse import parse_qs, urlsplit

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.files.marks import InputError
from specgen.page.answer import (
    UNUSABLE,
    Form,
    back,
    base_of,
    came_from,
    here_of,
    page,
    pieces,
    posted,
    refused,
)
from specgen.page.desk import Desk
from specgen.page.field_view import (
    APART,
    KIND,
    LEFT,
    OPEN,
    STATED,
    FieldAddress,
    FieldView,
    at_its_field,
    decided,
)
from specgen.page.views import wall
from specgen.page.views.steps import in_words
from specgen.work.editing import Address, Edited, change_kind, set_meant, set_way

WRITTEN = {STATED: "stated", LEFT: "specified", OPEN: "unknown", APART: "inapplicable"}
MOST_PROBLEMS = 3  # told beside a field
_TOP = ("counts", "steps")


@posted
def change(request: Request, desk: Desk, form: Form) -> Response:
    """Write one value, in one of the four ways."""
    at = FieldAddress(form["record"], form["key"], form["parapet"], form["place"])
    field = wall.field_at(desk, at)
    if field is None:
        return refused(request, ["There is no such value any more. Load the view again."])
    typed = ", ".join(form.every("value")) if field.input == "several" else form["value"]
    way, reason = decided(form["way"], form["was_way"], typed, form["was"]), form["reason"]
    if way not in field.ways:
        return refused(request, ["That is no way in which the value can stand."])
    if (form["was"], form["was_way"]) != (field.was, field.was_way):
        stands = f"“{field.was}”" if field.was else field.ways.get(field.was_way, field.was_way)
        problem = f"it was changed in another window meanwhile and is now {stands}; set it once more if you still want to"
        return _again(request, desk, field.refused(way, typed, reason, problem), form["scope"])
    before = _fields_beside(request, desk, at, form["scope"])
    try:
        edited = _edited(desk, field, way, typed, reason, form["scope"])
        done = desk.change(lambda _: edited.text, edited.what)
    except InputError as error:
        return _again(
            request, desk, field.refused(way, typed, reason, problems_in_words(error)), form["scope"]
        )
    words = in_words(done) + (f" Left out: {edited.left_out}." if edited.left_out else "")
    return _done(request, desk, at, before, words, form["scope"])


def _edited(desk: Desk, field: FieldView, way: str, typed: str, reason: str, scope: str) -> Edited:
    at = field.address
    place = Address(at.record, at.parapet, at.place, at.key)
    project, practice = desk.inputs.project, desk.inputs.effective()
    if at.key == KIND and way == STATED:
        return change_kind(desk.text, project, practice, at.parapet, at.place, typed, scope=scope)
    if way != STATED:
        words = reason if way == APART else ""
        return set_way(desk.text, project, practice, place, WRITTEN[way], words, scope)
    same = (typed, way) == (field.was, field.was_way)
    made = None if same else set_way(desk.text, project, practice, place, WRITTEN[way], typed, scope)
    if reason and reason != field.reason:
        meant = set_meant(made.text if made else desk.text, project, practice, place, reason, scope)
        return replace(meant, what=f"{made.what}; {meant.what}" if made else meant.what)
    return made or Edited(desk.text, f"{field.label}: as it was")


def problems_in_words(error: InputError) -> str:
    """The problems of a file as a person at its form reads them: no file, no line."""
    every = (f"{one.message}; {one.fix}" if one.fix else one.message for one in error.problems)
    lines = [at_its_field(one) for one in every]
    more = f"; and {len(lines) - MOST_PROBLEMS} more problems" if len(lines) > MOST_PROBLEMS else ""
    return "; ".join(lines[:MOST_PROBLEMS]) + more


def _again(request: Request, desk: Desk, field: FieldView, scope: str) -> Response:
    """The field with what was typed and why it cannot be used."""
    if wall.live(request):
        context = {"field": field, "scope": scope}
        return pieces(request, [("live/one_field.html", context)], f"{field.label} was not set.", UNUSABLE)
    at = field.address
    if at.parapet:
        shown = wall.whole(desk, base_of(request), wall.Asked(at.parapet, _part(request, at), scope), field)
        return page(request, "live/wall.html", UNUSABLE, **shown)
    return page(request, "live/one_field_page.html", UNUSABLE, field=field, to=here_of(request))


def _done(
    request: Request, desk: Desk, at: FieldAddress, before: Mapping[str, FieldView], words: str, scope: str
) -> Response:
    if not wall.live(request):
        return back(request, f"{here_of(request)}#{at.id}", words)
    field = wall.field_at(desk, at)
    first = (
        ("live/one_field.html", {"field": field, "scope": scope})
        if field is not None
        else ("live/nothing.html", {})
    )
    beside = _fields_beside(request, desk, at, scope)
    part = _part(request, at)
    whole_form = at.key == KIND or set(beside) != set(before)
    others: list[tuple[str, Mapping[str, Any]]] = []
    if at.parapet and whole_form:
        others.append(_apart("fields", "live/wall_fields.html", _form(request, desk, at, scope)))
    else:
        changed = [one for name, one in beside.items() if one != before[name] and one.address != at]
        others += [("live/field_apart.html", {"field": one, "scope": scope}) for one in changed]
    return pieces(request, [first, *others, *around(request, desk, at.parapet, part)], words)


def around(request: Request, desk: Desk, parapet: str, part: str) -> Iterable[tuple[str, Mapping[str, Any]]]:
    """What a change shows again beside its field: the picture, the parts, what stands against the wall, the counts."""
    base = base_of(request)
    if parapet:
        yield _apart("picture", "live/wall_picture.html", wall.picture_context(desk, base, parapet, part))
        yield _apart("parts", "live/wall_parts.html", wall.parts_context(desk, base, parapet, part))
        yield _apart("standing", "live/wall_standing.html", wall.standing_context(desk, parapet))
    for name in _TOP:
        yield _apart(name, f"live/{name}.html", {})


def _apart(name: str, inner: str, context: Mapping[str, Any]) -> tuple[str, Mapping[str, Any]]:
    return "live/apart.html", {**context, "apart_id": name, "inner": inner}


def _form(request: Request, desk: Desk, at: FieldAddress, scope: str) -> dict[str, Any]:
    asked = wall.Asked(at.parapet, _part(request, at), scope)
    return wall.fields_context(desk, base_of(request), asked)


def _fields_beside(request: Request, desk: Desk, at: FieldAddress, scope: str) -> dict[str, FieldView]:
    """The fields that stand on the same view, by their ids."""
    if not at.parapet or not wall.live(request):
        return {}
    shown = _form(request, desk, at, scope)
    every = [*shown["fields"], *shown["more_fields"], *(one for _, views in shown["laps"] for one in views)]
    every += [one for sort in shown.get("places", ()) for _, views in sort.listed for one in views]
    return {one.id: one for one in every}


def _part(request: Request, at: FieldAddress) -> str:
    """The part whose fields are shown: that of the address, or of the view that the change came from."""
    if at.record == "component":
        return at.place
    asked = parse_qs(urlsplit(came_from(request)).query).get("part", [""])
    return asked[-1]


__all__ = ["ROUTES", "around", "change", "problems_in_words"]

ROUTES = (Route("/change", change, methods=["POST"]),)
