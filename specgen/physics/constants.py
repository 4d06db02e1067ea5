"""Physical constants, each once, with its unit and reference.

Exact constants are exact by definition of the SI (2019). Water and air properties hold at the stated
temperature; a calculation that needs another temperature takes the value as an argument.
"""

from __future__ import annotations

from typing import Final

GAS_CONSTANT: Final = 8.31446261815324
"""Molar gas constant R [J/(mol·K)]. Exact. BIPM, The International System of Units, 9th ed. (2019)."""

GRAVITY: Final = 9.80665
"""Standard acceleration of gravity g0 [m/s²]. Exact. 3rd CGPM (1901)."""

ZERO_CELSIUS: Final = 273.15
"""Thermodynamic temperature of 0 °C [K]. Exact. SI."""

STANDARD_ATMOSPHERE: Final = 101325.0
"""Standard atmospheric pressure at sea level [Pa]. Exact. 10th CGPM (1954); ISO 2533."""

SOLAR_CONSTANT: Final = 1367.0
"""Solar irradiance outside the atmosphere at the mean sun distance [W/m²].
ASHRAE Handbook of Fundamentals, climatic design information. Later satellites read 1361 W/m² (0.4 % less)."""

MOLAR_MASS_WATER: Final = 18.015268e-3
"""Molar mass of water [kg/mol]. IAPWS R6-95(2018)."""

MOLAR_MASS_DRY_AIR: Final = 28.966e-3
"""Molar mass of dry air [kg/mol]. ASHRAE Handbook of Fundamentals, psychrometrics."""

GAS_CONSTANT_VAPOR: Final = GAS_CONSTANT / MOLAR_MASS_WATER
"""Specific gas constant of water vapor [J/(kg·K)], about 461.5. Derived."""

GAS_CONSTANT_DRY_AIR: Final = GAS_CONSTANT / MOLAR_MASS_DRY_AIR
"""Specific gas constant of dry air [J/(kg·K)], about 287.0. Derived."""

MOLAR_MASS_RATIO: Final = 0.621945
"""Molar mass of water over that of dry air [-]. ASHRAE Handbook of Fundamentals, psychrometrics, eq. 20."""

LATENT_HEAT_VAPORISATION_0C: Final = 2.501e6
"""Heat of vaporisation of water at 0 °C [J/kg]. ASHRAE Handbook of Fundamentals, psychrometrics, eq. 30."""

SPECIFIC_HEAT_DRY_AIR: Final = 1006.0
"""Specific heat of dry air at constant pressure [J/(kg·K)]. ASHRAE Handbook of Fundamentals, eq. 30."""

SPECIFIC_HEAT_VAPOR: Final = 1860.0
"""Specific heat of water vapor at constant pressure [J/(kg·K)]. ASHRAE Handbook of Fundamentals, eq. 30."""

SPECIFIC_HEAT_WATER: Final = 4186.0
"""Specific heat of liquid water [J/(kg·K)]. ASHRAE Handbook of Fundamentals, psychrometrics, eq. 33."""

STEFAN_BOLTZMANN: Final = 5.670374419e-8
"""Stefan-Boltzmann constant [W/(m²·K⁴)]. Exact by definition of the SI (2019), as rounded by CODATA 2018."""

WATER_DENSITY_20C: Final = 998.2
"""Density of liquid water at 20 °C, one atmosphere [kg/m³]. IAPWS R6-95; checked against CoolProp."""

WATER_VISCOSITY_20C: Final = 1.0016e-3
"""Dynamic viscosity of liquid water at 20 °C [Pa·s]. IAPWS R12-08; checked against CoolProp."""

WATER_SURFACE_TENSION_20C: Final = 72.74e-3
"""Surface tension of water against air at 20 °C [N/m]. IAPWS R1-76(2014), eq. 1; CoolProp: 0.1 % more."""

AIR_DENSITY_20C: Final = 1.2041
"""Density of dry air at 20 °C, one atmosphere [kg/m³]. Ideal gas law; checked against CoolProp."""

AIR_VISCOSITY_20C: Final = 1.82e-5
"""Dynamic viscosity of dry air at 20 °C [Pa·s]. Checked against CoolProp."""
