"""The heights of a section: wall top, what lies on it, ends of laps, roof, outlet; zero is the finished roof."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import fsum
from typing import Any

from specgen.drawing.coping import CopingShape, coping_shape
from specgen.drawing.frame import Frame, laps_of
from specgen.drawing.sizes import Job, Size
from specgen.model.project import Component
from specgen.wall.order import roof_side_barrier

DECK = 0.1016  # drawn where no roof deck is described
ROOF_INSULATION = 0.0762
BELOW = 0.080  # of the wall that is shown under the last thing of interest
LEAST_WALL = 0.050


@dataclass(frozen=True)
class Course:
    """One thing that lies on the wall: its under and upper side at the outer and the roof-side edge [m]."""

    part: Component
    size: Size
    under: tuple[float, float]
    upper: tuple[float, float]


@dataclass(frozen=True)
class Levels:
    """Heights above the finished roof [m]."""

    height: Size
    wall_top: float
    courses: tuple[Course, ...]
    coping: CopingShape | None
    coping_low: float
    coping_high: float
    plaster_top: float
    turn_up: Size | None
    turn_up_top: float
    roof_lap_top: float  # upper edge of what the flashing laps on the roof side
    outer_lap: Size
    roof_lap: Size
    outer_lap_end: float
    roof_lap_end: float
    outlet: float
    outlet_assumed: bool
    insulation: Size
    deck: Size
    thermal_break: Size | None
    deck_top: float
    deck_bottom: float
    bottom: float

    @property
    def crown(self) -> tuple[float, float]:
        """Upper side of all courses at the outer and the roof-side edge."""
        return self.courses[-1].upper if self.courses else (self.wall_top, self.wall_top)

    @property
    def top(self) -> float:
        """The highest point."""
        return max(*self.crown, self.coping_high) + 0.005


def levels_of(job: Job, frame: Frame) -> Levels:
    """The heights of one parapet; what is not stated is assumed and says so."""
    height = job.size(job.parapet, "height", "", 1.0)
    if height.value < 2 * LEAST_WALL:
        height = job.assumed(2 * LEAST_WALL)
    courses, shape, stack, rise = _stack(job, frame)
    wall_top = max(height.value - stack - rise, LEAST_WALL)
    courses = tuple(_raised(course, wall_top) for course in courses)
    low = min(courses[-1].upper) if courses else wall_top
    plaster, turn_up = job.parapet.part("plaster"), job.parapet.part("roof turn-up")
    clear = job.stated(plaster, "coping_clearance")
    plaster_top = wall_top - (min(clear.value, wall_top / 2.0) if clear and shape else 0.0)
    tall = job.size(turn_up, "height", "turnup.height", wall_top) if turn_up else None
    turn_up_top = min(tall.value if tall else wall_top, wall_top)
    roof = _roof(job, frame)
    outlet, outlet_assumed = _outlet(job, plaster_top, roof["deck_bottom"])
    laps, flashing = laps_of(job), job.parapet.part("top flashing")
    outer = job.lap(job.joint(flashing, laps.outer), "flashing.lap_barrier")
    inner = job.lap(job.joint(flashing, laps.roof), "flashing.lap_turnup")
    faced = roof_side_barrier(job.parapet) is not None  # the flashing laps the barrier of the roof side
    lowest = min(outlet, roof["deck_bottom"])
    bottom = lowest - BELOW
    return Levels(
        height=height,
        wall_top=wall_top,
        courses=courses,
        coping=shape,
        coping_low=low + frame.film,
        coping_high=_high(shape, low + frame.film, courses, frame),
        plaster_top=plaster_top,
        turn_up=tall,
        turn_up_top=turn_up_top,
        roof_lap_top=wall_top if faced else turn_up_top,
        outer_lap=outer,
        roof_lap=inner,
        outer_lap_end=max(wall_top - outer.value, bottom + 0.02),
        roof_lap_end=max((wall_top if faced else turn_up_top) - inner.value, frame.film),
        outlet=outlet,
        outlet_assumed=outlet_assumed,
        bottom=bottom,
        **roof,
    )


def _stack(job: Job, frame: Frame) -> tuple[tuple[Course, ...], CopingShape | None, float, float]:
    """The courses with the wall top at zero, the coping, and how much of the height they take."""
    first, last = frame.structure
    wide = last - first
    part = job.parapet.part("coping")
    blocking = job.parapet.part("blocking")
    usual = job.practice.quantity("coping.top_thickness").value
    sizes: dict[str, Size] = {}
    for one in job.parapet.top:
        if one.role == "blocking":
            sizes[one.id] = job.size(one, "thickness", "", usual)
        elif one.role == "top insulation":
            sizes[one.id] = job.thickness(one)
        elif one.role == "top flashing":
            sizes[one.id] = Size(frame.film)
    solid = fsum(s.value for s in sizes.values())
    shape = coping_shape(job, part, solid, frame.right - frame.left) if part is not None else None
    stated = blocking.si("slope") if blocking is not None and blocking.has("slope") else None
    fall = min(abs(stated), 1.0) if stated is not None else (shape.fall if shape else 0.0)
    toward = shape.toward if shape else "roof"
    rise = {"roof": (wide * fall, 0.0), "outer face": (0.0, wide * fall)}.get(toward, (0.0, 0.0))
    courses: list[Course] = []
    under = (0.0, 0.0)
    for one in job.parapet.top:
        if one.id not in sizes:
            continue
        thick = sizes[one.id].value
        tilt = rise if one.role == "blocking" and under[0] == under[1] else (0.0, 0.0)
        upper = under[0] + thick + tilt[0], under[1] + thick + tilt[1]
        courses.append(Course(one, sizes[one.id], under, upper))
        under = upper
    over = max(shape.rise(frame.right - frame.left)) if shape else 0.0
    taken = (min(under) + frame.film) if shape else max(under)
    if shape is not None and not shape.metal:
        over += shape.thickness.value
    return tuple(courses), shape, taken, over


def _high(shape: CopingShape | None, low: float, courses: tuple[Course, ...], frame: Frame) -> float:
    """The highest point of the coping: its own slope on metal; on a slab what it lies on, its thickness and slope."""
    if shape is None:
        return low
    rise = max(shape.rise(frame.right - frame.left))
    if shape.toward == "both sides":
        rise = (frame.right - frame.left) / 2.0 * shape.fall
    if shape.metal:
        return low + rise
    return max(courses[-1].upper if courses else (low,)) + frame.film + shape.thickness.value + rise


def _raised(course: Course, by: float) -> Course:
    under = course.under[0] + by, course.under[1] + by
    return replace(course, under=under, upper=(course.upper[0] + by, course.upper[1] + by))


def _roof(job: Job, frame: Frame) -> dict[str, Any]:
    building = job.project.building
    insulation = job.size(building, "roof_insulation_thickness", "", ROOF_INSULATION)
    deck = job.size(building, "roof_deck_thickness", "", DECK)
    deck_top = -insulation.value - frame.film
    return {
        "insulation": insulation,
        "deck": deck,
        "thermal_break": job.stated(job.parapet, "thermal_break"),
        "deck_top": deck_top,
        "deck_bottom": deck_top - deck.value,
    }


def _outlet(job: Job, plaster_top: float, deck_bottom: float) -> tuple[float, bool]:
    """Where the gap opens: by the stated height of the plaster, else at the floor line or below it."""
    stated = job.stated(job.parapet, "plaster_height")
    if stated is not None and stated.value > 2 * LEAST_WALL:
        return plaster_top - stated.value, False
    gap = job.parapet.part("drainage layer")
    past = gap is not None and gap.word("floor_line") == "runs past"
    return deck_bottom - (0.45 if past else 0.0), True
