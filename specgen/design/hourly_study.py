"""Years of hours through the cuts of a parapet: what happens at each leak, how much leakage it forgives, how sure it is.

Seconds a run, some tens of runs a parapet: it runs when asked, and what it found is kept under the key of `read`.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from specgen.arrays import np
from specgen.design.facing import leave_out
from specgen.design.hourly_cuts import Cut, cuts
from specgen.design.hourly_faces import WallFaces, wall_faces
from specgen.design.hourly_faces import years as years_in_row
from specgen.design.hourly_rain import SEED, SEEDS
from specgen.design.hourly_years import Limits, Years, across, course, drying, gap_wind, judged, march_years
from specgen.design.hygric_materials import End, varied
from specgen.design.hygric_sheet import HYGRIC
from specgen.design.worksheet import Worksheet
from specgen.model.hourly import CutHours, HourlyResult, LeakRun
from specgen.model.project import Parapet, Project
from specgen.physics.heat_moisture.compiled import program_sum
from specgen.physics.heat_moisture.convergence import ORDER, Compared
from specgen.physics.heat_moisture.grid import Gap, Layer
from specgen.physics.largest_share import largest_share
from specgen.practice.entries import Practice
from specgen.units.counted import many

FORMAT: Final = 3
"""Of what a study does: counted up when its steps change, so that what was kept before is stale."""
SPAN: Final = 2
"""Years over which runs are held against each other."""
ENDS: Final[tuple[End, End]] = ("low", "high")


@dataclass(frozen=True, eq=False)
class Read:
    """What a study reads: its cuts, limits and words, under their key."""

    work: Worksheet
    cuts: tuple[Cut, ...]
    faces: tuple[WallFaces, ...]
    limits: Limits
    key: str


def read(
    project: Project,
    parapet: Parapet,
    practice: Practice,
    years: int,
    work: Worksheet | None = None,
    seed: int = SEED,
) -> Read:
    """Everything that a study needs, written on a sheet; ``seed`` is that of rain made from monthly depths.

    Raises:
        Unknown: a value is missing; the sheet names it.
        PhysicsError: one is out of range.
    """
    sheet = work or Worksheet("hourly moisture", "", project, parapet, practice, "", [])
    if project.weather is None:
        raise sheet.stop("site.weather: a weather file of hours")
    made: dict[int, WallFaces] = {}
    in_row = years_in_row(project.weather, years)
    for one in in_row:
        if id(one) not in made:
            # The sheet shows the first year; of later ones it takes over what is missing and what is left out.
            own = Worksheet(
                sheet.subject, "", project, parapet, practice, "", sheet.leaves_out, missing=sheet.missing
            )
            made[id(one)] = wall_faces(own if made else sheet, one, seed=seed)
    if len(made) > 1:
        names = ", ".join(dict.fromkeys(one.name for one in in_row))
        leave_out(
            sheet,
            f"Weather of {many(len(made), 'year')} in a row: {names}. Rain and sky above are the first's.",
        )
    faces = tuple(made[id(one)] for one in in_row)
    sections = cuts(sheet, faces)
    limits = Limits.of(practice)
    return Read(sheet, sections, faces, limits, sum_of(sections, limits, years))


def study(
    project: Project,
    parapet: Parapet,
    practice: Practice,
    *,
    years: int = 10,
    tell: Callable[[float], None] = lambda share: None,
) -> HourlyResult:
    """Run a parapet through its years.

    Args:
        project, parapet, practice: as a calculation takes them.
        years: at most so many; fewer where the peaks no longer change.
        tell: takes the share of the work that is done.

    Raises:
        Unknown: a value is missing.
        PhysicsError: a value is out of range, or the wall cannot be solved; it names layer and hour.
    """
    found = read(project, parapet, practice, years)
    made_rain = any(one.year.seed is not None for one in found.faces)
    others = (
        [read(project, parapet, practice, SPAN, seed=seed).cuts for seed in SEEDS[1:]] if made_rain else []
    )
    done = []
    for number, cut in enumerate(found.cuts):

        def part(share: float, number: int = number) -> None:
            tell((number + share) / len(found.cuts))

        rained = [one[number] for one in others]
        done.append(_cut(cut, rained, found.limits, practice, part))
    notes = tuple(found.work.leaves_out)
    names = ", ".join(dict.fromkeys(one.year.weather.name for one in found.faces))
    rain = "; ".join(dict.fromkeys(one.year.basis for one in found.faces))
    return HourlyResult(parapet.name, found.key, years, names, rain, tuple(done), notes)


def _cut(
    cut: Cut, rained: Sequence[Cut], limits: Limits, practice: Practice, tell: Callable[[float], None]
) -> CutHours:
    """One cut; ``rained`` are the same under other hours of rain, where these are made."""
    runs: dict[float, LeakRun] = {}
    kept: dict[float, Years] = {}
    count = 0

    def run(share: float) -> LeakRun:
        nonlocal count
        if share not in runs:
            kept[share] = march_years(cut, share, limits)
            runs[share] = judged(cut, share, kept[share], limits)
            count += 1
            tell(min(0.9, count / 12.0))
        return runs[share]

    run(0.0)
    most = largest_share(lambda share: run(round(share, 6)).holds, 0.0, limits.most_leak, limits.leak_step)
    uncertainty = _uncertainty(cut, rained, limits, practice)
    tell(0.95)
    half, left = drying(cut, limits)
    layers, profile = across(kept[0.0])
    tell(1.0)
    return CutHours(
        cut.name,
        sum(share for _, share in cut.always),
        cut.leak_words,
        tuple(runs[share] for share in sorted(runs)),
        most.share,
        most.outcome == "holds at the highest",
        half,
        uncertainty,
        course(cut, kept[0.0]),
        layers,
        profile,
        left,
    )


def _uncertainty(cut: Cut, rained: Sequence[Cut], limits: Limits, practice: Practice) -> Mapping[str, float]:
    """How far moisture and mold move: cells and steps, ranges of materials, other rain, other air in a closed gap."""

    def run(one: Cut, finer: int = 1) -> LeakRun:
        return judged(
            one, 0.0, march_years(one, 0.0, limits, finer=float(finer), steps=finer, most=SPAN), limits
        )

    base = run(cut)
    moved = {
        "grid": [_extrapolated(_apart(base, run(cut, 2)))],
        "material": [],
        "rain": [_apart(base, run(one)) for one in rained],
        "air": [_apart(base, run(cut.with_air(changes))) for changes in limits.airs] if cut.closed else [],
    }
    known = {row["material"] for row in practice.table(HYGRIC).rows}
    for part, material in cut.materials.items():
        for end in ENDS if material.name in known else ():
            for variant in varied(practice, material, end):
                moved["material"].append(_apart(base, run(cut.with_material(part, variant.material))))
    return {
        f"{what} {of}": max(pair[at] for pair in pairs)
        for what, pairs in moved.items()
        if pairs
        for at, of in enumerate(("moisture", "mold"))
    }


def _extrapolated(apart: tuple[float, float]) -> tuple[float, float]:
    """What half the cells and steps leave open in turn: how far the limit of ever finer ones is (Richardson)."""
    moisture, mold = (Compared("", "", 0.0, one, ORDER).uncertainty for one in apart)
    return moisture, mold


def _apart(one: LeakRun, other: LeakRun) -> tuple[float, float]:
    """Largest difference of moisture by mass [-] and of the mold index between two runs."""
    pairs = list(zip(one.places, other.places, strict=True))
    moisture = [abs((a.moisture_peak or 0.0) - (b.moisture_peak or 0.0)) for a, b in pairs]
    return max(moisture, default=0.0), max((abs(a.mold_peak - b.mold_peak) for a, b in pairs), default=0.0)


def sum_of(sections: Sequence[Cut], limits: Limits, years: int) -> str:
    """The sum of all arrays to seven digits, so that another machine's last bits change nothing."""
    summed = hashlib.sha256(f"{FORMAT} {program_sum()} {years} {limits}".encode())

    def add(*arrays: object) -> None:
        for one in arrays:
            summed.update((np.asarray(one, dtype=np.float32) + np.float32(0.0)).tobytes())

    for cut in sections:
        summed.update(
            repr((cut.name, cut.always, cut.leak, cut.leak_words, cut.places, cut.start, cut.roomy)).encode()
        )
        for part in cut.parts:
            if isinstance(part, Gap):
                summed.update(repr(part).encode())
            else:
                _add_layer(part, summed, add)
        seen: set[int] = set()
        for year in cut.years:
            if id(year.rain) in seen:
                continue
            seen.add(id(year.rain))
            add(year.rain, year.month, *gap_wind(cut, year).values())
            for face in (year.outside, year.inside, *((year.room,) if cut.roomy else ())):
                add(
                    face.air_c,
                    face.vapor_pa,
                    face.convection,
                    face.vapor_film,
                    face.sun,
                    face.longwave,
                    face.rain,
                )
                add(face.emittance)
    return summed.hexdigest()


def _add_layer(part: Layer, summed: hashlib._Hash, add: Callable[..., None]) -> None:
    summed.update(part.name.encode())
    material = part.material
    add(part.thickness, material.heat, material.vapor_exponent)
    add(material.water, material.liquid, material.vapor, material.conductivity)
