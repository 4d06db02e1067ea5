"""What the hours of real years did in a wall, as it is kept beside a project under the key of all it was made from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

WOOD, GYPSUM, OTHER = "wood", "gypsum", "other"
SORTS = (WOOD, GYPSUM, OTHER)
"""What the moisture content of a place is held against: wood and gypsum by mass, all else by humidity alone."""
MID_HEIGHT, TOP, BELOW = "parapet at mid-height", "top of the parapet", "wall below the roof"
CUTS = (MID_HEIGHT, TOP, BELOW)
SHARE_DIGITS = 6
"""Decimals to which the shares of two runs are told apart."""


@dataclass(frozen=True)
class PlaceHours:
    """One face of a layer, or a layer as a whole, through the years of a run.

    The last year is the one that counts: of several years of weather, the one of the last round that is worst here.

    sort is one of `SORTS`. moisture_peak and moisture_end: of the layer by mass [-], the highest of the last year and
    at its end, None where the layer is neither wood nor gypsum. hours_20, hours_28: hours of the last year above 20 %
    and 28 % by mass. humidity_peak: highest mean of 30 days [-]. mold: greatest index of each year; mold_class, the
    class of the surface. corrosion_hours, freeze_hours, freeze_cycles: of the last year. worst_month: 1 to 12.
    peaks: highest moisture (or humidity) of each year.
    """

    name: str
    layer: str
    sort: str
    moisture_peak: float | None
    moisture_end: float | None
    hours_20: int
    hours_28: int
    humidity_peak: float
    mold: tuple[float, ...]
    mold_class: str
    corrosion_hours: int
    freeze_hours: int
    freeze_cycles: int
    worst_month: int
    peaks: tuple[float, ...]

    @property
    def mold_peak(self) -> float:
        """Greatest mold index of all years [-], 0 to 6."""
        return max(self.mold, default=0.0)


@dataclass(frozen=True)
class LeakRun:
    """One run of a cut with a share of the rain let in past the barrier [-], beside what always reaches its face.

    holds: whether the criterion holds: mold below its index at every place behind the barrier, no wood above decay in
    the last year or wet for most of it, none above the limit of wet wood that still gets wetter from year to year.
    years that were run; growing, whether the peaks still grew from the last year but one to the last. taken, drained:
    water that the leak left in the wall and that ran off, a year [kg/m²]. mass_error, heat_error: what the balances
    leave open over what passed [-].
    """

    share: float
    years: int
    growing: bool
    places: tuple[PlaceHours, ...]
    taken: float
    drained: float
    mass_error: float
    heat_error: float
    holds: bool

    @property
    def mold_peak(self) -> float:
        """Greatest mold index of all places [-]."""
        return max((one.mold_peak for one in self.places), default=0.0)


@dataclass(frozen=True)
class AcrossLayer:
    """A layer of a cut as its map over depth and time has it: thickness [m], and that of each of its rows [m].

    A sheet, or a gap, that holds no water has no rows.
    """

    name: str
    thickness: float
    rows: tuple[float, ...] = ()


@dataclass(frozen=True)
class CutHours:
    """One cut: its runs by share, what it forgives, and how exact it is.

    always: share of the rain on the face of the cut that reaches the barrier, or the membrane across the top, in every
    run [-]; the run with the share 0 is the one that the criterion of ASHRAE 160 is held at. leak: where more is let
    in, in words: "of the rain driven onto the plaster, past the barrier into the sheathing". runs: in the order of
    their shares. forgiven: largest share at which the criterion holds [-]; None where it fails without any leak.
    forgiven_all: whether it held at the largest share tried. half_days: days in which half of a stated wetting dries,
    None where it does not within a year. uncertainty: how far mold and moisture move, "grid" by finer cells and steps,
    "material" by the ranges of the materials, "rain" by other hours of made rain, "air" by the air changes of a gap that
    is open at one end. course: by place, the mean of each month of the years of the run without a
    leak past the barrier: moisture by mass of wood and gypsum, else relative humidity [-]. across: its layers from
    outside to inside; profile: of the same run, for every month the mean relative humidity [-] of each row of the layers.
    drying: what is left of the wetting of ``half_days`` at the start and after each day [-].
    """

    cut: str
    always: float
    leak: str
    runs: tuple[LeakRun, ...]
    forgiven: float | None
    forgiven_all: bool
    half_days: float | None
    uncertainty: Mapping[str, float] = field(default_factory=dict)
    course: Mapping[str, tuple[float, ...]] = field(default_factory=dict)
    across: tuple[AcrossLayer, ...] = ()
    profile: tuple[tuple[float, ...], ...] = ()
    drying: tuple[float, ...] = ()

    @property
    def unsure_mold(self) -> float:
        """How far the mold index may be off: the greatest that anything moves it [-]."""
        return max((value for what, value in self.uncertainty.items() if what.endswith("mold")), default=0.0)

    @property
    def holds(self) -> bool:
        """Whether the criterion holds without any leak past the barrier."""
        run = self.at(0.0)
        return run is not None and run.holds

    def at(self, share: float) -> LeakRun | None:
        """The run with a share, or None."""
        return next(
            (one for one in self.runs if round(one.share, SHARE_DIGITS) == round(share, SHARE_DIGITS)), None
        )


@dataclass(frozen=True)
class HourlyResult:
    """The hours of one parapet, kept under ``key``: the sum of all numbers and of the program that made it.

    years: that were asked for at most. weather: names of the files. rain: where their rain is from. notes: what a reader
    must know.
    """

    parapet: str
    key: str
    years: int
    weather: str
    rain: str
    cuts: tuple[CutHours, ...]
    notes: tuple[str, ...] = ()

    def cut(self, name: str) -> CutHours | None:
        """The cut of a name, or None."""
        return next((one for one in self.cuts if one.cut == name), None)
