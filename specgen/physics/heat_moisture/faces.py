"""What the hours bring to a face of a wall: air, light, long waves and rain."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from specgen.arrays import NDArray, np

Array: TypeAlias = "NDArray[np.float64]"


@dataclass(frozen=True, eq=False)
class Face:
    """Means over each hour at one face, every array of shape (hours,).

    air_c: air temperature [°C]. vapor_pa: vapor pressure of the air [Pa]. convection: h_c [W/(m²·K)]. vapor_film: β
    [kg/(m²·s·Pa)]. sun: absorbed, absorptance times irradiance [W/m²]. longwave: what sky, ground or room send
    onto the face [W/m²]; the face sends ε σ T⁴ back, ``emittance`` ε [-]. rain: what is offered to the face as liquid
    [kg/(m²·s)]; what it does not take runs off.
    """

    air_c: Array
    vapor_pa: Array
    convection: Array
    vapor_film: Array
    sun: Array
    longwave: Array
    rain: Array
    emittance: float
