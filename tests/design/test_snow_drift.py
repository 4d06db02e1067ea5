"""Drifted snow at a parapet: by hand in both editions, and what it says where a datum is missing."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import snow_drift
from tests.design.projects import calculation, number

SNOW = ("  exposure: C", "  exposure: C\n  ground_snow_load: 25 psf\n  winter_wind_parameter: 0.45")
FETCH = ("height: 4 ft", "height: 4 ft\n    snow_fetch: 40 ft")
RISK = ("height: 26 ft", "height: 26 ft, risk_category: II")


def snow(folder: Path, *changes: tuple[str, str]):  # type: ignore[no-untyped-def]
    return calculation(snow_drift, folder, SNOW, FETCH, RISK, *changes)


def test_the_earlier_edition_by_hand(tmp_path: Path) -> None:
    """pf = 0.7 × 1.2 × 25 = 21 psf; γ = 17.25 lb/ft³; hd = 2.077 ft, three quarters of it 1.558 ft."""
    found = snow(tmp_path)
    assert number(found, "depth", "ft") == pytest.approx(21.0 / 17.25 + 1.5577, abs=0.001)
    assert number(found, "surcharge", "psf") == pytest.approx(17.25 * 1.5577, abs=0.02)
    assert number(found, "load", "psf") == pytest.approx(21.0 + 17.25 * 1.5577, abs=0.02)
    assert number(found, "width", "ft") == pytest.approx(4 * 1.5577, abs=0.005)


def test_an_essential_building_carries_more(tmp_path: Path) -> None:
    """Is = 1.2: pf = 25.2 psf, hd grows by its root; a drift is not lowered below Is = 1.0."""
    found = snow(tmp_path, ("risk_category: II", "risk_category: IV"))
    assert number(found, "load", "psf") == pytest.approx(25.2 + 17.25 * 1.5577 * 1.2**0.5, abs=0.03)
    low = snow(tmp_path, ("risk_category: II", "risk_category: I"))
    assert number(low, "surcharge", "psf") == pytest.approx(17.25 * 1.5577, abs=0.02)


def test_the_later_edition_by_hand(tmp_path: Path) -> None:
    """hd = 1.5 √(25^0.74 × 40^0.70 × 0.45^1.7 / 17.25) ft."""
    found = snow(tmp_path, ("IBC 2021", "IBC 2024"))
    leeward = 1.5 * (25**0.74 * 40**0.70 * 0.45**1.7 / 17.25) ** 0.5
    assert number(found, "surcharge", "psf") == pytest.approx(17.25 * 0.75 * leeward, rel=0.001)


def test_a_short_roof_is_taken_as_twenty_feet(tmp_path: Path) -> None:
    short, least = (snow(tmp_path, ("snow_fetch: 40 ft", f"snow_fetch: {n} ft")) for n in (16, 20))
    assert number(short, "depth", "ft") == number(least, "depth", "ft")


@pytest.mark.parametrize(
    ("change", "missing"),
    [
        ((SNOW[1], "  exposure: C"), "site.ground_snow_load"),
        (("    snow_fetch: 40 ft", ""), "parapet.snow_fetch"),
        ((", risk_category: II", ""), "building.risk_category"),
        (("IBC 2021", "none stated"), "site.code"),
        (("ground_snow_load: 25 psf", "ground_snow_load: 0 psf"), "ground snow load is zero"),
    ],
)
def test_what_is_missing_is_named(tmp_path: Path, change: tuple[str, str], missing: str) -> None:
    found = snow(tmp_path, change)
    assert not found.done and missing in " ".join(found.missing)


def test_the_later_edition_asks_for_the_winter_wind(tmp_path: Path) -> None:
    found = snow(tmp_path, ("IBC 2021", "IBC 2024"), ("\n  winter_wind_parameter: 0.45", ""))
    assert "site.winter_wind_parameter" in " ".join(found.missing)


def test_the_edition_of_2010_is_cited_as_what_it_is(tmp_path: Path) -> None:
    """The formula with Is stands in the edition of 2016; which edition the code of 2012 names is from memory."""
    found = snow(tmp_path, ("IBC 2021", "IBC 2012"))
    (leeward,) = (line for line in found.steps if line.symbol == "hd")
    assert "ASCE 7-16 Figure 7.6-1" in leeward.formula and "ASCE 7-10 is without Is" in leeward.formula
    cited = " ".join(found.sources)
    assert "IBC 2012" in cited and "from memory" in cited and "chapter 35" in cited


def test_numbers_of_formulas_from_memory_say_so(tmp_path: Path) -> None:
    found = snow(tmp_path)
    numbered = [line for line in found.steps if "Eq. 7." in line.formula or "Figure 7." in line.formula]
    assert len(numbered) == 3 and all("from memory" in line.source for line in numbered)
