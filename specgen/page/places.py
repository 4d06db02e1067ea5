"""Where the page shows what a value, a finding or a paragraph names."""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import quote

from specgen.model.calculation import AT_LIMIT, CalcLine
from specgen.model.project import Component
from specgen.page.desk import Desk
from specgen.page.field_view import COMPONENT, FieldAddress
from specgen.render.document_html import anchor
from specgen.sections.build import ParagraphRef
from specgen.wall.differing import own_records, records_at


def wall_place(parapet: str, part: str = "") -> str:
    """The address of a part of a wall, below the base of the page.

    >>> wall_place("P-1", "top flashing")
    'wall/P-1?part=top%20flashing'
    """
    asked = f"?part={quote(part, safe='')}" if part else ""
    return f"wall/{quote(parapet, safe='')}{asked}"


def paragraph_place(ref: ParagraphRef | None) -> str:
    """The address of a paragraph; "" where none is written."""
    return f"sections/{ref.section.replace(' ', '-')}#{anchor(ref.number)}" if ref else ""


def sheet_place(parapet: str, subject: str) -> str:
    """The address of the sheet of a calculation."""
    return f"calculations/{quote(parapet, safe='')}/{quote(subject)}"


def value_places(desk: Desk, parapet: str) -> Mapping[str, str]:
    """Addresses by the place in the file, of every value of a parapet and of the facts outside the parapets."""

    def made() -> Mapping[str, str]:
        project = desk.assessment.project
        wall = next(one for one in project.parapets if one.name == parapet)
        found = {
            str(record.at(name)): f"facts#{FieldAddress(record.what, name).id}"
            for _, record in own_records(project)
            for name in record.values
        }
        for _, record in records_at(wall):
            part = record.id if isinstance(record, Component) else ""
            where = wall_place(parapet, part)
            kind = COMPONENT if part else record.what
            for name in record.values:
                known = part or record is wall
                field = f"#{FieldAddress(kind, name, parapet, part).id}" if known else ""
                found[str(record.at(name))] = where + field
        return found

    return desk.once(("places of values", parapet), made)


def line_place(desk: Desk, parapet: str, line: CalcLine) -> str:
    """Where an input of a calculation comes from: its value, or the paragraph of its limit; "" for neither."""
    if line.source.startswith(f"{AT_LIMIT}: "):
        asked = line.source.removeprefix(f"{AT_LIMIT}: ")
        return paragraph_place(desk.specification().paragraphs.get(asked))
    return value_places(desk, parapet).get(line.source, "")
