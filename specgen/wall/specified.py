"""What a requirement may stand for where nobody has stated a value yet.

A value that is not stated, is not said to be unknown and has a requirement is left to the sections: they print it, the
checklist asks for it, and the submittal or the site proves it. What stays of a standing wall was built by others; no
requirement tells what it is.
"""

from __future__ import annotations

from specgen.model.project import Component, Parapet, Project, Record, Transition, Value
from specgen.practice.entries import Practice
from specgen.wall.place import Place
from specgen.wall.plausible import doubt

ADDED = "repair_adds"


def specifiable(
    project: Project, parapet: Parapet, practice: Practice, record: Record, name: str, limit: Value
) -> bool:
    """Whether a requirement may stand for a value of a record of this parapet.

    A limit that the kind of a component is not expected to meet stands for nothing: it asks for another kind.
    """
    return (
        record.open_to_requirements(name)
        and new_work(project, parapet, practice, record)
        and not doubt(practice, record, name, limit)
    )


def left_open(place: Place, part: Component, *names: str) -> bool:
    """Whether nothing is stated of any of these values of a part that is still to be built."""
    nothing = all(part.open_to_requirements(one) or one in part.specified for one in names)
    return nothing and new_work(place.project, place.parapet, place.practice, part)


def new_work(project: Project, parapet: Parapet, practice: Practice, record: Record) -> bool:
    """Whether a component, joint or place is still to be built to the sections.

    That is all of a new wall, and of a standing one what its repairs put in; nothing where products are reviewed in
    the wall or what was built is audited.
    """
    if project.stated_only:
        return False
    if parapet.existing is None:
        return True
    if isinstance(record, Transition):
        ends = (parapet.by_id(one) for one in (record.first, record.second))
        return any(part is not None and new_work(project, parapet, practice, part) for part in ends)
    repairs = {one.word("what") for one in parapet.existing.repairs}
    rows = practice.table(ADDED).where(role=record.what) if isinstance(record, Component) else ()
    return any(row["repair"] in repairs for row in rows)
