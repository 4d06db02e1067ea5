"""Condensation and drying of a wall with indoor air on its inner side, month by month.

A parapet has outdoor air on both sides: with the same mean air on both there is no drive, and the balance would pass
whatever is built. It is calculated only where the project says that the inner side is indoor air.
"""

from __future__ import annotations

from collections.abc import Callable
from math import fsum

from specgen.design.vapor_layers import read_layers
from specgen.design.worksheet import CONDENSATE, NUMBER, TEMPERATURE, VAPOR_PRESSURE, Worksheet, calculation
from specgen.model.calculation import CalcTable
from specgen.model.source import Source, Status
from specgen.physics.indoor_air import class_vapor
from specgen.physics.moist_air import saturation_pressure, vapor_pressure
from specgen.physics.monthly import Balance, monthly_balance
from specgen.physics.steady import Layers, Side, steady_state, subdivide
from specgen.units.months import months
from specgen.units.quantity import Quantity

SUBJECT = "monthly balance"
TITLE = "Condensation and drying through the year"
SETS = ("peak", "residual", "wet_months", "planes")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
INDOOR = "indoor air"
SLICE = 0.05  # share of the thermal resistance in one slice: how finely condensation within a layer is placed
METHOD = Source("ISO 13788", "2012", "clause 6, monthly balance", Status.STANDARD)
VALIDITY = (
    "One-dimensional steady months by ISO 13788: walls with indoor air on one side. It ranks build-ups and does "
    "not forecast the water in the wall."
)
LEAVES_OUT = (
    "Storage of water in the layers, liquid transport, and the dependence of properties on moisture.",
    "Air that moves through or into the wall, and ventilation of the drainage gap.",
    "Sun, night cooling and wind-driven rain: the inward drive of wet plaster is a study of its own.",
    "The plaster's own vapor resistance: outdoor air stands behind it in the drainage gap.",
    "The course of the indoor humidity through the year where one value is given: it holds in every month.",
    "The first months of use, when the building still dries.",
)


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Water held in the wall through twelve mean months, and whether it dries out.

    Formulas: g = Δp/ΣZ, tangent construction each month (ISO 13788 clause 6); pi = pe + Δp of the humidity class,
    or φi psat(θi).

    Given: monthly outdoor air, and indoor temperature with humidity or humidity class; inner_air and the
    build-up. Of practice: material properties, surface resistances, humidity classes. Unknown for a parapet
    with outdoor air on both sides, or where a datum is missing.
    """
    _applies(work)
    wall = _wall(work)
    outside, inside = _sides(work)
    balance = monthly_balance(wall, outside, inside)
    _report(work, wall, balance)
    work.tables.append(_profile(work, wall, outside, inside))


def _applies(work: Worksheet) -> None:
    side = work.word("parapet.inner_air")
    if side is None:
        raise work.stop(
            "parapet.inner_air: air on the inner side of the build-up; a parapet has outdoor air on both sides, "
            "where a monthly balance shows no drive and proves nothing: use the hourly study"
        )
    if side != INDOOR:
        raise work.stop(
            "not covered: outdoor air on both sides gives a monthly balance no drive, it would pass whatever is "
            "built: use the hourly study"
        )


def _wall(work: Worksheet) -> Layers:
    layers = read_layers(work, last=None)
    work.require("site.temp_months", "site.humidity_months", "building.indoor_temp")
    if work.word("building.indoor_class") is None and work.given("building.indoor_humidity") is None:
        work.missing.append(
            f"building.indoor_humidity: {work.title_of('building.indoor_humidity')}, or indoor_class"
        )
    work.stop_if_missing()
    wall = Layers(
        tuple(layer.name for layer in layers),
        tuple(layer.thermal for layer in layers),
        tuple(layer.vapor for layer in layers),
    )
    return subdivide(wall, SLICE)


def _sides(work: Worksheet) -> tuple[list[Side], list[Side]]:
    temps = _twelve(work, "site.temp_months", "temperature")
    humidity = _twelve(work, "site.humidity_months", "ratio")
    outer, inner = (
        work.practice_input("Rse", "junction.film_outside"),
        work.practice_input("Rsi", "junction.film_inside"),
    )
    pressures = [float(vapor_pressure(t, phi)) for t, phi in zip(temps, humidity, strict=True)]
    outside = [Side(t, p, outer) for t, p in zip(temps, pressures, strict=True)]
    warm = work.input("θi", "building.indoor_temp")
    indoor = _indoor(work, warm)
    return outside, [Side(warm, indoor(side.temp_c, side.vapor_pa), inner) for side in outside]


def _indoor(work: Worksheet, warm: float) -> Callable[[float, float], float]:
    """Indoor vapor pressure as a function of outdoor temperature and vapor pressure."""
    if work.given("building.indoor_humidity"):
        held = work.input("φi", "building.indoor_humidity") * float(saturation_pressure(warm))
        return lambda _temp, _pressure: held
    name = work.input_word("", "building.indoor_class")
    table = work.practice.table("humidity_classes")
    (row,) = table.where(**{"class": name})
    excess = work.table_input(
        "Δp", "humidity_classes", row, "excess", f"vapor pressure excess of class {name}"
    )

    return lambda temp_c, outdoor: float(class_vapor(temp_c, outdoor, warm, excess))


def _twelve(work: Worksheet, key: str, dimension: str) -> list[float]:
    """Twelve numbers and a unit, as values in the SI base."""
    return [one.value for one in months(work.input_word("", key), dimension)]


def _report(work: Worksheet, wall: Layers, balance: Balance) -> None:
    source = work.cite(METHOD)
    names = wall.names
    places = {k: _place(names, k) for k in balance.planes}
    for month in balance.months:
        title = f"water held at the end of {MONTHS[month.month - 1]}, all planes"
        work.step("", title, fsum(month.held), CONDENSATE, "m = m + g t, not below 0", source)
    work.result("peak", "mp", "most water held at one time", balance.peak, CONDENSATE, "max Σm")
    title = "water held when the year is over; above zero the wall does not dry out within it"
    work.result("residual", "mr", title, balance.residual, CONDENSATE, "Σm after twelve months")
    wet = sum(fsum(month.held) > 0.0 for month in balance.months)
    work.result("wet_months", "n", "months that end with water in the wall", wet, NUMBER, "count of Σm > 0")
    work.result_word("planes", "where water is held", ", ".join(dict.fromkeys(places.values())) or "nowhere")
    rows: list[tuple[Quantity | str, ...]] = [
        (MONTHS[month.month - 1], *(work.quantity(held, CONDENSATE) for held in month.held))
        for month in balance.months
    ]
    if rows:
        columns = ("month", *(places[k] for k in balance.planes))
        work.tables.append(CalcTable("months", "Water held at the end of each month", columns, tuple(rows)))


def _profile(work: Worksheet, wall: Layers, outside: list[Side], inside: list[Side]) -> CalcTable:
    """The coldest month plane by plane: how near the wall comes to condensation where it holds no water."""
    month = min(range(len(MONTHS)), key=lambda place: outside[place].temp_c)
    state = steady_state(wall, outside[month], inside[month])
    ends = [k for k in range(1, len(wall.names)) if wall.names[k - 1] != wall.names[k]]
    rows: list[tuple[Quantity | str, ...]] = [
        (
            _place(wall.names, plane),
            work.quantity(state.temp_c[plane], TEMPERATURE),
            work.quantity(state.saturation_pa[plane], VAPOR_PRESSURE),
            work.quantity(state.vapor_pa[plane], VAPOR_PRESSURE),
        )
        for plane in (0, *ends, len(wall.names))
    ]
    heads = ("plane", "temperature", "saturation pressure", "vapor pressure")
    note = "Without water left by the months before. Vapor pressure at saturation: vapor condenses there."
    return CalcTable("profile", f"Profile in the coldest month, {MONTHS[month]}", heads, tuple(rows), note)


def _place(names: tuple[str, ...], plane: int) -> str:
    if plane == 0:
        return f"outer face of {names[0]}"
    if plane == len(names):
        return f"inner face of {names[-1]}"
    before, behind = names[plane - 1], names[plane]
    return f"within {before}" if before == behind else f"between {before} and {behind}"
