"""The keyed notes: every part and lap with its size, the requirement on it and the paragraph that states it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from specgen.drawing.frame import Frame, laps_of
from specgen.drawing.levels import Levels
from specgen.drawing.materials import MEMBRANES
from specgen.drawing.sizes import Job, Size
from specgen.model.project import Component, Transition
from specgen.model.requirement import Requirement
from specgen.sections import division
from specgen.sections.build import ParagraphRef
from specgen.sections.words import requirement_words
from specgen.units.quantity import Quantity
from specgen.wall.order import lapping_screed

# The sizes a detail is read for, first things first.
WANTED = (
    "depth",
    "thickness",
    "top_fastener_spacing",
    "through_fastener_spacing",
    "height",
    "outer_leg",
    "outer_drip",
    "inner_leg",
    "each_side",
    "flange",
    "slope",
)
MOST_LINES = 2
LAP_REQUIREMENTS = {"barrier": "flashing.lap_barrier", "roof turn-up": "flashing.lap_turnup"}
CAUTIONS = (
    "Local codes and the authority having jurisdiction govern. Structural, wind, and fire values are for the design "
    "professional of record to confirm.",
    "Provide fall protection before any work at the roof edge.",
)


@dataclass(frozen=True)
class Note:
    """One keyed note: its key, its first line, and the lines under it."""

    key: str
    shape: Literal["circle", "diamond"]
    head: str
    lines: tuple[str, ...] = ()


def part_keys(job: Job) -> Mapping[str, str]:
    """The number of each component: its step in the order of work; what has no order follows."""
    done = [step.component for step in job.order.steps]
    rest = [part.id for part in job.parapet.components() if part.id not in done]
    return {name: str(number) for number, name in enumerate([*done, *rest], 1)}


def part_notes(
    job: Job, frame: Frame, levels: Levels, where: Mapping[str, ParagraphRef], shown: Iterable[str]
) -> tuple[Note, ...]:
    """A note for each component on the sheet, in the order of their keys.

    Args:
        job: the parapet.
        frame: gives the sizes of the layers.
        levels: gives the sizes of what lies on the wall.
        where: the paragraph of each requirement.
        shown: the components that are drawn.
    """
    keys, drawn = part_keys(job), set(shown)
    sizes = {strip.name: strip.size for strip in frame.strips if strip.part is not None}
    sizes |= {course.part.id: course.size for course in levels.courses if course.part.role != "top flashing"}
    if levels.turn_up is not None and (part := job.parapet.part("roof turn-up")) is not None:
        sizes[part.id] = levels.turn_up
    parts = sorted(job.parapet.components(), key=lambda part: int(keys[part.id]))
    return tuple(
        _part_note(job, part, keys[part.id], sizes.get(part.id), where) for part in parts if part.id in drawn
    )


def _part_note(
    job: Job, part: Component, key: str, size: Size | None, where: Mapping[str, ParagraphRef]
) -> Note:
    """The note of a part; a section's number is said once in it, then the paragraphs alone."""
    kind = next((where[o.id] for o in _of(job, part) if o.attribute == "kind" and o.id in where), None)
    words = part_words(job, part, size)
    lines, section = [], kind.section if kind else ""
    for one in _asked(job, part, where):
        ref = where[one.id]
        place = ref.number if ref.section == section else _place(ref)
        lines.append(f"{one.title} {requirement_words(one, job.practice, job.system)}: {place}")
        section = ref.section
    return Note(key, "circle", f"{words}: {_place(kind)}" if kind else words, tuple(lines))


def part_words(job: Job, part: Component, size: Size | None = None) -> str:
    """A part in words: its name, its kind, its metal and, where it is handed in, its size."""
    role = job.practice.vocabulary.roles[part.role]
    name = part.id if part.id != part.role and len(part.id) < 40 else role.title
    kind = role.kinds[part.kind].title
    words = kind if kind.startswith(name) else f"{name}, {kind}"
    metal = part.word("metal") if "metal" in role.fields else None
    if metal:
        words += f", {metal}"
    if size is not None and not (size.assumed and part.role in MEMBRANES and part.role != "roof turn-up"):
        what = "height" if part.role == "roof turn-up" else "thickness"
        words += f", {what} {size.full}" + (" (assumed)" if size.assumed else "")
    return words


def _of(job: Job, part: Component) -> list[Requirement]:
    return [one for one in job.requirements.of_role(part.role) if one.holds_at(job.parapet.name, part.id)]


def _asked(job: Job, part: Component, where: Mapping[str, ParagraphRef]) -> list[Requirement]:
    """The first requirements on the sizes of a part that a paragraph states."""
    found = [
        one
        for one in _of(job, part)
        if one.attribute in WANTED and isinstance(one.limit.value, Quantity) and one.id in where
    ]
    found.sort(key=lambda one: WANTED.index(one.attribute))
    return found[:MOST_LINES]


def _place(ref: ParagraphRef) -> str:
    return f"{ref.section}, {ref.number}"


@dataclass(frozen=True)
class LapKey:
    """One lap on the sheet: its letter, which lies over which, and the transition that states it."""

    key: str
    upper: Component
    lower: Component
    joint: Transition | None
    size: Size
    order_assumed: bool


def laps_on_sheet(job: Job, levels: Levels) -> tuple[LapKey, ...]:
    """The laps that are drawn: flashing on barrier, flashing on base flashing, barrier on weep screed."""
    parapet, laps = job.parapet, laps_of(job)
    flashing, screed, barrier = (
        parapet.part("top flashing"),
        parapet.part("weep screed"),
        lapping_screed(parapet),
    )
    pairs = (
        (flashing, laps.outer, levels.outer_lap),
        (flashing, laps.roof, levels.roof_lap),
        (barrier, screed, job.lap(job.joint(barrier, screed), "outlet.lap_barrier")),
    )
    found: list[LapKey] = []
    for upper, lower, size in pairs:
        if upper is None or lower is None:
            continue
        joint = job.joint(upper, lower)
        stated = joint.word("upper") if joint else None
        over, under = (lower, upper) if stated == lower.id else (upper, lower)
        found.append(LapKey("ABC"[len(found)], over, under, joint, size, stated is None))
    return tuple(found)


def lap_notes(job: Job, laps: Iterable[LapKey], where: Mapping[str, ParagraphRef]) -> tuple[Note, ...]:
    """A note for each lap: which lies over which, how far, the least lap and its paragraph."""
    return tuple(_lap_note(job, lap, where) for lap in laps)


def _lap_note(job: Job, lap: LapKey, where: Mapping[str, ParagraphRef]) -> Note:
    words = f"{lap.upper.id} over {lap.lower.id}, lap {lap.size.full}" + (
        " (assumed)" if lap.size.assumed else ""
    )
    if lap.order_assumed:
        words += "; which lies on top is assumed"
    lines: list[str] = []
    roles = {lap.upper.role, lap.lower.role}
    name = next((LAP_REQUIREMENTS[r] for r in roles if r in LAP_REQUIREMENTS and "top flashing" in roles), "")
    asked = job.requirements.at(name, job.parapet.name) if name else None
    if asked is not None and asked.id in where:
        lines.append(f"{requirement_words(asked, job.practice, job.system)}: {_place(where[asked.id])}")
    tape = lap.joint.word("tape") if lap.joint else None
    if tape:
        lines.append(f"{tape} between the two")
    if division.stated(job.project):
        role = job.practice.vocabulary.roles[lap.upper.role]
        own = lap.joint.word("made_by") if lap.joint else None
        lines.append(f"made by the {own or role.trade_of(lap.upper.kind)}")
    return Note(lap.key, "diamond", words, tuple(lines))
