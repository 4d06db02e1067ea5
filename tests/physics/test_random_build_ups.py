"""Random build-ups: what holds for every wall holds for each of them; 2,000 with ``SPECGEN_LONG=1``, else 100.

Each wall has its own seed, so a failure names the wall that fails. Sizes are drawn as a file would give them, in
inch-pound and in SI, and read by the parser of quantities.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import pint
import pytest

from specgen.physics.moist_air import saturation_pressure
from specgen.physics.steady import Layers, Profile, Side, steady_state, subdivide, thermal_resistance
from specgen.physics.steady import resistance_from_permeance as from_permeance
from specgen.units.quantity import parse
from tests.conftest import LONG

COUNT = 2_000 if LONG else 100
FIRST_SEED = 20_261_125
UNIT = pint.UnitRegistry()
UNIT.define("mercury_inch = 13595.1 * kilogram / meter**3 * standard_gravity * inch")
INCH_POUND = {
    "in": ("length", UNIT("inch").to("m").magnitude),
    "Btu·in/(h·ft2·F)": (
        "thermal conductivity",
        UNIT("Btu_it*inch/hour/foot**2/delta_degF").to("W/m/delta_degC").magnitude,
    ),
    "perm": ("vapor permeance", UNIT("grain/hour/foot**2/mercury_inch").to("kg/Pa/s/m**2").magnitude),
}
SI = {"m": "length", "W/(m·K)": "thermal conductivity", "kg/(Pa·s·m2)": "vapor permeance"}


@dataclass(frozen=True)
class BuildUp:
    """Thickness [m], conductivity [W/(m·K)], permeance [kg/(Pa·s·m²)] of each layer, and the air on both sides."""

    sizes: tuple[tuple[float, float, float], ...]
    first: Side
    second: Side

    def layers(self) -> Layers:
        return layers_of(self.sizes)


def layers_of(sizes: tuple[tuple[float, float, float], ...]) -> Layers:
    return Layers(
        tuple(f"layer {i}" for i in range(len(sizes))),
        tuple(float(thermal_resistance(d, k)) for d, k, _ in sizes),
        tuple(float(from_permeance(w)) for _, _, w in sizes),
    )


def build_up(seed: int) -> BuildUp:
    """One to nine layers, membrane to mineral wool; air from a cold night to a sun-heated face."""
    rng = np.random.default_rng(seed)
    sizes = tuple(
        (
            float(10 ** rng.uniform(-3, -0.7)),
            float(10 ** rng.uniform(-1.6, 0.4)),
            float(10 ** rng.uniform(-12.5, -9)),
        )
        for _ in range(rng.integers(1, 10))
    )

    def side() -> Side:
        temp_c = float(rng.uniform(-30.0, 70.0))
        return Side(
            temp_c, float(rng.uniform(0.05, 1.0) * saturation_pressure(temp_c)), float(rng.uniform(0.02, 0.2))
        )

    return BuildUp(sizes, side(), side())


def walls() -> Iterator[tuple[int, BuildUp, Profile]]:
    for seed in range(FIRST_SEED, FIRST_SEED + COUNT):
        wall = build_up(seed)
        yield seed, wall, steady_state(wall.layers(), wall.first, wall.second)


def scale(state: Profile) -> float:
    """The size of the vapor flows, against which a difference is small."""
    return abs(state.vapor_in) + abs(state.vapor_out) + sum(abs(plane.rate) for plane in state.planes) + 1e-30


def test_there_are_as_many_walls_as_promised_and_some_condense() -> None:
    planes = [len(state.planes) for _, _, state in walls()]
    assert len(planes) == COUNT >= 100
    assert 0.2 * COUNT < sum(count > 0 for count in planes) < 0.8 * COUNT
    assert max(planes) >= 2


def test_pressures_never_exceed_saturation() -> None:
    for seed, _, state in walls():
        over = np.array(state.vapor_pa) / np.array(state.saturation_pa) - 1.0
        assert over.max() <= 1e-9, seed


def test_heat_and_vapor_balance() -> None:
    """Heat is the same through every layer; vapor in less vapor out is what condenses; to 1e-9."""
    for seed, wall, state in walls():
        layers = wall.layers()
        drops = -np.diff(state.temp_c)
        size = abs(wall.first.temp_c - wall.second.temp_c)
        assert np.abs(drops - state.heat_flux * np.array(layers.thermal)).max() <= 1e-9 * size, seed
        kept = sum(plane.rate for plane in state.planes)
        assert abs(state.vapor_in - state.vapor_out - kept) <= 1e-9 * scale(state), seed


def test_two_halves_make_the_layer() -> None:
    """A layer as two equal halves: temperatures to 1e-9 always; flows to 1e-9 where nothing condenses between
    the halves. Where it does, the whole layer hid it, so both are cut into slices first, as calculations do, and the
    condensate agrees to 1 % of the flow."""
    hidden = 0
    for seed, wall, state in walls():
        at = seed % len(wall.sizes)
        d, k, w = wall.sizes[at]
        cut = (*wall.sizes[:at], (d / 2, k, 2 * w), (d / 2, k, 2 * w), *wall.sizes[at + 1 :])
        halves = steady_state(layers_of(cut), wall.first, wall.second)
        assert halves.heat_flux == pytest.approx(state.heat_flux, rel=1e-9), seed
        kept = [t for place, t in enumerate(halves.temp_c) if place != at + 1]
        assert kept == pytest.approx(state.temp_c, abs=1e-9), seed
        if any(plane.number == at + 1 for plane in halves.planes):
            hidden += 1
            one, two = (
                steady_state(subdivide(layers_of(sizes), 1 / 150), wall.first, wall.second)
                for sizes in (wall.sizes, cut)
            )
            assert one.condensing == pytest.approx(two.condensing, abs=0.01 * scale(one)), seed
            continue
        assert halves.vapor_in == pytest.approx(state.vapor_in, abs=1e-9 * scale(state)), seed
        assert halves.vapor_out == pytest.approx(state.vapor_out, abs=1e-9 * scale(state)), seed
        assert halves.condensing == pytest.approx(state.condensing, abs=1e-9 * scale(state)), seed
    assert 0 < hidden < COUNT / 3


def test_the_wall_reversed_is_the_mirror_image() -> None:
    for seed, wall, state in walls():
        mirror = steady_state(wall.layers().reversed(), wall.second, wall.first)
        assert mirror.temp_c[::-1] == pytest.approx(state.temp_c, abs=1e-9), seed
        assert mirror.vapor_pa[::-1] == pytest.approx(state.vapor_pa, rel=1e-9, abs=1e-6), seed
        assert mirror.heat_flux == pytest.approx(-state.heat_flux, rel=1e-9), seed
        assert mirror.vapor_in == pytest.approx(-state.vapor_out, abs=1e-9 * scale(state)), seed
        assert mirror.condensing == pytest.approx(state.condensing, abs=1e-9 * scale(state)), seed
        last = len(wall.sizes)
        assert sorted(last - plane.number for plane in mirror.planes) == [
            plane.number for plane in state.planes
        ], seed


def test_inch_pound_and_si_agree() -> None:
    """The same wall written in inches, Btu·in/(h·ft²·°F), perms and °F, with factors of pint, and in SI."""
    for seed, wall, state in walls():
        both = []
        for texts in (written_in_inch_pound(wall), written_in_si(wall)):
            sizes = tuple(tuple(parse(text, {what}).value for text, what in row) for row in texts[0])
            temps = [parse(text, {"temperature"}).value for text in texts[1]]
            sides = [replace(s, temp_c=t) for s, t in zip((wall.first, wall.second), temps, strict=True)]
            both.append(steady_state(layers_of(sizes), *sides))  # type: ignore[arg-type]
        inch, metric = both
        for one in both:
            assert one.heat_flux == pytest.approx(state.heat_flux, rel=1e-6, abs=1e-6), seed
        assert inch.temp_c == pytest.approx(metric.temp_c, abs=1e-6), seed
        assert inch.vapor_in == pytest.approx(metric.vapor_in, abs=1e-6 * scale(metric)), seed
        assert inch.condensing == pytest.approx(metric.condensing, abs=1e-6 * scale(metric)), seed


Written = tuple[list[list[tuple[str, str]]], list[str]]


def written_in_inch_pound(wall: BuildUp) -> Written:
    rows = [
        [
            (f"{value / factor:.13g} {unit}", what)
            for value, (unit, (what, factor)) in zip(row, INCH_POUND.items(), strict=True)
        ]
        for row in wall.sizes
    ]
    return rows, [f"{side.temp_c * 1.8 + 32:.13g} degF" for side in (wall.first, wall.second)]


def written_in_si(wall: BuildUp) -> Written:
    rows = [
        [(f"{value:.13g} {unit}", what) for value, (unit, what) in zip(row, SI.items(), strict=True)]
        for row in wall.sizes
    ]
    return rows, [f"{side.temp_c:.13g} degC" for side in (wall.first, wall.second)]
