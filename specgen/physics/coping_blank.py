"""The flat blank of a formed coping: girth, bend lines and angles, and how many come out of a sheet."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, degrees, floor, fsum, hypot, sin

from specgen.physics.errors import OutOfRange, check_range

_LENGTH = (0.0, 5.0, "a coping")


@dataclass(frozen=True)
class Section:
    """Section of a coping: width between its legs, legs down to the drip, drip and hem [m], fall, drip angle.

    fall is rise over run of the top [-], above 0 toward the inner side, below 0 toward the outer; ridge says
    that it falls to both sides from the middle;
    kick_angle is that of the drip from the vertical [rad].
    """

    width_m: float
    outer_m: float
    inner_m: float
    fall: float
    ridge: bool
    kick_m: float
    kick_angle: float
    hem_m: float


@dataclass(frozen=True)
class Bend:
    """One bend: distance from the outer edge of the blank [m], angle turned [deg], name."""

    at_m: float
    turned_deg: float
    name: str


@dataclass(frozen=True)
class Blank:
    """Girth [m], rise of the top [m], bends from the outer edge."""

    girth_m: float
    rise_m: float
    bends: tuple[Bend, ...]


def drip_projection(kick_m: float, kick_angle: float) -> float:
    """How far a drip stands out from its leg, k sin θ [m].

    >>> round(drip_projection(0.02, 3.141593 / 6), 4)
    0.01
    """
    return kick_m * sin(kick_angle)


def coping_blank(section: Section) -> Blank:
    """Girth and bend lines of a coping section.

    girth = 2 (hem + kick) + exterior face + top + interior face, top = √(w² + (w s)²); a top with a ridge has two
    such slopes over w/2. An edge on the high side turns 90° + atan |s|, on the low side 90° − atan |s|.

    Args:
        section: the section that the blank is bent to.

    >>> blank = coping_blank(Section(0.3, 0.1, 0.08, 0.0, False, 0.01, 0.5, 0.01))
    >>> round(blank.girth_m, 4), [round(bend.at_m, 3) for bend in blank.bends]
    (0.52, [0.01, 0.02, 0.12, 0.42, 0.5, 0.51])

    Reference: Plane geometry of the center line; the metal is taken as thin: bend allowance and springback
        are left out.
    """
    for name in ("width_m", "outer_m", "inner_m", "kick_m", "hem_m"):
        check_range(f"{name.removesuffix('_m')} of the coping [m]", getattr(section, name), *_LENGTH)
    check_range("fall of the coping [-]", section.fall, 0.0 if section.ridge else -1.0, 1.0, "to 45 degrees")
    run = section.width_m / 2.0 if section.ridge else section.width_m
    rise = run * abs(section.fall)
    slant = hypot(run, rise)
    tilt = degrees(atan(section.fall))
    kick = degrees(section.kick_angle)
    top: tuple[tuple[float, float, str], ...]
    if section.ridge:
        top = (
            (section.outer_m, 90.0 - tilt, "outer edge"),
            (slant, 2 * tilt, "ridge"),
            (slant, 90.0 - tilt, "inner edge"),
        )
    else:
        top = ((section.outer_m, 90.0 + tilt, "outer edge"), (slant, 90.0 - tilt, "inner edge"))
    turns = (
        (section.hem_m, 180.0, "outer hem"),
        (section.kick_m, kick, "outer drip"),
        *top,
        (section.inner_m, kick, "inner drip"),
        (section.kick_m, 180.0, "inner hem"),
    )
    bends, at = [], 0.0
    for length, turned, name in turns:
        at += length
        bends.append(Bend(at, turned, name))
    return Blank(at + section.hem_m, rise, tuple(bends))


def sheet_yield(girth_m: float, stock_width_m: float) -> tuple[int, float]:
    """Strips side by side in a sheet and the part of its width they use; 0 where the sheet is too narrow.

    >>> sheet_yield(0.4, 1.2), sheet_yield(1.3, 1.2)
    ((3, 1.0), (0, 0.0))
    """
    girth = float(check_range("girth [m]", girth_m, 1e-3, 10.0, "a coping"))
    stock = float(check_range("width of the stock [m]", stock_width_m, 1e-3, 10.0, "a sheet"))
    count = floor(stock / girth * (1.0 + 1e-9))
    return count, min(1.0, count * girth / stock)


@dataclass(frozen=True)
class Run:
    """Equal straight pieces of a run: their count and length [m], and the joints of the whole run."""

    pieces: int
    piece_m: float
    joints: int


def divide_run(length_m: float, special_m: tuple[float, ...], most_m: float, gap_m: float) -> Run:
    """Divide a run into the fewest equal straight pieces between its corner and end pieces.

    n straight and m special pieces leave n + m − 1 joints: n l + (n + m − 1) g = L − Σ special, l ≤ most.

    Args:
        length_m: length of the run [m].
        special_m: lengths that corner and end pieces take from it [m].
        most_m, gap_m: longest piece and joint gap [m].

    Raises:
        OutOfRange: the special pieces do not leave room for a straight piece.

    >>> divide_run(10.0, (), 3.0, 0.0)
    Run(pieces=4, piece_m=2.5, joints=3)
    """
    check_range("length of the run [m]", length_m, 1e-3, 1e4, "a parapet")
    most = float(check_range("longest piece [m]", most_m, 0.1, 20.0, "a sheet metal piece"))
    gap = float(check_range("joint gap [m]", gap_m, 0.0, 0.05, "a sheet metal joint"))
    straight = length_m - fsum(special_m) - gap * (len(special_m) - 1)
    if straight <= gap:
        raise OutOfRange("length left for straight pieces [m]", straight, gap, 1e4, "corner and end pieces")
    pieces = -floor(-(straight / (most + gap)) * (1.0 - 1e-12))
    return Run(pieces, straight / pieces - gap, pieces + len(special_m) - 1)
