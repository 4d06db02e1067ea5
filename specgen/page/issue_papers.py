"""What the papers of an issue are on the page: made once a state, with what stands in the way of issuing them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from specgen.assessment import OpenPointsError
from specgen.intake.comments import comments_beside
from specgen.model.folded import FoldedFinding, folded
from specgen.page.desk import Desk
from specgen.page.field_view import FieldAddress, FieldView
from specgen.page.views.wall import field_at
from specgen.render.outputs import Papers
from specgen.work.papers import fields_to_issue

TYPES = {
    ".docx": "application/vnd.openxmlformats-officedocument.wordprocessingml.document",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    ".json": "application/json",
    ".pdf": "application/pdf",
    ".dxf": "image/vnd.dxf",
    ".svg": "image/svg+xml",
    ".html": "text/html; charset=utf-8",
    ".zip": "application/zip",
}


@dataclass(frozen=True)
class Standing:
    """Whether an issue may go out, and what stands in its way."""

    wanted: tuple[FieldView, ...]  # values that papers bear and nobody stated
    open: tuple[FoldedFinding, ...]  # for which a final issue is refused, or marked on every page

    @property
    def ready(self) -> bool:
        """Whether nothing stands in the way."""
        return not self.wanted and not self.open


def papers_of(desk: Desk) -> Papers:
    """The papers of the state that is shown; where something stands open, each page of a final issue says so."""

    def make() -> Papers:
        spec, path, practice = desk.specification(), desk.path, desk.inputs.practice
        marked = desk.assessment.issuable(True)
        issued = spec if marked is desk.assessment else spec.again(marked.project)
        return Papers(issued, comments=lambda: comments_beside(path, practice))

    return desk.once("papers", make)


def standing_of(desk: Desk) -> Standing:
    """Whether the state that is shown may be issued."""
    one = desk.assessment
    points: Sequence[FoldedFinding] = ()
    try:
        one.issuable(False)
    except OpenPointsError as error:
        points = folded(error.points)
    wanted = (
        field_at(desk, FieldAddress(part, field.name))
        for part, field in fields_to_issue(one.project, one.practice)
    )
    return Standing(tuple(one for one in wanted if one is not None), tuple(points))


def issue_folders(desk: Desk) -> tuple[str, ...]:
    """The folders of the project that hold an issue, by their names."""
    found = (path.parent for path in (*desk.folder.glob("*/issue.json"), *desk.folder.glob("*/*/issue.json")))
    names = sorted(path.relative_to(desk.folder).as_posix() for path in found if path.is_dir())
    return tuple(name for name in names if not name.startswith("."))
