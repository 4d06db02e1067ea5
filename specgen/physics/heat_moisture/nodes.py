"""Nodes of the scheme one after the other: places in the tables, what is stored, how far Newton moves (`march`)."""

from __future__ import annotations

from typing import Any, Final

from specgen.physics.heat_moisture.compiled import compiled
from specgen.physics.heat_moisture.flows import CW, FILM_SPAN, STEPS, T0, TAKING, film_water, pore_vapor
from specgen.physics.heat_moisture.porous import HIGHEST, LOWEST, POINTS, SCALE

MOST_KELVIN: Final = 15.0
MOST_POTENTIAL: Final = 2.0
"""Largest changes of temperature [K] and potential [-] in one turn of Newton."""
BEHIND: Final = 1e-9
"""How far behind a bend a node stops [-]."""


@compiled
def vapor_state(temps: Any, potentials: Any, suctions: Any, at: Any, share: Any, vapor: Any) -> None:
    """Place in the tables, and vapor pressure of each node with its slopes over T and y, into ``vapor`` (n, 3)."""
    for i in range(temps.size):
        place = (potentials[i] - LOWEST) * STEPS
        k = min(max(int(place), 0), POINTS - 2)
        at[i] = k
        share[i] = place - k
        rise = suctions[k + 1] - suctions[k]
        vapor[i, 0], vapor[i, 1], vapor[i, 2] = pore_vapor(
            temps[i], suctions[k] + share[i] * rise, STEPS * rise
        )


@compiled
def stored(
    temps: Any, potentials: Any, at: Any, share: Any, tables: Any, heats: Any, links: Any, spans: Any,
    films: Any, water: Any, heat: Any,
) -> None:  # fmt: skip
    """Water [kg/m²] of nodes and its slope over y into ``water`` (n, 2); heat [J/m²] likewise into ``heat`` (n, 3)."""
    n = temps.size
    for i in range(n):
        w, slope = film_water(potentials[i], films[i])
        dry = 0.0
        k = at[i]
        for side in range(max(i - 1, 0), min(i + 1, n - 1)):
            m = links[side]
            if m >= 0:
                half = 0.5 * spans[side]
                low = tables[m, k, 0]
                rise = tables[m, k + 1, 0] - low
                w += half * (low + share[i] * rise)
                slope += half * STEPS * rise
                dry += half * heats[m]
        t = temps[i] - T0
        water[i, 0] = w
        water[i, 1] = slope
        heat[i, 0] = (dry + CW * w) * t
        heat[i, 1] = dry + CW * w
        heat[i, 2] = CW * slope * t


@compiled
def stopped(old: Any, new: Any, bend: Any) -> Any:
    """A new potential, or just behind a bend that lies between; floats or arrays."""
    down = (old > bend + BEHIND) & (new < bend)
    up = (old < bend - BEHIND) & (new > bend)
    return new + down * (bend - BEHIND - new) + up * (bend + BEHIND - new)


@compiled
def moved(
    temps: Any, potentials: Any, changes: Any, films: Any, takes: Any, offer: Any, share: float
) -> None:  # fmt: skip
    """The unknowns less a share of their changes, no farther than the next bend of what a node stores or takes.

    A film begins at `FILM_SPAN` and is full at no suction; an open face takes all that is offered down to a suction of
    offer / `TAKING`. A node that would pass such a bend stops just behind it, where the slopes of the next turn hold:
    across a bend they would throw it back.
    """
    for i in range(temps.size):
        temps[i] -= max(min(share * changes[i, 0], MOST_KELVIN), -MOST_KELVIN)
        old = potentials[i]
        new = old - max(min(share * changes[i, 1], MOST_POTENTIAL), -MOST_POTENTIAL)
        if films[i] > 0.0:
            new = stopped(old, new, FILM_SPAN)
            new = stopped(old, new, 0.0)
        if takes[i] >= 0 and offer[takes[i]] > 0.0:
            new = stopped(old, new, offer[takes[i]] / (TAKING * SCALE))
        potentials[i] = max(min(new, HIGHEST), LOWEST)
