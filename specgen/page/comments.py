"""The comments beside the project as the page shows them: read when their file has changed, counted by their object."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from urllib.parse import quote, urlencode

from specgen.explain.commented import open_counts
from specgen.files.marks import InputError
from specgen.intake.comments import FILE_NAME, comments_beside
from specgen.model.comment import About, Comment
from specgen.model.document import numbered
from specgen.page.desk import Desk
from specgen.page.field_view import COMPONENT, FieldAddress
from specgen.page.places import paragraph_place, wall_place
from specgen.sections.build import ParagraphRef
from specgen.work.comments import Beside


def beside(desk: Desk) -> Beside:
    """The file of comments of the project that is open."""
    return Beside(desk.path, desk.inputs.practice)


def comments_of(desk: Desk) -> tuple[Comment, ...]:
    """The comments as they are in the file now; it is read again where it has changed.

    Raises:
        InputError: carries every problem of the file.
    """
    held: dict[object, tuple[Comment, ...]] = desk.once("comments read", dict)
    path = desk.folder / FILE_NAME
    stat = path.stat() if path.is_file() else None
    state = (stat.st_mtime_ns, stat.st_size, stat.st_ino) if stat else None
    if stat is None or state not in held:
        found = comments_beside(desk.path, desk.inputs.practice)
        held.clear()
        held[state] = found
    return held[state]


def counts_of(desk: Desk) -> Mapping[About, int]:
    """How many comments wait for an answer, by what they are on; none while the file cannot be read.

    The list of comments tells what is wrong with the file.
    """
    try:
        return open_counts(comments_of(desk))
    except InputError:
        return {}


@dataclass(frozen=True)
class FieldCounts(Mapping[FieldAddress, int]):
    """Counts as forms ask for them: by the address of a field, as the file is at that moment."""

    desk: Desk

    def __getitem__(self, at: FieldAddress) -> int:
        return counts_of(self.desk)[about_field(at)]

    def __iter__(self) -> Iterator[FieldAddress]:
        raise TypeError("comments are asked for field by field")

    def __len__(self) -> int:
        return len(counts_of(self.desk))

    def __bool__(self) -> bool:  # comments may come while it is kept
        return True


def about_field(at: FieldAddress) -> About:
    """What a comment on a field is about.

    >>> about_field(FieldAddress("component", "slope", "P-1", "coping")).words
    'slope of coping at parapet P-1'
    >>> about_field(FieldAddress("site", "wind_speed")).words
    'wind_speed of site'
    """
    return About(value=at.key, of=at.place or ("" if at.parapet else at.record), parapet=at.parapet)


def new_place(about: About) -> str:
    """The address of the view on which a thing is commented.

    >>> new_place(About(section="07 71 00", paragraph="drip"))
    'comments/new?section=07+71+00&paragraph=drip'
    """
    return f"comments/new?{urlencode(about.named)}"


def finding_place(code: str, parapet: str = "") -> str:
    """The address of what a rule found, at a parapet where one is named."""
    at = f"?{urlencode({'parapet': parapet})}" if parapet not in ("", "all") else ""
    return f"findings/{quote(code, safe='')}{at}"


def place_of(desk: Desk, about: About) -> str:
    """Where the page shows what a comment is on; "" where it is gone."""
    if about.kind == "finding":
        return finding_place(about.finding, about.parapet)
    if about.kind == "paragraph":
        for section in desk.specification().sections:
            for one in numbered(section.document.blocks) if section.number == about.section else ():
                if one.para.key == about.paragraph:
                    return paragraph_place(ParagraphRef(section.number, one.number, one.para.key))
        return ""
    if not about.parapet:
        return f"facts#{FieldAddress(about.of, about.value).id}"
    wall = next((one for one in desk.assessment.project.parapets if one.name == about.parapet), None)
    if wall is not None and wall.by_id(about.of) is not None:
        part = FieldAddress(COMPONENT, about.value, about.parapet, about.of)
        return f"{wall_place(about.parapet, about.of)}#{part.id}"
    return f"{wall_place(about.parapet)}#{FieldAddress('parapet', about.value, about.parapet).id}"
