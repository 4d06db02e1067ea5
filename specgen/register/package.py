"""The state of a package of submittals on one page: what is in, out and late, and where the plasterer can start."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from specgen.assessment import Assessment
from specgen.model.document import Block, Document, Para, Span, Style, Table, framed, properties_of, text
from specgen.register.columns import ASKED, ID, ITEM
from specgen.register.dates import WorkDates
from specgen.register.entries import IF_ANY
from specgen.register.merge import Register, Row
from specgen.register.standing import ENDED, IN_REVIEW, TO_RETURN
from specgen.sections.form_text import FormText
from specgen.units.counted import many

STARTS = ("lath", "plaster")  # the first of them placed; a weep screed goes in with the barrier
LETTER = "compatibility letter"
CLOSED = frozenset(ENDED.values())
_COUNTS = (0.25, 0.25, 0.25, 0.25)
_WALLS = (0.25, 0.25, 0.5)
_BLOCKS = (0.2, 0.08, 0.72)
_LATE = (0.12, 0.4, 0.16, 0.2, 0.12)


@dataclass(frozen=True)
class WallStart:
    """Whether the plasterer can start at a wall: what of the register still stands in the way."""

    parapet: str
    waits_for: tuple[Row, ...]

    @property
    def ready(self) -> bool:
        """Whether nothing stands in the way."""
        return not self.waits_for


def starts(register: Register, assessment: Assessment, dates: WorkDates) -> tuple[WallStart, ...]:
    """Each wall with the action submittals and compatibility letters that must be accepted before the plasterer starts.

    A submittal counts where it holds at the wall and the part before which it is due is placed no later than lath and
    plaster there.

    Args:
        register: brought up to date, for a day.
        assessment: its walls with their order of work.
        dates: which part stands for which role.
    """
    role_of = {part: role for role, part in dates.parts.items()}
    found = []
    for wall in assessment.walls:
        roles = {part.id: part.role for part in wall.parapet.components()}
        steps = [roles[step.component] for step in wall.order.steps]
        first = next((at for at, role in enumerate(steps) if role in STARTS), None)
        if first is None:
            continue
        before = {*steps[: first + 1], *STARTS}
        waiting = tuple(
            row
            for row in register.rows.values()
            if _asks(row)
            and row.get("state") not in CLOSED
            and _holds_at(row, wall.parapet.name)
            and role_of.get(str(row.get("before") or ""), "") in {*before, ""}
        )
        found.append(WallStart(wall.parapet.name, waiting))
    return tuple(found)


def _asks(row: Row) -> bool:
    if row.get(ID) in IF_ANY and row.get("state") == ASKED:
        return False
    return row.get("type") == "action" or str(row.get(ITEM) or "").casefold().startswith(LETTER)


def _holds_at(row: Row, parapet: str) -> bool:
    where = str(row.get("where") or "all")
    return where == "all" or parapet in where.replace(" and ", ", ").split(", ")


def package_page(register: Register, assessment: Assessment, dates: WorkDates, day: date) -> Document:
    """The page as a document, in the words of ``templates/letters/package.yaml``."""
    words, project = FormText("letters/package"), assessment.project
    rows = tuple(register.rows.values())
    blocks = [
        Para(Style.TITLE, text(words("title"))),
        Para(Style.BODY, text(words("opening", project=project.title, day=day.isoformat()))),
        _counts(rows, words),
        *_late(rows, words),
        *_walls(starts(register, assessment, dates), words),
    ]
    about = properties_of(project, words("title"), words("subject"))
    return framed(replace(about, issue_date=day.isoformat()), blocks)


def _counts(rows: Sequence[Row], words: FormText) -> Table:
    done = sum(row.get("state") in CLOSED for row in rows)
    inside = sum(row.get("state") in (IN_REVIEW, TO_RETURN) for row in rows)
    late = sum(bool(row.get("late")) for row in rows)
    cells = (str(done), str(inside), str(len(rows) - done - inside), str(late))
    return Table(words.list("counts"), (cells,), _COUNTS, words("counts_caption"))


def _walls(found: Sequence[WallStart], words: FormText) -> Iterator[Block]:
    yield Para(Style.HEADING, text(words("walls_heading")))
    if not found:
        yield Para(Style.BODY, text(words("no_plaster")))
        return
    table = tuple(
        (
            one.parapet,
            words("yes" if one.ready else "no"),
            words("nothing")
            if one.ready
            else words("count", submittals=many(len(one.waits_for), "submittal")),
        )
        for one in found
    )
    yield Table(words.list("walls"), table, _WALLS, words("walls_heading"))
    rows = {str(row.get("id")): row for one in found for row in one.waits_for}
    if not rows:
        return
    at = {
        key: [one.parapet for one in found if any(row is rows[key] for row in one.waits_for)] for key in rows
    }
    yield Para(Style.HEADING, text(words("blocks_heading")))
    lines: dict[str, list[str]] = {}
    for key, row in rows.items():
        where = "" if len(at[key]) == len(found) else ", ".join(at[key])
        state = "" if row.get("state") == ASKED else str(row.get("state") or "")
        about = "; ".join(filter(None, (state, where)))
        line = f"{row.get('section') or ''} {row.get(ITEM) or ''}" + (f" ({about})" if about else "")
        lines.setdefault(str(row.get("waiting") or ""), []).append(line.strip())
    listed = tuple((whom, str(len(each)), "; ".join(each)) for whom, each in sorted(lines.items()))
    yield Table(words.list("blocks"), listed, _BLOCKS, words("blocks_heading"))


def _late(rows: Sequence[Row], words: FormText) -> Iterator[Block]:
    late = sorted((row for row in rows if row.get("late")), key=lambda row: -int(str(row["late"])))
    yield Para(Style.HEADING, text(words("late_heading")))
    if not late:
        yield Para(Style.BODY, (Span(words("no_late"), "strong"),))
        return
    table = tuple(
        (
            str(row.get("section") or ""),
            str(row.get(ITEM) or ""),
            str(row.get("state") or ""),
            str(row.get("waiting") or ""),
            many(int(str(row["late"])), "day"),
        )
        for row in late
    )
    yield Table(words.list("late"), table, _LATE, words("late_heading"))
