"""Wind and earthquake at the base of a parapet, by hand, and what they say where a datum is missing."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import coping_wind, parapet_seismic, parapet_wind
from tests.design.projects import calculation, number

SEISMIC = "height: 26 ft, risk_category: II, seismic_design_category: D, sds: 1.0"
WEIGHT = "height: 4 ft\n    weight: 20 psf"


def test_both_load_cases_by_hand(tmp_path: Path) -> None:
    """A parapet of 4 ft: V = 4 p, M = 8 p with the net pressure of the case; service level 0.6 of it."""
    wind, base = calculation(coping_wind, tmp_path), calculation(parapet_wind, tmp_path)
    for way, case in (("toward_roof", "parapet_case_a_corner"), ("outward", "parapet_case_b")):
        p = number(wind, case, "psf")
        assert number(base, f"shear_{way}", "lbf/ft") == pytest.approx(4.0 * p)
        assert number(base, f"moment_{way}", "lbf·ft/ft") == pytest.approx(8.0 * p)
        assert number(base, f"shear_{way}_service", "lbf/ft") == pytest.approx(0.6 * 4.0 * p)
        assert number(base, f"moment_{way}_service", "lbf·ft/ft") == pytest.approx(0.6 * 8.0 * p)
    greater = number(wind, "parapet_case_a_corner", "psf")
    assert number(base, "pressure_deflection", "psf") == pytest.approx(0.42 * greater)


def seismic(folder: Path, *changes: tuple[str, str]):  # type: ignore[no-untyped-def]
    return calculation(
        parapet_seismic, folder, ("height: 26 ft", SEISMIC), ("height: 4 ft", WEIGHT), *changes
    )


@pytest.mark.parametrize(
    ("changes", "share"),
    [
        ((), 1.2),  # 0.4 × 2.5 × 1.0 × 3/2.5
        ((("risk_category: II", "risk_category: IV"),), 1.8),
        ((("sds: 1.0", "sds: 0.5"),), 0.6),
        ((("IBC 2021", "IBC 2015"),), 1.2),
        ((("IBC 2021", "IBC 2024"),), 0.4 * 3.5 / 1.3 * 2.2 / 1.5),
    ],
)
def test_force_by_hand(tmp_path: Path, changes: tuple[tuple[str, str], ...], share: float) -> None:
    found = seismic(tmp_path, *changes)
    assert number(found, "share", "") == pytest.approx(share)
    assert number(found, "shear", "lbf/ft") == pytest.approx(share * 20.0 * 4.0)
    assert number(found, "moment", "lbf·ft/ft") == pytest.approx(share * 20.0 * 8.0)


@pytest.mark.parametrize(
    "line",
    ["risk_category: II, ", "seismic_design_category: D, ", ", sds: 1.0", "    weight: 20 psf"],
)
def test_what_is_missing_is_named(tmp_path: Path, line: str) -> None:
    found = seismic(tmp_path, (line, ""))
    assert not found.done
    assert line.strip(" ,").partition(":")[0] in " ".join(found.missing)


def test_category_a_is_exempt(tmp_path: Path) -> None:
    change = ("seismic_design_category: D, sds: 1.0", "seismic_design_category: A")
    found = seismic(tmp_path, change, ("    weight: 20 psf", ""))
    assert found.verdict("shear") == "none in Seismic Design Category A"


def test_braces_by_hand(tmp_path: Path) -> None:
    """A parapet of 4 ft, braces at 3 ft: moments about the base give R = p 4²/(2 × 3); service levels 0.6 W and 0.7 E."""
    wind = calculation(coping_wind, tmp_path)
    base = calculation(parapet_wind, tmp_path, ("height: 4 ft", "height: 4 ft\n    brace_height: 3 ft"))
    p = number(wind, "parapet_case_a_corner", "psf")
    assert number(base, "brace", "lbf/ft") == pytest.approx(p * 16.0 / 6.0)
    assert number(base, "brace_service", "lbf/ft") == pytest.approx(0.6 * p * 16.0 / 6.0)
    quake = seismic(tmp_path, ("weight: 20 psf", "weight: 20 psf\n    brace_height: 3 ft"))
    assert number(quake, "brace", "lbf/ft") == pytest.approx(1.2 * 20.0 * 16.0 / 6.0)
    assert number(quake, "shear_service", "lbf/ft") == pytest.approx(0.7 * 1.2 * 20.0 * 4.0)
    assert number(quake, "moment_service", "lbf·ft/ft") == pytest.approx(0.7 * 1.2 * 20.0 * 8.0)


def test_without_braces_no_force_is_made_up(tmp_path: Path) -> None:
    assert calculation(parapet_wind, tmp_path).results["brace"].value == parapet_wind.NO_BRACES


@pytest.mark.parametrize(
    ("code", "edition"), [("IBC 2015", "7-10"), ("IBC 2021", "7-16"), ("IBC 2024", "7-22")]
)
def test_the_force_is_cited_from_the_edition_of_the_code(tmp_path: Path, code: str, edition: str) -> None:
    found = seismic(tmp_path, ("IBC 2021", code))
    (line,) = (line for line in found.steps if line.symbol == "a")
    assert f"ASCE {edition} Eq. 13.3-1" in line.formula
