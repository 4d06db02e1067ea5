"""Vapor driven inward from wet plaster by the afternoon sun, and what condenses behind the roof turn-up.

Steady heat and vapor flow from the sun-heated face to the shaded roof side. The plaster is taken as soaked: the
air at its back is saturated. The build-up is calculated as specified, and again with the drainage layer open to
vapor; the difference is what a vapor-tight drainage sheet keeps out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import partial
from itertools import accumulate

from specgen.design.condensate import say_limit_met, stated_limit
from specgen.design.drive_day import DriveDay, drive_day
from specgen.design.vapor_layers import WallLayer, read_layers
from specgen.design.worksheet import (
    CONDENSATE,
    PERMEANCE,
    RESISTANCE,
    SHARE,
    TEMPERATURE,
    VAPOR_FLOW,
    VAPOR_PRESSURE,
    Worksheet,
    calculation,
)
from specgen.model.calculation import CalcTable
from specgen.model.project import Parapet, Project
from specgen.model.source import Source, Status
from specgen.physics.moist_air import saturation_pressure
from specgen.physics.sol_air import sol_air
from specgen.physics.steady import (
    Layers,
    Profile,
    Side,
    resistance_from_permeance,
    steady_state,
    subdivide,
)
from specgen.practice.entries import Practice
from specgen.units.compare import computed_at_most
from specgen.units.quantity import Quantity

SUBJECT = "vapor drive"
TITLE = "Vapor driven inward by the sun on wet plaster"
SETS = (
    "face_temperature",
    "membrane_temperature",
    "condensation_plane",
    "condensate_rate",
    "condensate_afternoon",
    "open_condensate_afternoon",
    "reduction",
    "condensate_hourly",
    "governs",
    "condensate_governing",
    "greatest_permeance",
    "needs_vapor_tight",
    "limit_met",
)
DRAINAGE = "drainage layer"
PERMEANCES = (1e-16, 1e-6)  # kg/(m²·s·Pa): from metal foil to an open layer; where the search begins
SLICE = 0.05  # share of the thermal resistance in one slice: how finely condensation within a layer is placed
METHOD = Source("ISO 13788", "2012", "clause 6, tangent construction", Status.STANDARD)
SATURATION = Source("ISO 13788", "2012", "saturation pressure", Status.STANDARD)
SOL_AIR = Source("ASHRAE Handbook of Fundamentals", "", "sol-air temperature", Status.STANDARD)
VALIDITY = (
    "One-dimensional steady state of a sun-heated afternoon: a design state for comparing build-ups, not a forecast "
    "of the water in the wall. Face and membrane between -40 and 100 °C."
)
LEAVES_OUT = (
    "Storage of heat and vapor: the state is steady and lasts the whole afternoon.",
    "Air that moves through or behind the layers, ventilation of the drainage gap included.",
    "Liquid water, rain leaks and the water already in the wall; drying at night and on other days.",
    "The state of the plaster: it is taken as soaked, its back saturated, as after rain.",
    "Condensate in the drainage layer and on the face behind it: it drains and is not counted.",
    "Latent heat, and two-dimensional flow at the roof edge, the top and the framing.",
    "The roof-side air is taken as saturated, the least vapor that leaves through the membrane.",
    "Where the sun stands: the irradiance is that of a face in full sun, whatever the orientation.",
)


@dataclass(frozen=True)
class Climate:
    """Temperatures on the two sides [°C] and the film resistance of both [m²·K/W]."""

    face_air_c: float  # sol-air temperature
    roof_air_c: float
    film: float


@dataclass(frozen=True)
class Wetting:
    """What stays behind the drainage layer: rate and flow out [kg/(s·m²)], and where it condenses in words."""

    rate: float
    out: float
    where: str


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Condensate behind the roof turn-up in one sun-heated afternoon, as specified and with an open layer.

    Formulas: Te = To + α E/ho (ASHRAE Handbook of Fundamentals, sol-air temperature, ΔR = 0 for a wall); steady
    temperatures and the tangent construction of ISO 13788; condensate = (g_in - g_out) × hours.

    Given: site.temp_summer; the build-up from plaster to roof turn-up, and condensate_limit where there is
    one. Of practice: design state and material properties. Unknown where a datum or a material property is
    missing.
    """
    layers = _layers(work)
    climate = _climate(work)
    hours = work.practice_input("τ", "vapor.sun_hours")
    specified = _wetting(_state(layers, climate), layers)
    opened = _wetting(_state(tuple(_open(layer) for layer in layers), climate), layers)
    _temperatures(work, layers, climate)
    work.tables.append(_planes(work, layers, _state(layers, climate)))
    _profile_steps(work, specified, "as specified", "")
    _profile_steps(work, opened, "drainage layer open", "o")
    _condensation(work, specified, hours)
    limit = stated_limit(work, "ml")
    _amounts(work, specified.rate * hours, opened.rate * hours)
    day = drive_day(work)
    say_limit_met(work, "mg ≤ ml", _governing(work, specified.rate * hours, day), limit)
    if limit is not None and not work.word("parapet.condensate_limit_source"):
        work.leaves_out.append(
            "The limit has no source (work.parapet.condensate_limit_source): it opens no drainage layer beyond class I."
        )
        limit = None
    most_open = opened.rate * hours
    if day is not None and any(layer.role == DRAINAGE for layer in layers):
        most_open = max(most_open, float(day.condensate(PERMEANCES[1])[0]))
    _needed(work, layers, climate, most_open, limit, hours, day)


