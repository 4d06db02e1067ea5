"""The wall as picture and form: its parts, the fields of the one that is chosen, and what stands against it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import Any
from urllib.parse import quote, urlencode

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.drawing.picture import picture_of
from specgen.explain.bench import Effect
from specgen.model.finding import Finding
from specgen.model.folded import OPEN_WORDS, FoldedFinding, folded
from specgen.model.project import PLACES, Component, Parapet, Project, Record, Transition
from specgen.page.answer import back, base_of, live, page, pieces, shown
from specgen.page.comments import FieldCounts
from specgen.page.desk import Desk
from specgen.page.field_view import KIND, FieldAddress, FieldView
from specgen.page.fields import Fields
from specgen.page.finding_rows import plain_words
from specgen.page.offered import offered
from specgen.practice.entries import Field
from specgen.render.svg_picture import marks_of, picture_svg
from specgen.wall.change import of_kind, with_parapets, with_parts

FIELDS = "fields"  # where the form of the wall stands on its view
MOST_BREAKS = 3  # findings named behind a kind
MOST_STANDING = 40  # findings listed beside the wall


@dataclass(frozen=True)
class ListedPart:
    """A part in the list beside the picture."""

    id: str
    title: str
    kind: str
    count: int
    word: str  # of the worst finding
    chosen: bool
    link: str


@dataclass(frozen=True)
class ListedParapet:
    """A parapet in the list of all."""

    name: str
    type: str
    orientation: str
    count: int
    word: str
    link: str


@dataclass(frozen=True)
class ListedPlaces:
    """The places of one sort along a parapet; ``wanted`` is what another one must state."""

    record: str
    title: str
    listed: tuple[tuple[str, tuple[FieldView, ...]], ...]
    wanted: tuple[Field, ...]


@dataclass(frozen=True)
class Asked:
    """Which wall is shown, which of its parts, for how much a change holds, and whether each kind is tried."""

    parapet: str
    part: str = ""
    scope: str = ""
    kinds: bool = False


@shown
def walls(request: Request, desk: Desk) -> Response:
    """Every parapet; the wall itself where there is one alone."""
    listed = list(_listed(desk, base_of(request)))
    if len(listed) == 1 and "all" not in request.query_params:
        return back(request, listed[0].link.removeprefix(base_of(request)))
    types = desk.tree().get("types") or {}
    return page(request, "live/walls.html", listed=listed, types=[str(one) for one in types])


def _listed(desk: Desk, base: str) -> Iterator[ListedParapet]:
    words: dict[str, list[str]] = {}
    for one in desk.assessment.findings:
        if one.counts:
            words.setdefault(one.parapet, []).append(one.word)
    for wall in desk.assessment.project.parapets:
        found = words.get(wall.name, [])
        worst = min(found, key=OPEN_WORDS.index, default="")
        kind = desk.types().get(wall.name, "")
        yield ListedParapet(
            wall.name, kind, wall.word("orientation") or "", len(found), worst, address(base, wall.name)
        )


@shown
def wall(request: Request, desk: Desk) -> Response:
    """One parapet."""
    name, part = request.path_params["parapet"], request.query_params.get("part", "")
    found = parapet_of(desk.assessment.project, name)
    if found is None:
        return page(request, "live/refused.html", 404, lines=[f"The project has no parapet {name}."])
    asked = Asked(name, part, request.query_params.get("scope", ""), bool(request.query_params.get("kinds")))
    return page(request, "live/wall.html", **whole(desk, base_of(request), asked))


@shown
def kinds(request: Request, desk: Desk) -> Response:
    """The kind of a part once more, with what each other kind would break."""
    name, part = request.query_params.get("parapet", ""), request.query_params.get("part", "")
    view = kind_view(desk, name, part)
    if view is None:
        return page(request, "live/refused.html", 404, lines=["There is no such part."])
    scope = request.query_params.get("scope", "")
    return pieces(request, [("live/one_field.html", {"field": view, "scope": scope})])


def parapet_of(project: Project, name: str) -> Parapet | None:
    """A parapet by its name."""
    return next((one for one in project.parapets if one.name == name), None)


def address(base: str, parapet: str, part: str = "", anchor: str = "", scope: str = "") -> str:
    """Where a wall is shown, with one of its parts chosen."""
    words = {key: value for key, value in (("part", part), ("scope", scope)) if value}
    asked = f"?{urlencode(words)}" if words else ""
    return f"{base}wall/{quote(parapet, safe='')}{asked}{f'#{anchor}' if anchor else ''}"


def whole(desk: Desk, base: str, asked: Asked, instead: FieldView | None = None) -> dict[str, Any]:
    """What the view of a wall shows; ``instead`` stands in the place of the field of its address."""
    name, part = asked.parapet, asked.part
    fields = fields_context(desk, base, asked)
    if instead is not None:
        _put(fields, instead)
    return {
        **picture_context(desk, base, name, part),
        **standing_context(desk, name),
        **parts_context(desk, base, name, part),
        **fields,
        "others": [one.name for one in desk.assessment.project.parapets],
    }


def _put(fields: dict[str, Any], instead: FieldView) -> None:
    """Put a field with what was typed in the place of the field of its address."""

    def with_it(views: Iterable[FieldView]) -> tuple[FieldView, ...]:
        return tuple(instead if one.address == instead.address else one for one in views)

    for listed in ("fields", "more_fields"):
        fields[listed] = with_it(fields[listed])
    fields["laps"] = [(title, with_it(views)) for title, views in fields["laps"]]
    fields["places"] = [
        replace(sort, listed=tuple((name, with_it(views)) for name, views in sort.listed))
        for sort in fields.get("places", ())
    ]


def picture_context(desk: Desk, base: str, name: str, part: str) -> dict[str, Any]:
    """The picture with its marks."""
    drawn = picture_of(desk.assessment, name)
    marks = marks_of(desk.assessment.findings, name)
    link = partial(address, base, name, anchor=FIELDS)
    svg = picture_svg(drawn, link, part, marks) if drawn is not None else ""
    return {"drawn": drawn, "svg": svg, "parapet": name, "part": part}


def standing_context(desk: Desk, name: str) -> dict[str, Any]:
    """What stands against the wall, worst first."""
    here = [one for one in desk.assessment.findings if one.counts and one.parapet in (name, "all")]
    here.sort(key=lambda one: (OPEN_WORDS.index(one.word), one.parapet == "all"))
    listed: tuple[FoldedFinding, ...] = folded(here)
    more = max(0, len(listed) - MOST_STANDING)
    return {"standing": listed[:MOST_STANDING], "more": more, "parapet": name, "plain": plain_words(desk)}


def parts_context(desk: Desk, base: str, name: str, part: str) -> dict[str, Any]:
    """The parts from outside to inside, and those of the top."""
    found = parapet_of(desk.assessment.project, name)
    assert found is not None
    marks = marks_of(desk.assessment.findings, name)
    titles = desk.assessment.practice.vocabulary.roles

    def listed(parts: tuple[Component, ...]) -> list[ListedPart]:
        return [
            ListedPart(
                one.id,
                titles[one.role].title if one.id == one.role else one.id,
                one.kind,
                marks[one.id].count if one.id in marks else 0,
                marks[one.id].word if one.id in marks else "",
                one.id == part,
                address(base, name, one.id, FIELDS),
            )
            for one in parts
        ]

    top = address(base, name, "", FIELDS)
    return {
        "outside_in": listed(found.build_up),
        "over_top": listed(found.top),
        "whole_link": top,
        "part": part,
    }


def fields_context(desk: Desk, base: str, asked: Asked) -> dict[str, Any]:
    """The fields of the chosen part with its laps, or those of the parapet."""
    name, part = asked.parapet, asked.part
    found = parapet_of(desk.assessment.project, name)
    assert found is not None
    made = fields_of(desk)
    component = found.by_id(part) if part else None
    record: Record = component if component is not None else found
    scopes = desk.scopes(name)
    fields = list(made.of(record, name))
    waits = component is not None and not asked.kinds
    if component is not None and (asked.kinds or _kinds_known(desk, name, part)):
        known = kind_view(desk, name, part)
        fields[0], waits = known or fields[0], False
    laps = [
        (one, made.of(one, name)) for one in found.transitions if part and part in (one.first, one.second)
    ]
    stated = [one for one in fields if _matters(one)]
    return {
        "component": component,
        "fields": stated,
        "more_fields": [one for one in fields if one not in stated],
        "laps": [(lap_title(one), views) for one, views in laps],
        "kinds_wait": waits,
        **_layers(desk, found, component),
        "missing_part": bool(part) and component is None,
        "parapet": name,
        "part": part,
        "scope": asked.scope if asked.scope in scopes else next(iter(scopes), ""),
        "scopes": [(key, words, address(base, name, part, FIELDS, key)) for key, words in scopes.items()],
    }


def _layers(desk: Desk, wall: Parapet, component: Component | None) -> dict[str, Any]:
    """What can be done with the chosen part, and what else can be put in."""
    found: dict[str, Any] = {"offered": offered(desk.assessment.practice)}
    if component is None:
        every = desk.assessment.project.parapets
        return found | {"places": _places(desk, wall), "others_count": len(every)}
    top = component in wall.top
    listed = [one.id for one in (wall.top if top else wall.build_up)]
    at = listed.index(component.id)
    laps = [one for one in wall.transitions if component.id in (one.first, one.second)]
    met = {component.id, *(end for one in laps for end in (one.first, one.second))}
    return found | {
        "can_move": (at > 0, at < len(listed) - 1),
        "move_words": ("Move it down", "Move it up") if top else ("Move it outward", "Move it inward"),
        "others_here": [one.id for one in wall.components() if one.id not in met],
        "lap_places": [f"{one.first} / {one.second}" for one in laps],
    }


def _places(desk: Desk, wall: Parapet) -> list[ListedPlaces]:
    """The places along a parapet, sort by sort, with their fields and what another one must state."""
    records = desk.assessment.practice.vocabulary.records
    made = fields_of(desk)
    return [
        ListedPlaces(
            what,
            records[what].title,
            tuple(
                (place_name(one, number), made.of(one, wall.name))
                for number, one in enumerate(getattr(wall, key), 1)
            ),
            tuple(field for field in records[what].fields.values() if field.required),
        )
        for key, what in PLACES.items()
    ]


def _matters(one: FieldView) -> bool:
    """Whether a field stands open: it is stated, asked for by a section, or something stands on it."""
    return bool(one.address.key == KIND or one.value or one.limit or one.findings or one.way != "left")


def lap_title(one: Transition) -> str:
    """A lap in words."""
    return f"{one.first} and {one.second}"


def fields_of(desk: Desk) -> Fields:
    """What makes the fields of this state."""
    return desk.once("fields", lambda: Fields(desk.assessment, comments=FieldCounts(desk)))


def field_at(desk: Desk, at: FieldAddress) -> FieldView | None:
    """A field by its address, as the state has it now."""
    record = record_at(desk.assessment.project, at)
    if record is None:
        return None
    views = fields_of(desk).of(record, at.parapet)
    found = next((one for one in views if one.address == at), None)
    if found is not None and at.key == KIND and _kinds_known(desk, at.parapet, at.place):
        return kind_view(desk, at.parapet, at.place)
    return found


def record_at(project: Project, at: FieldAddress) -> Record | None:
    """The record that an address names."""
    if not at.parapet:
        sections = {"project": project.info}
        found = sections.get(at.record, getattr(project, at.record, None))
        return found if isinstance(found, Record) else None
    here = parapet_of(project, at.parapet)
    if here is None or at.record == "parapet":
        return here
    if at.record == "component":
        return here.by_id(at.place)
    if at.record == "transition":
        return next((one for one in here.transitions if f"{one.first} / {one.second}" == at.place), None)
    key = next((name for name, what in PLACES.items() if what == at.record), "")
    listed: tuple[Record, ...] = getattr(here, key, ())
    return next((one for number, one in enumerate(listed, 1) if place_name(one, number) == at.place), None)


def place_name(one: Record, number: int) -> str:
    """How a place along a parapet is called: by its name, else by its number in the list."""
    return one.word("name") or str(number)


def _kinds_known(desk: Desk, name: str, part: str) -> bool:
    known: set[tuple[str, str]] = desk.once("kinds known", set)
    return (name, part) in known


def kind_view(desk: Desk, name: str, part: str) -> FieldView | None:
    """The kind of a part, each choice with what it would break; tried on copies, once a state."""
    found = parapet_of(desk.assessment.project, name)
    component = found.by_id(part) if found else None
    if component is None:
        return None
    first = fields_of(desk).of(component, name)[0]
    choices = tuple(
        replace(one, breaks="" if one.chosen else breaks_of(kind_effect(desk, name, component, one.value)))
        for one in first.choices
    )
    known: set[tuple[str, str]] = desk.once("kinds known", set)
    known.add((name, part))
    return replace(first, choices=choices)


def kind_effect(desk: Desk, name: str, component: Component, kind: str) -> Effect:
    """What another kind of a part changes at its parapet."""
    project, practice = desk.assessment.project, desk.assessment.practice

    def changed(one: Component) -> Component:
        return of_kind(one, kind, practice) if one.id == component.id else one

    def made() -> Project:
        return with_parapets(project, lambda wall: with_parts(wall, changed), (name,))

    return desk.bench().tried(("kind", component.id, kind), name, made)


def breaks_of(effect: Effect) -> str:
    """What a change breaks and why, in words; "" where it breaks nothing."""
    broken: Mapping[str, Finding] = {one.code: one for one in effect.breaks if one.failed}
    words = [f"{one.name} ({one.message})" for one in broken.values()]
    more = f"; and {len(words) - MOST_BREAKS} more" if len(words) > MOST_BREAKS else ""
    return "; ".join(words[:MOST_BREAKS]) + more


@shown
def wall_of(request: Request, desk: Desk) -> Response:
    """The parapet that was chosen from the list."""
    return back(request, address("", request.query_params.get("name", "")))


__all__ = ["ROUTES", "address", "field_at", "live", "whole"]

ROUTES = (
    Route("/wall", walls),
    Route("/wall-of", wall_of),
    Route("/wall/{parapet:path}", wall),
    Route("/kinds", kinds),
)
