"""The front page of an open project: what it is, what stands against it, what is open, and what to do next."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from starlette.requests import Request
from starlette.responses import Response

from specgen.drawing.picture import picture_of
from specgen.explain.questions import who_answers
from specgen.explain.unknowns import Unknown, unknowns
from specgen.model.folded import summary
from specgen.model.project import Component, Parapet, Project, Record
from specgen.page.answer import base_of, page
from specgen.page.desk import Desk
from specgen.page.field_view import COMPONENT, FieldAddress
from specgen.page.views.wall import FIELDS, address
from specgen.practice.entries import Practice
from specgen.render.svg_inline import Svg
from specgen.render.svg_picture import marks_of, picture_svg
from specgen.rules.hold import words
from specgen.units.counted import many
from specgen.wall.differing import address_of, records_at
from specgen.work.papers import wanted_to_issue
from specgen.work.questions import question_words

MOST_OPEN, MOST_DRAWN = 8, 3
MEANS = {
    "defect": "breaks a code, or a condition that the wall depends on",
    "risk": "departs from good practice",
    "query": "somebody must answer or confirm in writing",
    "unknown": "the file does not say enough to decide",
    "not covered": "no rule covers the place; a named person must answer",
}
_FACTS = (  # what tells one project from another at a glance
    *(("site", key) for key in ("place", "code", "climate_zone", "wind_speed", "exposure")),
    *(("building", key) for key in ("height", "roof_membrane", "construction_type")),
)


@dataclass(frozen=True)
class OpenFact:
    """Something that the project leaves open, and where it is answered."""

    question: str
    where: tuple[str, ...]
    who: str
    link: str


@dataclass(frozen=True)
class NextStep:
    """What to do next, and where."""

    words: str
    link: str
    label: str


@dataclass(frozen=True)
class Drawn:
    """A parapet as the overview draws it."""

    name: str
    link: str
    svg: Svg


def overview(request: Request, desk: Desk) -> Response:
    """The view of what is open."""
    base, one = base_of(request), desk.assessment
    counts = summary(one.findings)
    open_ = desk.once("open facts", lambda: tuple(_open_facts(desk)))
    return page(
        request,
        "live/overview.html",
        facts=list(_facts(one.project, one.practice)),
        about=_about(one.project),
        drawn=list(_drawn(desk, base)),
        standing=[(counts[word], word, means) for word, means in MEANS.items() if counts[word]],
        open=open_[:MOST_OPEN],
        more_open=max(0, len(open_) - MOST_OPEN),
        steps=list(_next(desk, counts, len(open_))),
        folder=str(desk.folder),
    )


def _facts(project: Project, practice: Practice) -> Iterator[tuple[str, str]]:
    for section, key in _FACTS:
        record: Record = getattr(project, section)
        value = record.written.get(key)
        title = practice.vocabulary.records[section].fields[key].title
        yield title, "not known yet" if value is None else words(value)


def _about(project: Project) -> str:
    """How many parapets, new or standing, and how many of them are described."""
    parapets = project.parapets
    standing = sum(one.existing is not None for one in parapets)
    described = sum(is_described(one) for one in parapets)
    parts = [many(len(parapets), "parapet")]
    if standing:
        parts.append("standing" if standing == len(parapets) else f"{standing} standing")
    parts.append("described" if described == len(parapets) else f"{described or 'none'} described so far")
    return ", ".join(parts)


def is_described(parapet: Parapet) -> bool:
    """Whether more is known of a parapet than the wall behind its layers."""
    return any(part.role != "framing" for part in parapet.components())


def _drawn(desk: Desk, base: str) -> Iterator[Drawn]:
    for one in desk.assessment.project.parapets[:MOST_DRAWN]:
        picture = picture_of(desk.assessment, one.name)
        if picture is not None:
            link = partial(address, base, one.name, anchor=FIELDS)
            marks = marks_of(desk.assessment.findings, one.name)
            yield Drawn(one.name, address("", one.name), picture_svg(picture, link, "", marks))


def _open_facts(desk: Desk) -> Iterator[OpenFact]:
    one = desk.assessment
    for each in sorted(unknowns(one), key=lambda each: each.field.to_issue or each.what == "project"):
        who, _ = who_answers(one, each)
        yield OpenFact(question_words(each, one.practice), each.parapets, who, _link(desk, each))


def _link(desk: Desk, each: Unknown) -> str:
    """The field that answers it; the wall where a whole part is open."""
    if not each.parapets:
        return f"facts#{FieldAddress(each.what, each.field.name).id}"
    name = each.parapets[0]
    if each.role:
        return address("", name)
    wall = next(one for one in desk.assessment.project.parapets if one.name == name)
    record = dict(records_at(wall)).get(address_of(name) + each.at)
    if isinstance(record, Component):
        at = FieldAddress(COMPONENT, each.field.name, name, record.id)
        return address("", name, record.id, at.id)
    return address("", name, anchor=FieldAddress(each.what, each.field.name, name).id)


def _next(desk: Desk, counts: dict[str, int], open_: int) -> Iterator[NextStep]:
    project, practice = desk.assessment.project, desk.assessment.practice
    bare = [one for one in project.parapets if not is_described(one)]
    if bare:
        yield NextStep(
            f"The layers of {bare[0].name} are not described yet.",
            "start/proposals",
            "Propose walls from the facts",
        )
        yield NextStep(
            "Or describe them yourself, part by part.", address("", bare[0].name), "Describe the wall"
        )
    if counts["defect"] or counts["risk"]:
        found = ", ".join(many(counts[word], word) for word in ("defect", "risk") if counts[word])
        yield NextStep(f"{found} stand against the wall.", "findings", "See why, and what would mend them")
    if open_:
        left = f"{many(open_, 'fact')} {'is' if open_ == 1 else 'are'} left open."
        yield NextStep(left, "facts", "Answer what you know")
    wanted = list(wanted_to_issue(project, practice))
    if wanted:
        yield NextStep(
            "No paper is issued before the project says what papers bear.", "facts", "Fill that in"
        )
    elif not bare:
        yield NextStep("The sections are written.", "sections", "Read and print them")
