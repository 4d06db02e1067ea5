"""The section of a coping as it is formed: legs, drips, hems and slope, by the calculation of its pieces."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, fsum, sin

from specgen.design import coping_geometry
from specgen.drawing.near import SAME_M
from specgen.drawing.shapes import Point
from specgen.drawing.sizes import FALLBACK_M, Job, Size
from specgen.model.project import Component
from specgen.wall.facts import plaster_covered

LEAST_LEG = 0.020  # a leg shorter than its hem cannot be drawn


@dataclass(frozen=True)
class CopingShape:
    """What the section of a coping is drawn from; lengths [m], fall as rise over run, angle [rad].

    ``outer_face`` and ``inner_leg`` run from the top edge to the drip.
    """

    metal: bool
    fall: float
    toward: str  # roof, outer face, both sides
    outer_drip: Size
    inner_drip: Size
    outer_face: Size
    inner_leg: Size
    kick: float
    angle: float
    hem: float
    thickness: Size
    fall_assumed: bool

    @property
    def projects(self) -> float:
        """How far a drip stands out from its leg."""
        return self.kick * sin(self.angle)

    def rise(self, width: float) -> tuple[float, float]:
        """How far the outer and the inner edge stand above the lower of the two."""
        if self.toward == "roof":
            return width * self.fall, 0.0
        return (0.0, width * self.fall) if self.toward == "outer face" else (0.0, 0.0)


def coping_shape(job: Job, part: Component, blocking: float, width: float) -> CopingShape:
    """The shape of a coping over a wall: from the calculation of its pieces where that has a result.

    Args:
        job: the parapet.
        part: the coping.
        blocking: thickness of what lies between the wall and the coping [m].
        width: of the wall, for the rise where nothing is calculated [m].
    """
    practice = job.practice
    kick, hem, angle = (practice.quantity(f"coping.{key}").value for key in ("kick", "hem", "kick_angle"))
    slope = part.si("slope") if part.has("slope") else None
    fall = min(abs(slope), 1.0) if slope is not None else _asked_fall(job)
    toward = part.word("slope_toward") or "roof"
    calc = coping_geometry.calculate(job.project, job.parapet, practice)
    face, leg = calc.result("outer_face"), calc.result("inner_leg")
    stated = job.stated(part, "outer_face_height")
    high_out, high_in = (width * fall if toward == side else 0.0 for side in ("roof", "outer face"))
    if face is not None and leg is not None:
        computed = _computed(job, face.value, job.sense(part, "outer_leg"))
        outer = stated if stated and stated.value == face.value else computed
        inner = _computed(job, leg.value, job.sense(part, "inner_leg"))
    else:
        outer = stated or _longer(
            job, job.size(part, "outer_leg", "coping.outer_leg", 0.075), blocking + high_out
        )
        inner = _longer(job, job.size(part, "inner_leg", "coping.inner_leg", 0.050), blocking + high_in)
    return CopingShape(
        metal=practice.kind("coping", part.kind).metal,
        fall=fall,
        toward=toward,
        outer_drip=job.size(part, "outer_drip", "coping.outer_drip", 0.025),
        inner_drip=job.size(part, "inner_drip", "coping.inner_drip", 0.025),
        outer_face=outer,
        inner_leg=inner,
        kick=kick,
        angle=angle,
        hem=hem,
        thickness=_thickness(job, part),
        fall_assumed=slope is None,
    )


def _thickness(job: Job, part: Component) -> Size:
    """How thick a top of one piece is: of plaster over a gap, as thick as the face before its gap."""
    face = [one for role in ("plaster", "drainage layer") if (one := job.parapet.part(role))]
    if not plaster_covered(part) or not face:
        return job.assumed(FALLBACK_M["coping"])
    return job.assumed(fsum(job.thickness(one).value for one in face))


def _asked_fall(job: Job) -> float:
    asked = job.requirements.at("coping.slope", job.parapet.name)
    value = getattr(asked.limit.value, "value", None) if asked else None
    return min(abs(float(value)), 1.0) if value is not None else job.practice.quantity("coping.slope").value


def _computed(job: Job, length: float, sense: str) -> Size:
    return Size(length, False, sense + job.shown(length), sense=sense)


def _longer(job: Job, size: Size, more: float) -> Size:
    total = size.value + more
    return Size(total, size.assumed, size.sense + job.shown(total), sense=size.sense)


def folded(shape: CopingShape, left: float, right: float, low: float) -> tuple[Point, ...]:
    """The center line of a formed coping from one hem to the other.

    Args:
        shape: legs, drips, slope.
        left: where the exterior face stands [m].
        right: where the interior face stands.
        low: height of its lower top edge.
    """
    rise_out, rise_in = shape.rise(right - left)
    outer_top, inner_top = low + rise_out, low + rise_in
    outer = leg_points(
        shape, left, outer_top, max(shape.outer_face.value, LEAST_LEG), -1.0, shape.outer_drip.value
    )
    inner = leg_points(
        shape, right, inner_top, max(shape.inner_leg.value, LEAST_LEG), 1.0, shape.inner_drip.value
    )
    ridge: tuple[Point, ...] = ()
    if shape.toward == "both sides":
        ridge = (((left + right) / 2.0, low + (right - left) / 2.0 * shape.fall),)
    return (*reversed(outer), *ridge, *inner)


def leg_points(
    shape: CopingShape, x: float, top: float, long: float, way: float, drip: float
) -> tuple[Point, ...]:
    """A leg from its top edge down to the end of the hem, ``way`` -1 outward; without room for a drip it is flat."""
    if drip < shape.projects - SAME_M:
        return (x, top), (x, top - long), (x - way * shape.hem * 0.25, top - long + shape.hem)
    bend = top - max(long - shape.kick * cos(shape.angle), 0.3 * long)
    tip = (x + way * shape.projects, top - long)
    back = (
        tip[0] - way * (shape.hem * sin(shape.angle) + shape.hem * 0.2),
        tip[1] + shape.hem * cos(shape.angle),
    )
    return (x, top), (x, bend), tip, back
