"""The keys of a picture: a lane at each side, no leader longer or more slanted than it must be."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import fsum

from specgen.drawing.notes import part_keys
from specgen.drawing.piece import Piece, Side
from specgen.drawing.shapes import Bubble
from specgen.drawing.view import View
from specgen.units.compare import computed_at_least, fitting

RADIUS = 4.0  # of a key: where the picture is 330 pixels wide, the keys stand 25 pixels apart
PITCH = 9.2
CLEAR = 1.8  # of a leader beside the lines of a break
CROSSED = 150.0  # what two crossing leaders weigh against the square of a slant [mm²]
Stretch = tuple[float, float]


@dataclass(frozen=True)
class Aim:
    """A key and where its leader may end: at ``x``, on one of some stretches."""

    key: str
    x: float
    stretches: tuple[Stretch, ...]

    def end(self, level: float) -> float:
        """The height at which the leader from a level ends."""
        ends = (min(max(level, low), high) for low, high in self.stretches)
        return min(ends, key=lambda end: (abs(end - level), end))


def part_bubbles(view: View, shut: Sequence[Stretch]) -> Mapping[str, Bubble]:
    """The key of each part, by its number; one that the cut does not meet has no leader, low at the roof side.

    Args:
        view: the wall laid out.
        shut: heights that no key of the roof side stands level with.
    """
    numbers = part_keys(view.job)
    pieces = {piece.name: piece for piece in reversed(view.pieces) if piece.name in numbers}
    left, low, right, high = view.paper.field
    half = view.margins.lane / 2.0
    unmet = [number for name, number in numbers.items() if name not in pieces]
    found: dict[str, Bubble] = {}
    for side, x in (("outer", left + half), ("roof", right - half)):
        aims = [_aim(view, numbers[one.name], one) for one in _balanced(view, pieces) if one.side == side]
        bands = [(low_end - CLEAR, high_end + CLEAR) for low_end, high_end in view.placing.bands]
        closed = (*bands, *(shut if side == "roof" else ()))
        loose = unmet if side == "roof" else []
        places = places_in(low + RADIUS + 0.5, high - RADIUS - 0.5, closed, len(aims) + len(loose))
        levels = arranged(aims, places, x)
        for aim, level in zip(aims, levels, strict=True):
            found[aim.key] = Bubble("key", (x, level), aim.key, (aim.x, aim.end(level)), radius=RADIUS)
        free = (level for level in reversed(places) if level not in levels)
        for number, level in zip(loose, free, strict=False):
            found[number] = Bubble("key", (x, level), number, (x, level), radius=RADIUS)
    return found


def keys_in_lane(view: View) -> int:
    """How many keys the fuller lane holds."""
    numbers = part_keys(view.job)
    pieces = {piece.name: piece for piece in view.pieces if piece.name in numbers}
    sides = [piece.side for piece in _balanced(view, pieces)]
    return max(sides.count("outer"), sides.count("roof") + len(numbers) - len(pieces))


def _balanced(view: View, pieces: Mapping[str, Piece]) -> list[Piece]:
    """The pieces, what lies on the wall pointed at from the side that has fewer keys."""
    found = sorted(pieces.values(), key=lambda one: (-one.low, one.name))
    over = {course.part.id for course in view.levels.courses}
    first, last = view.frame.structure
    sides: list[Side] = [one.side for one in found]
    for at, one in enumerate(found):
        if one.name in over and one.spine and len(one.spine) == 2:
            side: Side = "roof" if sides.count("outer") > sides.count("roof") + 1 else "outer"
            share = 0.35 if side == "outer" else 0.65
            sides[at] = side
            found[at] = replace(one, side=side, x=first + share * (last - first))
    return found


def _aim(view: View, key: str, piece: Piece) -> Aim:
    """Where a leader may end on a piece: above the foot of the picture, not in a break, not on the roof's layers."""
    placing = view.placing
    low, high = sorted((placing.y(piece.low), placing.y(piece.high)))
    inset = min(0.8, (high - low) / 3.0)
    low, high = max(low + inset, placing.y(view.levels.bottom) + 2.0), high - inset
    if piece.high > 0.05 and piece.x > view.frame.core_face:
        low = max(low, placing.y(0.0) + 2.0)
    stretches: list[Stretch] = []
    start = min(low, high)
    for shut_low, shut_high in placing.bands:
        if start < shut_low and shut_high < high:
            stretches.append((start, shut_low - CLEAR))
            start = shut_high + CLEAR
        elif shut_low <= start <= shut_high < high:
            start = shut_high + CLEAR
        elif start < shut_low <= high <= shut_high:
            high = shut_low - CLEAR
    stretches.append((min(start, high), high))
    return Aim(key, min(placing.x(piece.x), view.box[2] - 3.0), tuple(stretches))