@dataclass(frozen=True)
class Drawn:
    """The state behind the plaster for a drawing: summed thermal resistance [m²·K/W] at the planes, temperature
    [°C], saturation and vapor pressure [Pa] there; the layers with the resistance at which each ends."""

    resistance: tuple[float, ...]
    temp_c: tuple[float, ...]
    saturation_pa: tuple[float, ...]
    vapor_pa: tuple[float, ...]
    ends: tuple[tuple[str, float], ...]


def drawn(project: Project, parapet: Parapet, practice: Practice) -> Drawn | None:
    """The profile of the calculation as specified; None where it is unknown."""
    work = Worksheet(SUBJECT, TITLE, project, parapet, practice, VALIDITY, list(LEAVES_OUT))
    with work.writing():
        layers = _layers(work)
        state = _state(layers, _climate(work))
        behind = layers[1:]
        wall = subdivide(_wall_of(behind), SLICE)
        sums = tuple(accumulate(wall.thermal, initial=0.0))
        ends = tuple(zip(_names(behind), accumulate(part.thermal for part in behind), strict=True))
        return Drawn(sums, state.temp_c, state.saturation_pa, state.vapor_pa, ends)
    return None


def _layers(work: Worksheet) -> tuple[WallLayer, ...]:
    """The layers and their properties; also asks for the summer temperature, so that all is named in one run."""
    layers = read_layers(work)
    work.require("site.temp_summer")
    return layers


def _climate(work: Worksheet) -> Climate:
    outdoor = work.input("To", "site.temp_summer")
    irradiance = work.practice_input("E", "vapor.irradiance")
    absorptance = work.practice_input("α", "vapor.absorptance")
    film = work.practice_input("ho", "vapor.film_coefficient")
    heated = float(sol_air(outdoor, absorptance, irradiance, film))
    title = "sol-air temperature of the face"
    work.step("Te", title, heated, TEMPERATURE, "Te = To + α E/ho, ΔR = 0 for a wall", work.cite(SOL_AIR))
    work.step("Rs", "film resistance, both sides", 1.0 / film, RESISTANCE, "Rs = 1/ho")
    return Climate(heated, outdoor, 1.0 / film)


def _open(layer: WallLayer) -> WallLayer:
    """A drainage layer that does not resist vapor; other layers as they are."""
    return replace(layer, vapor=0.0) if layer.role == DRAINAGE else layer


def _whole_wall(layers: tuple[WallLayer, ...], climate: Climate) -> Profile:
    """Temperatures through the whole wall, from the sun-heated air to the roof side."""
    wall = _wall_of(layers)
    # The vapor result of the whole wall is not used: the source of vapor is the back of the plaster.
    return steady_state(
        wall, Side(climate.face_air_c, 0.0, climate.film), Side(climate.roof_air_c, 0.0, climate.film)
    )


def _wall_of(layers: tuple[WallLayer, ...]) -> Layers:
    return Layers(
        _names(layers), tuple(part.thermal for part in layers), tuple(part.vapor for part in layers)
    )


def _names(layers: tuple[WallLayer, ...]) -> tuple[str, ...]:
    return tuple(layer.name for layer in layers)


