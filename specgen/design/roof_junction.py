"""Heat flow where the roof meets the parapet: two-dimensional, on the real build-up, by finite volumes.

Section, x inward from the outer face, y up from the top of the roof deck. The wall below and the parapet above
are the layers of the build-up; the deck runs through the wall to the outer side of its framing.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from math import fsum

from specgen.design.extras import STUDIES, need_scipy
from specgen.design.junction_layers import THIN, Slab, deck_of, layers_of, roof_of
from specgen.design.progress import tell
from specgen.design.worksheet import GAP, HEIGHT, NUMBER, TEMPERATURE, Unit, Worksheet, calculation
from specgen.model.calculation import CalcTable
from specgen.model.project import Parapet, Project
from specgen.model.source import Source, Status
from specgen.physics.errors import check_range
from specgen.physics.junction2d import (
    Boundary,
    Coupling,
    JunctionField,
    Refinement,
    Region,
    coupling,
    psi_value,
    refine,
    solve_junction,
)
from specgen.practice.entries import Practice

SUBJECT = "roof junction"
TITLE = "Heat flow at the junction of roof and parapet"
ON_REQUEST = True
EXTRA = STUDIES  # without which it has no result
SETS = (
    "psi_inside",
    "psi_outside",
    "lowest_surface",
    "lowest_place",
    "f_rsi",
    "f_rsi_wall",
    "f_rsi_roof",
    "f_rsi_met",
    "f_rsi_bare",
    "psi_inside_bare",
    "f_rsi_break",
    "psi_inside_break",
    "grid_change",
)
LINEAR = Unit("thermal conductivity", "Btu/(h·ft·F)", "W/(m·K)")  # of a linear transmittance: the same unit
TRANSMITTANCE = Unit("heat transfer coefficient", "Btu/(h·ft2·F)", "W/(m2·K)")
STEP = 0.08  # m, first grid step; it is halved twice
METHOD = Source("ISO 10211", "2017", "numerical method and psi-value", Status.STANDARD)
VALIDITY = (
    "Two-dimensional steady heat flow, winter design temperature outside. Homogeneous layers; a framed layer takes "
    "its equivalent conductivity."
)
LEAVES_OUT = (
    "Tracks, ties, anchors and fasteners that cross the section, and the spot at each stud: it is colder there.",
    "The coping and its blocking: the top of the parapet faces outdoor air.",
    "Air that moves behind or through the layers.",
    "Interior finishes: the inner face of the wall below is that of the framing.",
    "Corners of the building, where three surfaces meet and it is colder still.",
    "Sun, wet layers and stored heat.",
)


@dataclass(frozen=True)
class Case:
    """What is modeled.

    wall and behind are the layers up to the framing and behind it, outside to inside; break_m, break_k are a
    thermal break between deck and parapet framing (0: none). Lengths [m], conductivity [W/(m·K)], air [°C].
    """

    wall: tuple[Slab, ...]
    framing: Slab
    behind: tuple[Slab, ...]
    top: tuple[Slab, ...]
    deck: Slab
    roof: Slab
    height_m: float
    flank_m: float
    break_m: float
    break_k: float
    inside_c: float
    outside_c: float
    film_inside: float
    film_ceiling: float  # heat flows upward there
    film_inside_low: float
    film_outside: float


@dataclass(frozen=True)
class Outcome:
    """ψ on inside and outside dimensions [W/(m·K)], lowest inside surface [°C], f_Rsi [-], grid study of L2D.

    lowest_on is the ceiling or the wall, and lowest_off the distance [m] of the lowest temperature from their corner.
    """

    psi_inside: float
    psi_outside: float
    lowest_c: float
    f_rsi: float
    study: Refinement
    lowest_on: str
    lowest_off: float


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """ψ-value and lowest inside surface temperature, as specified, without insulation, and with a thermal break.

    Formulas: ψ = L2D - Σ U l; f_Rsi = (θsi - θe)/(θi - θe) (ISO 10211).

    Given: winter and indoor temperature, roof deck and roof insulation; build-up, height, top insulation, thermal break.
    Of practice: conductivities, surface resistances, the break of the comparison. Unknown where a datum is missing.
    """
    need_scipy(work)
    _report(work, _case(work))


def field_of(project: Project, parapet: Parapet, practice: Practice) -> JunctionField | None:
    """Temperatures of the section on the finest grid for a drawing; None where unknown."""
    work = Worksheet(SUBJECT, TITLE, project, parapet, practice, VALIDITY, list(LEAVES_OUT))
    with work.writing():
        need_scipy(work)
        return _solve(_case(work), STEP / 4.0, low=False)
    return None


def _case(work: Worksheet) -> Case:
    outer, framing, behind, top = layers_of(work)
    work.require(
        "site.temp_winter",
        "building.indoor_temp",
        "parapet.height",
        "building.roof_deck",
        "building.roof_deck_thickness",
        "building.roof_insulation",
        "building.roof_insulation_thickness",
    )
    deck, roof = deck_of(work), roof_of(work)
    break_m = work.input("hb", "parapet.thermal_break") if work.given("parapet.thermal_break") else 0.0
    break_k = 0.0
    if break_m:
        work.require("parapet.thermal_break_conductivity")
        break_k = work.input("λb", "parapet.thermal_break_conductivity")
    assert framing is not None
    height = work.input("hp", "parapet.height")
    # Before the grid is made: a section of a kilometer would fill the memory.
    for slab in (*outer, framing, *behind, *top, deck, roof):
        check_range(
            f"thickness of {slab.name} [m]", slab.thickness_m, THIN / 10.0, 3.0, "a layer of a wall or roof"
        )
    check_range("height of the parapet [m]", height, 0.05, 10.0, "a parapet")
    check_range("height of the thermal break [m]", break_m, 0.0, height + roof.thickness_m, "below its top")
    return Case(
        outer,
        framing,
        behind,
        top,
        deck,
        roof,
        height,
        work.practice_input("l", "junction.flank"),
        break_m,
        break_k,
        work.input("θi", "building.indoor_temp"),
        work.input("θe", "site.temp_winter"),
        work.practice_input("Rsi", "junction.film_inside"),
        work.practice_input("Rsu", "junction.film_ceiling"),
        work.practice_input("Rsi25", "junction.film_inside_low"),
        work.practice_input("Rse", "junction.film_outside"),
    )


def _sum(slabs: tuple[Slab, ...]) -> float:
    return fsum(slab.thickness_m for slab in slabs)


def regions(case: Case) -> tuple[Region, ...]:
    """The section, painted in order."""
    low = -case.flank_m - case.deck.thickness_m
    top = case.roof.thickness_m + case.height_m
    found, x = [], 0.0
    for slab in case.wall:
        found.append(Region(x, x + slab.thickness_m, low, top, slab.conductivity))
        x += slab.thickness_m
    shell = x  # outer side of the framing
    x += case.framing.thickness_m
    found.append(Region(shell, x, low, top, case.framing.conductivity))
    inner = x
    for slab in case.behind:
        found.append(Region(x, x + slab.thickness_m, 0.0, top, slab.conductivity))
        x += slab.thickness_m
    face, end = x, x + case.flank_m
    found.append(Region(face, end, 0.0, case.roof.thickness_m, case.roof.conductivity))
    found.append(Region(shell, end, -case.deck.thickness_m, 0.0, case.deck.conductivity))
    if case.break_m:
        found.append(Region(shell, inner, 0.0, case.break_m, case.break_k))
    y = top
    for slab in case.top:
        found.append(Region(0.0, face, y, y + slab.thickness_m, slab.conductivity))
        y += slab.thickness_m
    return tuple(found)


def _boundaries(case: Case, film_inside: float, film_ceiling: float) -> tuple[Boundary, ...]:
    below = -case.deck.thickness_m
    low, roof = below - case.flank_m, case.roof.thickness_m
    top = roof + case.height_m + _sum(case.top)
    inner = _sum(case.wall) + case.framing.thickness_m
    face = inner + _sum(case.behind)
    end = face + case.flank_m
    out, inside = (case.outside_c, case.film_outside), (case.inside_c, film_inside)
    up = (case.inside_c, film_ceiling)
    return (
        Boundary("outer face", 0.0, low, 0.0, top, *out),
        Boundary("top", 0.0, top, face, top, *out),
        Boundary("roof-side face", face, roof, face, top, *out),
        Boundary("roof", face, roof, end, roof, *out),
        Boundary("ceiling", inner, below, end, below, *up),
        Boundary("wall", inner, low, inner, below, *inside),
    )


def _films(case: Case, low: bool) -> tuple[float, float]:  # inside of the wall and of the ceiling [m²·K/W]
    return (case.film_inside_low,) * 2 if low else (case.film_inside, case.film_ceiling)


def _solve(case: Case, step: float, low: bool) -> JunctionField:
    return solve_junction(regions(case), _boundaries(case, *_films(case, low)), step)


BREAK = ("hb", "junction.break_height"), ("λb", "junction.break_conductivity")
INSIDE, OUTSIDE = ("ceiling", "wall"), ("outer face", "top", "roof-side face", "roof")


@lru_cache(maxsize=512)
def _coupled(case: Case, step: float, low: bool) -> Coupling:
    """The coupling of one case on one grid: what leaves its layers as they are does not solve it anew."""
    return coupling(_solve(case, step, low), INSIDE, OUTSIDE)


WORK = 1.0 + 4.0 + 16.0 + 16.0  # of the three grids, and of the finest once more for the surface temperature


def outcome(case: Case, before: float = 0.0, share: float = 1.0) -> Outcome:
    """ψ-values and surface temperature of one case, on three grids; ψ from the extrapolated L2D.

    It tells how far it is: what of the whole study was done before this case, and this case's share of it.

    Raises:
        PhysicsError: a size or conductivity that cannot be, or scipy is not installed.
    """
    done = 0.0

    def solved(step: float, low: bool) -> Coupling:
        nonlocal done
        found = _coupled(case, step, low)
        done += (STEP / step) ** 2  # the work goes with the number of cells
        tell(before + share * done / WORK)
        return found

    study = refine(lambda step: solved(step, low=False).l2d, STEP)
    cold = solved(STEP / 4.0, low=True)
    inside, outside = (tuple(zip(transmittances(case), run, strict=True)) for run in lengths(case))
    return Outcome(
        psi_value(study.extrapolated, inside),
        psi_value(study.extrapolated, outside),
        cold.lowest_interior_surface_c,
        cold.f_rsi,
        study,
        cold.lowest_on,
        _off_corner(case, cold.lowest_at),
    )


def _off_corner(case: Case, at: tuple[float, float]) -> float:
    """Distance of a place on an inner surface from the corner of wall and ceiling [m]."""
    x, y = at
    inner = _sum(case.wall) + case.framing.thickness_m
    return max(abs(x - inner), abs(y + case.deck.thickness_m))


def plain_factors(case: Case) -> tuple[float, float]:
    """f_Rsi of the wall and of the roof for themselves, away from the junction [-], with the poorer inside surface."""
    wall, roof = (1.0 - case.film_inside_low * u for u in transmittances(case, low=True))
    return wall, roof


def lengths(case: Case) -> tuple[tuple[float, float], tuple[float, float]]:
    """Lengths of wall and roof [m], on inside and on outside dimensions."""
    inner = _sum(case.wall) + case.framing.thickness_m
    face = inner + _sum(case.behind)
    up = case.deck.thickness_m + case.roof.thickness_m
    return (case.flank_m, face + case.flank_m - inner), (case.flank_m + up, face + case.flank_m)


def transmittances(case: Case, low: bool = False) -> tuple[float, float]:
    """U of wall and roof [W/(m²·K)]; ``low``: with the poorer inside surface."""

    def u(slabs: tuple[Slab, ...], film: float) -> float:
        layers = fsum(slab.thickness_m / slab.conductivity for slab in slabs)
        return 1.0 / (film + layers + case.film_outside)

    wall, ceiling = _films(case, low)
    return u((*case.wall, case.framing), wall), u((case.deck, case.roof), ceiling)


def bare(case: Case) -> Case:
    """The same without insulation on the parapet and without a thermal break; the wall below keeps its own."""
    behind = tuple(slab for slab in case.behind if slab.conductivity > INSULATES)
    return replace(case, behind=behind, top=(), break_m=0.0)


CORNER = 0.03  # m, nearer than this a place lies in the corner
ALIKE = 0.005  # of two temperature factors
INSULATES = 0.06  # W/(m·K), most that is counted as insulation


def _place(work: Worksheet, case: Case, found: Outcome) -> str:
    """In words, where the lowest temperature lies, and whether the wall or roof by itself is as cold."""
    part = "wall" if found.lowest_on == "wall" else "roof"
    plain = dict(zip(("wall", "roof"), plain_factors(case), strict=True))[part]
    if found.f_rsi >= plain - ALIKE:
        return f"on the {found.lowest_on}: the {part} by itself, away from the junction, is as cold"
    if found.lowest_off <= CORNER:
        return "in the corner of wall and ceiling"
    way = "below the ceiling" if part == "wall" else "from the wall"
    return f"on the {found.lowest_on}, {work.quantity(found.lowest_off, GAP).text} {way}"


def _report(work: Worksheet, case: Case) -> None:
    source = work.cite(METHOD)
    wall, roof = transmittances(case)
    work.step("Uw", "transmittance of the wall", wall, TRANSMITTANCE, "U = 1/(Rsi + Σd/λ + Rse)")
    work.step("Ur", "transmittance of the roof", roof, TRANSMITTANCE, "U = 1/(Rsu + Σd/λ + Rse)")
    broken = case
    if not case.break_m:
        height, k = (work.practice_input(*one) for one in BREAK)
        broken = replace(case, break_m=height, break_k=k)
    each = 1.0 / (2 if broken is case else 3)
    found = {
        "as specified": outcome(case, 0.0, each),
        "without insulation and break": outcome(bare(case), each, each),
    }
    found["with a thermal break"] = (
        found["as specified"] if broken is case else outcome(broken, 2 * each, each)
    )
    main, plain, cut = found.values()
    for step, value in zip(main.study.steps, main.study.values, strict=True):
        title = f"L2D on a grid of {work.quantity(step, GAP).text}"
        work.step("L2D", title, value, LINEAR, "L2D = Φ/(θi - θe)", source)
    title = "L2D extrapolated to step 0"
    work.step("L0", title, main.study.extrapolated, LINEAR, "by the order that the three grids show")
    for where, run in zip("ie", lengths(case), strict=True):
        side = "inside" if where == "i" else "outside"
        for part, length in zip("wr", run, strict=True):
            what = "wall" if part == "w" else "roof"
            work.step(
                f"l{part}{where}", f"length of {what}, {side} dimensions", length, HEIGHT, "of the section"
            )
    psi = "ψ = L0 - Uw lw - Ur lr"
    work.result("psi_inside", "ψi", "ψ-value, inside dimensions", main.psi_inside, LINEAR, psi)
    work.result("psi_outside", "ψe", "ψ-value, outside dimensions", main.psi_outside, LINEAR, psi)
    title = "lowest inside surface temperature"
    work.result("lowest_surface", "θsi", title, main.lowest_c, TEMPERATURE, "finest grid, Rsi25")
    work.result("f_rsi", "f", "temperature factor", main.f_rsi, NUMBER, "f = (θsi - θe)/(θi - θe)")
    work.result_word("lowest_place", "where the lowest temperature lies", _place(work, case, main))
    for name, value in zip(("wall", "roof"), plain_factors(case), strict=True):
        title = f"temperature factor of the {name} by itself, away from the junction"
        work.result(
            f"f_rsi_{name}", f"f{name[0]}", title, value, NUMBER, "f = 1 - Rsi25/(Rsi25 + Σd/λ + Rse)"
        )
    least = work.practice_input("f0", "junction.f_rsi")
    met = "yes" if main.f_rsi >= least else "no"
    work.result_word("f_rsi_met", "the temperature factor is high enough against mold", met, "f ≥ f0")
    for name, what, one in (
        ("bare", "without parapet insulation and break", plain),
        ("break", "with a thermal break", cut),
    ):
        work.result(f"f_rsi_{name}", "f", f"temperature factor, {what}", one.f_rsi, NUMBER)
        title = f"ψ-value, inside dimensions, {what}"
        work.result(f"psi_inside_{name}", "ψi", title, one.psi_inside, LINEAR, psi)
    title = "change of L2D at the last halving of the grid; ISO 10211 asks for 1 % or less"
    change = max(one.study.last_change for one in found.values())
    work.result("grid_change", "e", title, change, NUMBER, "largest of the three cases")
    rows = tuple(
        (
            what,
            work.quantity(one.psi_inside, LINEAR),
            work.quantity(one.lowest_c, TEMPERATURE),
            work.quantity(one.f_rsi, NUMBER),
        )
        for what, one in found.items()
    )
    work.tables.append(CalcTable("cases", "Cases", ("case", "ψ inside", "lowest surface", "f_Rsi"), rows))