def places_in(low: float, high: float, shut: Sequence[Stretch], wanted: int) -> list[float]:
    """The levels of a lane that a key may stand at, from above; closer together where there are more keys than places."""
    free = [at for at in _steps(low, high, PITCH) if not any(a < at < b for a, b in shut)]
    return free if len(free) >= wanted else _steps(low, high, (high - low) / max(wanted - 1, 1))[:wanted]


def _steps(low: float, high: float, pitch: float) -> list[float]:
    return [high - number * pitch for number in range(fitting(high - low, pitch) + 1)]


def arranged(aims: Sequence[Aim], places: Sequence[float], lane: float) -> list[float]:
    """A level for each aim: moved and exchanged as long as leaders slant less or cross less.

    Args:
        aims: what the keys point at.
        places: the levels of the lane, at least as many.
        lane: where on the sheet the keys stand.
    """
    leaders = [[Leader.of(aim, level, lane) for level in places] for aim in aims]
    at = _level_first(aims, places)
    better = True
    while better:
        better = False
        for one, own in enumerate(leaders):
            for place in range(len(places)):
                if not own[at[one]].slant:
                    break
                other = at.index(place) if place in at else None
                if place != at[one] and _lighter(leaders, at, one, place, other):
                    if other is not None:
                        at[other] = at[one]
                    at[one] = place
                    better = True
    return [places[one] for one in at]


def _level_first(aims: Sequence[Aim], places: Sequence[float]) -> list[int]:
    """A place for each aim to begin with: from above, to the part that runs out of room first; the rest in order."""
    waiting = sorted(
        range(len(aims)), key=lambda one: (-aims[one].stretches[0][0], aims[one].stretches[-1][1], one)
    )
    at: dict[int, int] = {}
    for place, level in enumerate(places):
        one = next((one for one in waiting if aims[one].end(level) == level), None)
        if one is not None:
            waiting.remove(one)
            at[one] = place
    free = (place for place in range(len(places)) if place not in at.values())
    at |= dict(zip(sorted(waiting, key=lambda one: (-aims[one].stretches[-1][1], one)), free, strict=False))
    return [at[one] for one in range(len(aims))]


@dataclass(frozen=True)
class Leader:
    """A leader from a level of its lane: how far it reaches, where it ends, and the square of its slant."""

    level: float
    reach: float
    end: float
    slant: float

    @staticmethod
    def of(aim: Aim, level: float, lane: float) -> Leader:
        """The leader of an aim."""
        end = aim.end(level)
        return Leader(level, abs(aim.x - lane) or 1.0, end, (end - level) ** 2)

    def crosses(self, other: Leader) -> bool:
        """Whether two leaders from one lane cross."""
        if not self.slant and not other.slant:
            return False
        reach = min(self.reach, other.reach)
        far = self._height(reach) - other._height(reach)
        return (self.level - other.level) * far < 0.0

    def _height(self, reach: float) -> float:
        return self.level + (self.end - self.level) * reach / self.reach


def _lighter(
    leaders: Sequence[Sequence[Leader]], at: Sequence[int], one: int, place: int, other: int | None
) -> bool:
    """Whether a key is better off at another place, with the key that stands there at its own."""
    before = {one: at[one]} | ({other: place} if other is not None else {})
    after = {one: place} | ({other: at[one]} if other is not None else {})
    slants = [fsum(leaders[n][to].slant for n, to in each.items()) for each in (after, before)]
    if slants[0] > slants[1] + len(before) * len(at) * CROSSED:
        return False
    weights = [
        slant + CROSSED * _crossings(leaders, at, each)
        for slant, each in zip(slants, (after, before), strict=True)
    ]
    return not computed_at_least(weights[0], weights[1])


def _crossings(leaders: Sequence[Sequence[Leader]], at: Sequence[int], moved: Mapping[int, int]) -> int:
    """How often the leaders of moved keys cross others."""
    own = [leaders[one][place] for one, place in moved.items()]
    rest = [leaders[one][place] for one, place in enumerate(at) if one not in moved]
    among = sum(a.crosses(b) for a, b in combinations(own, 2))
    return among + sum(a.crosses(b) for a in own for b in rest)