def _state(layers: tuple[WallLayer, ...], climate: Climate) -> Profile:
    """Heat and vapor behind the plaster, whose back is saturated."""
    back_of_plaster = _whole_wall(layers, climate).temp_c[1]
    behind = layers[1:]
    wall = _wall_of(behind)
    source = Side(back_of_plaster, float(saturation_pressure(back_of_plaster)), 0.0)
    roof_side = Side(climate.roof_air_c, float(saturation_pressure(climate.roof_air_c)), climate.film)
    return steady_state(subdivide(wall, SLICE), source, roof_side)


def _temperatures(work: Worksheet, layers: tuple[WallLayer, ...], climate: Climate) -> None:
    source = work.cite(SATURATION)
    temps = _whole_wall(layers, climate).temp_c
    formula = "T = Te - (Te - To) ΣR/Rtotal"
    work.result("face_temperature", "Tf", "temperature of the plaster face", temps[0], TEMPERATURE, formula)
    back = temps[1]
    work.step("Tp", "temperature at the back of the plaster", back, TEMPERATURE, formula)
    pressure = float(saturation_pressure(back))
    work.step("pp", "vapor pressure there, saturated", pressure, VAPOR_PRESSURE, "psat(Tp)", source)
    membrane = temps[-2]
    title = "temperature at the back of the roof turn-up"
    work.result("membrane_temperature", "Tm", title, membrane, TEMPERATURE, formula)
    pressure = float(saturation_pressure(membrane))
    work.step("pm", "saturation pressure there", pressure, VAPOR_PRESSURE, "psat(Tm)", source)


def _planes(work: Worksheet, layers: tuple[WallLayer, ...], state: Profile) -> CalcTable:
    """The profile plane by plane, for a check by hand: through a layer g = W Δp wherever nothing condenses."""
    behind = layers[1:]
    sums = list(accumulate(subdivide(_wall_of(behind), SLICE).thermal, initial=0.0))
    ends = [0.0, *accumulate(part.thermal for part in behind)]
    rows: list[tuple[Quantity | str, ...]] = []
    for number, end in enumerate(ends):
        at = _nearest(sums, end)
        layer = behind[number - 1] if number else None
        rows.append(
            (
                f"behind {layer.name}" if layer else f"back of {layers[0].name}",
                work.quantity(state.temp_c[at], TEMPERATURE),
                work.quantity(state.saturation_pa[at], VAPOR_PRESSURE),
                work.quantity(state.vapor_pa[at], VAPOR_PRESSURE),
            )
        )
    heads = ("plane", "temperature", "saturation pressure", "vapor pressure")
    note = "As specified; g = W Δp through each layer. Vapor pressure at saturation: vapor condenses there."
    return CalcTable("profile", "Profile through the wall", heads, tuple(rows), note)


def _nearest(sums: list[float], end: float) -> int:
    return min(range(len(sums)), key=lambda place: abs(sums[place] - end))


def _profile_steps(work: Worksheet, wall: Wetting, which: str, mark: str) -> None:
    source = work.cite(METHOD)
    title = f"vapor flow into the wall behind the drainage layer, {which}"
    work.step(f"gi{mark}", title, wall.rate + wall.out, VAPOR_FLOW, "g = Δp/ΣZ", source)
    title = f"vapor flow out of the roof turn-up, {which}"
    work.step(f"ge{mark}", title, wall.out, VAPOR_FLOW, "g = Δp/Z", source)
    work.step_word("", f"condensation, {which}", wall.where, "where the tangent touches psat", source)


def _wetting(state: Profile, layers: tuple[WallLayer, ...]) -> Wetting:
    """What condenses behind the drainage layer, and where; what condenses in the gap drains."""
    gaps = {layer.name for layer in layers if layer.role == DRAINAGE}
    inside = [plane for plane in state.planes if plane.between[0] not in gaps and plane.rate > 0.0]
    named: dict[str, None] = {}
    for plane in inside:
        before, behind = plane.between
        if before == behind:
            words = f"within {before}"
        elif behind == layers[-1].name:
            words = f"back of {behind}"
        else:
            words = f"between {before} and {behind}"
        named.setdefault(words)
    return Wetting(math.fsum(plane.rate for plane in inside), state.vapor_out, ", ".join(named) or "none")


def _condensation(work: Worksheet, wall: Wetting, hours: float) -> None:
    work.result_word("condensation_plane", "where vapor condenses, as specified", wall.where)
    work.result("condensate_rate", "gc", "condensation, as specified", wall.rate, VAPOR_FLOW, "gc = gi - ge")
    title = "condensate in one afternoon, as specified"
    work.result("condensate_afternoon", "mc", title, wall.rate * hours, CONDENSATE, "mc = gc τ")


