"""Drying of a layer and swings through one, as series and in closed form; nothing of `specgen` is imported."""

from __future__ import annotations

import numpy as np

from tests.published.heat_moisture_reference import Array


def drying_layer(
    x: Array, time: float, thickness: float, diffusivity: float, start: float, left: float, right: float
) -> Array:
    """Water in a layer of constant diffusivity whose two faces are brought to ``left`` and ``right`` at time 0.

    w = w_l + (w_r − w_l) x/L + Σ_n (2/nπ) [(w_0 − w_l) − (−1)^n (w_0 − w_r)] sin(nπx/L) exp(−n²π²Dt/L²)
    """
    n = np.arange(1, 400)[:, None]
    weight = 2.0 / (n * np.pi) * ((start - left) - (-1.0) ** n * (start - right))
    decay = np.exp(-((n * np.pi / thickness) ** 2) * diffusivity * time)
    sine = np.sin(n * np.pi * x / thickness)
    return np.asarray(left + (right - left) * x / thickness + (weight * decay * sine).sum(axis=0))


def drying_mean(time: Array, thickness: float, diffusivity: float, start: float, end: float) -> Array:
    """Mean water of a layer that dries from both faces, Σ 8/((2n+1)²π²) exp(−(2n+1)²π²Dt/L²) of what it loses."""
    n = 2 * np.arange(0, 200)[:, None] + 1
    left = (8.0 / (n * np.pi) ** 2 * np.exp(-((n * np.pi / thickness) ** 2) * diffusivity * time)).sum(axis=0)
    return np.asarray(end + (start - end) * left)


def admittance(
    thickness: float, conduction: float, heat: float, films: tuple[float, float], period: float
) -> Array:
    """Periodic transfer matrix of a homogeneous layer between two films [m²·K/W], by ISO 13786: (2, 2), complex."""
    depth = np.sqrt(period * conduction / (np.pi * heat))
    xi = (1.0 + 1j) * thickness / depth
    layer = np.array(
        [
            [np.cosh(xi), -depth / (conduction * (1.0 + 1j)) * np.sinh(xi)],
            [-conduction * (1.0 + 1j) / depth * np.sinh(xi), np.cosh(xi)],
        ]
    )
    first, second = (np.array([[1.0, -film], [0.0, 1.0]]) for film in films)
    return np.asarray(second @ layer @ first)
