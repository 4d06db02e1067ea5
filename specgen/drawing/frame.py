"""The strips of a wall from its outer face to its roof side, each with the place it is drawn at."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import fsum

from specgen.drawing.materials import MEMBRANES
from specgen.drawing.near import SAME_M
from specgen.drawing.sizes import Job, Size
from specgen.model.project import Component
from specgen.wall.order import roof_side_barrier

SHEET_MEMBRANE = 0.8  # a membrane and its clearance, millimeters of the sheet
SHEET_LEAST = {"drainage layer": 2.0}
SHEET_LAYER = 1.2
EMBEDDED = frozenset({"lath"})  # lies in the plaster
GIVEN_SLACK = 0.005  # a stated thickness within 5 mm of the layers' is theirs


@dataclass(frozen=True)
class Strip:
    """One strip: a layer, the room of a lap, or room nobody has described (then without a part)."""

    name: str  # component id; "outer lap", "roof lap", "outer tape", "roof tape", "space"
    x0: float
    x1: float
    size: Size
    part: Component | None = None
    enlarged: bool = False

    @property
    def middle(self) -> float:
        """Half way through."""
        return (self.x0 + self.x1) / 2.0


@dataclass(frozen=True)
class Frame:
    """The strips from the outside in. ``core`` is the place of the strip that carries the wall."""

    strips: tuple[Strip, ...]
    core: int
    true_m: float  # thickness without enlargement
    stated: Size | None
    film: float  # how thick a membrane is drawn [m]
    clear: float = 0.0  # how much farther out the coping stands in a wall pulled apart [m]

    def named(self, name: str) -> Strip | None:
        """The strip of that name."""
        return next((strip for strip in self.strips if strip.name == name), None)

    @property
    def left(self) -> float:
        """The outer face."""
        return self.strips[0].x0 if self.strips else 0.0

    @property
    def right(self) -> float:
        """The roof-side face."""
        return self.strips[-1].x1 if self.strips else 0.0

    @property
    def core_face(self) -> float:
        """Where the strip that carries the wall begins, from the outside."""
        return self.strips[self.core].x0 if self.strips else 0.0

    @property
    def displaced(self) -> float:
        """How far enlarged strips move the faces apart [m]."""
        return max(0.0, self.right - self.left - self.true_m)

    @property
    def structure(self) -> tuple[float, float]:
        """From the outer to the roof-side face of what the top stands on: sheathing and framing."""
        solid = [s for s in self.strips if s.part is not None and s.part.role in ("sheathing", "framing")]
        if not solid:
            return self.left, self.right
        return solid[0].x0, solid[-1].x1


@dataclass(frozen=True)
class Laps:
    """What the top flashing laps on each side, and whether a tape lies between or it is laid below the other."""

    outer: Component | None
    roof: Component | None
    outer_tape: Component | None
    roof_tape: Component | None
    outer_below: bool
    roof_below: bool


def laps_of(job: Job) -> Laps:
    """The two laps of the top flashing, as the transitions state them."""
    flashing = job.parapet.part("top flashing")
    sides: dict[str, tuple[Component | None, Component | None, bool]] = {}
    facing = roof_side_barrier(job.parapet)
    for role in ("barrier", "roof turn-up"):
        partners = tuple(part for part in job.parapet.all_of(role) if part is not facing)
        if facing is not None and role == "roof turn-up":
            partners = (facing,)  # it stands above a low base flashing, and the flashing laps it
        joined = [part for part in partners if job.joint(flashing, part) is not None]
        partner = next(iter(joined or partners), None)
        joint = job.joint(flashing, partner)
        tape = job.parapet.by_id(joint.word("tape") or "") if joint else None
        if tape is not None and tape.role != "bridging tape":
            tape = None
        below = bool(joint and partner and joint.word("upper") == partner.id)
        sides[role] = partner, tape, below
    (barrier, outer_tape, outer_below), (turn_up, roof_tape, roof_below) = sides.values()
    return Laps(barrier, turn_up, outer_tape, roof_tape, outer_below, roof_below)


def frame_of(job: Job, factor: float) -> Frame:
    """The strips of a wall, drawn at a factor (meters of the wall to a meter of the sheet).

    A membrane, a gap and a thin board get the least width that can be read on the sheet; what lies outside them
    moves outward by as much. A stated thickness that the layers do not fill leaves a space behind the framing.
    """
    unit = factor / 1000.0
    film = SHEET_MEMBRANE * unit
    roles = job.practice.vocabulary.roles
    layers = [p for p in job.parapet.build_up if not roles[p.role].edge and p.role not in EMBEDDED]
    sizes = _sizes(job, layers)
    core = _core(layers)
    true = fsum(size.value for size in sizes)
    stated = job.stated(job.parapet, "thickness")
    blank = stated.value - true if stated else 0.0
    laps = laps_of(job)
    has_flashing = job.parapet.part("top flashing") is not None
    listed: list[tuple[str, float, Size, Component | None]] = []
    for number, (part, size) in enumerate(zip(layers, sizes, strict=True)):
        films = (
            2.0 if part.role == "barrier" and job.parapet.part("weep screed") else 1.0
        )  # it runs over a flange
        least = films * film if part.role in MEMBRANES else SHEET_LEAST.get(part.role, SHEET_LAYER) * unit
        own = (part.id, max(size.value, least), size, part)
        listed += _with_laps(own, part, laps, film) if has_flashing else [own]
        if number == core and blank > GIVEN_SLACK:
            listed.append(("space", blank, Size(blank, False, job.shown(blank)), None))
    if has_flashing:
        listed = _bare_laps(listed, laps, film)
    strips = _placed(listed)
    place = next((n for n, s in enumerate(strips) if core < len(layers) and s.part is layers[core]), 0)
    return Frame(strips, place, max(true, stated.value if stated else 0.0), stated, film)


def _sizes(job: Job, layers: Iterable[Component]) -> list[Size]:
    """Thicknesses; what is not stated shares what a stated total leaves, where that is more than nothing."""
    layers = list(layers)
    found = [job.thickness(part) for part in layers]
    stated = job.stated(job.parapet, "thickness")
    open_ones = [
        n for n, (p, s) in enumerate(zip(layers, found, strict=True)) if s.assumed and p.role not in MEMBRANES
    ]
    if stated is None or len(open_ones) != 1:
        return found
    left = stated.value - fsum(size.value for n, size in enumerate(found) if n not in open_ones)
    if left > GIVEN_SLACK:
        found[open_ones[0]] = job.assumed(left)
    return found


def _core(layers: list[Component]) -> int:
    for role in ("framing", "sheathing"):
        for number, part in enumerate(layers):
            if part.role == role:
                return number
    return max(len(layers) // 2, 0)


def _with_laps(
    own: tuple[str, float, Size, Component | None], part: Component, laps: Laps, film: float
) -> list[tuple[str, float, Size, Component | None]]:
    """A layer with the room of the flashing that laps it: outside of it, or behind it where it lies below."""
    if part is laps.outer:
        room = [_room("outer lap", film), *([_room("outer tape", film)] if laps.outer_tape else [])]
        return [own, *reversed(room)] if laps.outer_below else [*room, own]
    if part is laps.roof:
        room = [*([_room("roof tape", film)] if laps.roof_tape else []), _room("roof lap", film)]
        return [*reversed(room), own] if laps.roof_below else [own, *room]
    return [own]


def _bare_laps(
    listed: list[tuple[str, float, Size, Component | None]], laps: Laps, film: float
) -> list[tuple[str, float, Size, Component | None]]:
    """Room for the legs of a flashing on a side where it has nothing to lap: on the structure."""
    solid = [
        n for n, (_, _, _, p) in enumerate(listed) if p is not None and p.role in ("sheathing", "framing")
    ]
    first, last = (solid[0], solid[-1]) if solid else (0, len(listed) - 1)
    out = list(listed)
    if laps.roof is None:
        out.insert(last + 1, _room("roof lap", film))
    if laps.outer is None:
        out.insert(first, _room("outer lap", film))
    return out


def _room(name: str, film: float) -> tuple[str, float, Size, Component | None]:
    return name, film, Size(0.0), None


def _placed(listed: list[tuple[str, float, Size, Component | None]]) -> tuple[Strip, ...]:
    at, strips = 0.0, []
    for name, wide, size, part in listed:
        strips.append(Strip(name, at, at + wide, size, part, wide > size.value + SAME_M))
        at += wide
    return tuple(strips)


def spread(frame: Frame, step: float) -> Frame:
    """The frame pulled apart: each strip one step farther from the structure than the one before."""
    solid = [
        n
        for n, s in enumerate(frame.strips)
        if s.part is not None and s.part.role in ("sheathing", "framing")
    ]
    first, last = (solid[0], solid[-1]) if solid else (frame.core, frame.core)
    moved, out, inward = list(frame.strips), 0.0, 0.0
    for number in range(first - 1, -1, -1):
        out -= step
        moved[number] = _shifted(moved[number], out)
    for number in range(last + 1, len(moved)):
        inward += step
        moved[number] = _shifted(moved[number], inward)
    return replace(frame, strips=tuple(moved), clear=step)


def _shifted(strip: Strip, by: float) -> Strip:
    return replace(strip, x0=strip.x0 + by, x1=strip.x1 + by)