def _amounts(work: Worksheet, specified: float, opened: float) -> None:
    title = "condensate in one afternoon, drainage layer open to vapor"
    work.result("open_condensate_afternoon", "mo", title, opened, CONDENSATE, "mo = (gio - geo) τ")
    kept_out = 1.0 - specified / opened if opened > 0.0 else 0.0
    title = "part of it that the specified drainage layer keeps out"
    work.result("reduction", "r", title, kept_out, SHARE, "r = 1 - mc/mo; 0 where nothing condenses")


def _governing(work: Worksheet, afternoon: float, day: DriveDay | None) -> float:
    """The greater of the steady afternoon and the hourly design day, and why they differ."""
    if day is None:
        why = "not calculated: site.latitude and parapet.orientation"
        work.result_word("condensate_hourly", "most condensate in the hourly design day, as specified", why)
        return _governs(work, afternoon, "the steady afternoon: the hourly design day is not calculated")
    hourly = day.specified
    title = "most condensate in the hourly design day, as specified"
    work.result("condensate_hourly", "mh", title, hourly, CONDENSATE, "inward drive, condensate_day")
    if afternoon >= hourly:
        why = (
            "the steady afternoon: it takes full sun on any face, the whole afternoon long, a roof side at air "
            "temperature and a gap that no air passes, which the hourly day does not"
        )
    else:
        why = (
            "the hourly design day: its sun and its soaked plaster last longer than the steady afternoon, and the roof "
            "side takes its own sun"
        )
    return _governs(work, max(afternoon, hourly), why)


def _governs(work: Worksheet, value: float, why: str) -> float:
    work.result_word("governs", "which condensate is held against the limit, and why", why, "the greater")
    return work.result(
        "condensate_governing", "mg", "condensate held against the limit", value, CONDENSATE, "max(mc, mh)"
    )


def _needed(
    work: Worksheet,
    layers: tuple[WallLayer, ...],
    climate: Climate,
    opened: float,
    limit: float | None,
    hours: float,
    day: DriveDay | None,
) -> None:
    """How open the drainage layer may be, and what follows: only against a limit that the project states."""
    name, title = "greatest_permeance", "greatest vapor permeance of the drainage layer that keeps the limit"
    permeance = partial(work.result_word, name, title)
    need = partial(work.result_word, "needs_vapor_tight", "a vapor-tight drainage layer is needed")
    layer = next((one for one in layers if one.role == DRAINAGE), None)
    if computed_at_most(opened, limit or 0.0):
        permeance("any: the limit holds with an open layer")
        at = f"{work.shown(opened, CONDENSATE)} against {work.shown(limit or 0.0, CONDENSATE)}"
        need("no", f"open layer ≤ ml, afternoon and hourly day; without a limit, 0: {at}")
    elif limit is None:
        permeance("no limit stated")
        need("no limit stated", "vapor condenses; how much is too much is not stated")
    elif layer is None:
        permeance("no drainage layer is described")
        need("yes", "mo > ml")
    else:
        tight = work.practice_input("W1", "vapor.class_1")
        greatest = _greatest_permeance(layers, climate, limit / hours)
        if day is not None:
            greatest = min(greatest, day.greatest_permeance(limit))
        formula = "Wx: gc(Wx) τ = ml by halving, and not above that of the hourly day"
        work.result(name, "Wx", title, greatest, PERMEANCE, formula)
        word = "yes" if computed_at_most(greatest, tight) else "less tight will do"
        need(word, "yes where Wx ≤ W1, class I")


def _greatest_permeance(layers: tuple[WallLayer, ...], climate: Climate, limit: float) -> float:
    """The permeance of the drainage layer [kg/(m²·s·Pa)] at which the condensate comes to the limit, from below.

    The rate grows with the permeance: halving on its logarithm, to 0.1 %.
    """
    low, high = (math.log(bound) for bound in PERMEANCES)
    while high - low > 1e-3:
        middle = (low + high) / 2.0
        vapor = float(resistance_from_permeance(math.exp(middle)))
        tried = tuple(replace(one, vapor=vapor) if one.role == DRAINAGE else one for one in layers)
        if _wetting(_state(tried, climate), tried).rate <= limit:
            low = middle
        else:
            high = middle
    return math.exp(low)
