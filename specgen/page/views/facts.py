"""The facts of the open project as fields: in groups, and in each what most checks read first."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.model.project import Record
from specgen.page.answer import page, shown
from specgen.page.comments import FieldCounts
from specgen.page.desk import Desk
from specgen.page.field_view import STATED, FieldView
from specgen.page.fields import Fields


@dataclass(frozen=True)
class FactGroup:
    """The fields of one section: those that are shown, and those that nothing stands on yet."""

    name: str
    title: str
    about: str
    fields: tuple[FieldView, ...]
    more: tuple[FieldView, ...]


_GROUPS = (
    ("site", "Site", "What the place brings: code, climate, wind, rain, snow."),
    ("building", "Building", "What the parapet stands on, and what stands behind it."),
    ("project", "Project", "What papers bear, and how they print."),
    (
        "quality",
        "Quality requirements",
        "Times, counts, and warranties that stand for those of the practice.",
    ),
    ("contacts", "Parties and addresses", "Whom letters name."),
)
_WRITTEN_ON_PAPERS = ("project", "contacts")  # of which no check reads much


@shown
def facts(request: Request, desk: Desk) -> Response:
    """Every fact outside the parapets."""
    return page(request, "live/facts.html", groups=fact_groups(desk))


def fact_groups(desk: Desk) -> list[FactGroup]:
    """The sections with their fields, what most checks read first."""
    made = Fields(desk.assessment, comments=FieldCounts(desk))  # no section states a limit of these
    project = desk.assessment.project
    found = []
    for name, title, about in _GROUPS:
        record: Record = project.info if name == "project" else getattr(project, name)
        views = made.of(record)
        if name not in _WRITTEN_ON_PAPERS:
            views = tuple(sorted(views, key=lambda one: (-len(one.findings), -one.checks)))
        near = tuple(one for one in views if name in _WRITTEN_ON_PAPERS or _is_near(one))
        more = tuple(one for one in views if one not in near)
        found.append(FactGroup(name, title, about, near, more))
    return found


def _is_near(one: FieldView) -> bool:
    """Whether something stands on a field: it is stated, a check reads it, or a finding asks for it."""
    return one.way == STATED or bool(one.findings) or one.checks > 0


ROUTES = (Route("/facts", facts),)
