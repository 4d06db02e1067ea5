"""The clear design day against an independent clear-sky model, and rain figures of the trade.

Sun: pvlib's simplified Solis model (Ineichen 2008), a different model with its own inputs: reference library. A
humid summer day is taken there as aerosol depth 0.2 and 3.5 cm of precipitable water. Two clear-sky models agree to
some 15 %.
"""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from pvlib.clearsky import simplified_solis
from pvlib.irradiance import get_extra_radiation, get_total_irradiance
from pvlib.solarposition import get_solarposition

from specgen.design.drive_study import Sky, design_day
from specgen.physics.reservoir import time_to_saturation, uptake
from specgen.practice.entries import cell
from specgen.practice.load import load_practice
from tests.published.register import How, published

FILM = 17.0
BLACK = Sky(0.2, 1.0, 1.0, FILM)


@published(
    "inward drive",
    "sun on a wall through a clear day: sum, peak and its hour",
    "pvlib, simplified_solis, get_total_irradiance",
    "Ineichen 2008, on the wall Perez 1990",
    "15 %; 1 h",
    How.PACKAGE,
)
@pytest.mark.parametrize("latitude", [26.0, 36.0, 48.0])
@pytest.mark.parametrize("azimuth", [90.0, 180.0, 270.0])
def test_clear_day_against_solis(latitude: float, azimuth: float) -> None:
    day = design_day(latitude, azimuth, 35.0, 11.0, 22.0, (0.45, 2.1), BLACK)
    ours = (day.face_c - day.air_c) * FILM
    # Greenwich, so that clock time is solar time but for the equation of time (6 min in July).
    hours = pd.date_range("2001-07-21 00:30", periods=24, freq="h", tz="UTC")
    sun = get_solarposition(hours, latitude, 1.6)
    extra = float(get_extra_radiation(202))
    sky = simplified_solis(sun["apparent_elevation"], 0.2, 3.5, dni_extra=extra)
    place = (90.0, azimuth, sun["zenith"], sun["azimuth"], sky["dni"], sky["ghi"], sky["dhi"])
    on_wall = get_total_irradiance(*place, dni_extra=extra, albedo=0.2, model="perez")
    theirs = on_wall["poa_global"].fillna(0.0).to_numpy()
    assert ours.sum() == pytest.approx(theirs.sum(), rel=0.15)
    assert ours.max() == pytest.approx(theirs.max(), rel=0.15)
    assert abs(int(np.argmax(ours)) - int(np.argmax(theirs))) <= 1


@published(
    "plaster reservoir",
    "water uptake of cement plaster",
    "encyclopedia article on the water absorption coefficient",
    "examples of building materials, read in an open encyclopedia",
    "2 to 3 kg/(m²·√h)",
    How.READ,
)
def test_uptake_of_cement_plaster_per_root_hour() -> None:
    """Cement plaster takes up 2 to 3 kg/(m²·√h) (public encyclopedia, read); 7/8 in is full within a day of film."""
    (row,) = load_practice().table("material_properties").where(material="portland cement plaster")
    absorption = cell(row, "absorption").value
    assert 2.0 <= uptake(absorption, 3600.0) <= 3.0
    assert time_to_saturation(absorption, 0.022, cell(row, "free_saturation").value) < 86_400.0
