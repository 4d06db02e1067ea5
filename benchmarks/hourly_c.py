"""The scheme of the hourly model in C, compiled in the run, on the very arrays that the compiled Python reads."""

from __future__ import annotations

import ctypes
import os
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import numpy as np
from hourly_wall import Case

from specgen.physics.heat_moisture import flows, march, nodes, porous
from specgen.physics.heat_moisture.simulate import Ready, prepare

SOURCE = Path(__file__).parent / "hourly_march.c"
CONSTANTS: tuple[tuple[ModuleType, str], ...] = (
    (flows, "STEPS KELVIN FILM_SPAN TAKING REFERENCE L0 CV CW T0 SIGMA R_AIR LIGHTER RHO_CP"),
    (flows, "WATER_A WATER_B ICE_A ICE_B PRESSURE_AT_ZERO GAS_CONSTANT_VAPOR GRAVITY STANDARD_ATMOSPHERE"),
    (porous, "LOWEST HIGHEST POINTS SCALE"),
    (nodes, "MOST_KELVIN MOST_POTENTIAL BEHIND"),
    (march, "MOST_TURNS MASS_CLOSED HEAT_CLOSED SHORTEST HOUR FIRST_STAGE ON GUESS FREE"),
)
ORDER = (
    *(
        "temps",
        "ys",
        "tables",
        "suctions",
        "heats",
        "exponents",
        "links",
        "spans",
        "films",
        "takes",
        "gaps",
    ),
    *(
        "outer",
        "inner",
        "emits",
        "airs",
        "offered",
        "steps",
        "staged",
        "watched",
        "layers",
        "seen_t",
        "seen_y",
    ),
    *("water", "taken", "tally"),
)


class _Wall(ctypes.Structure):
    _fields_ = [
        *((name, ctypes.c_long) for name in ("n", "hours", "offers", "gap_count", "watched_count", "parts")),
        *((name, ctypes.c_void_p) for name in ORDER),
    ]


def compiler() -> str | None:
    """The C compiler of this machine."""
    return shutil.which(os.environ.get("CC", "cc"))


def compile_c(folder: Path) -> Callable[[Ready], None]:
    """The scheme compiled with -O3: a call that takes a wall made ready through its hours."""
    cc = compiler()
    assert cc is not None
    lines = [f"#define {name} {getattr(room, name)!r}" for room, names in CONSTANTS for name in names.split()]
    (folder / "constants.h").write_text("\n".join(lines) + "\n", encoding="ascii")
    library = folder / "march.so"
    words = [cc, "-O3", "-shared", "-fPIC", f"-I{folder}", str(SOURCE), "-o", str(library), "-lm"]
    subprocess.run(words, check=True)
    loaded = ctypes.CDLL(str(library)).march
    loaded.restype, loaded.argtypes = ctypes.c_long, [ctypes.POINTER(_Wall)]

    def run(ready: Ready) -> None:
        wall = ready.wall
        suctions = porous.suction(porous.potentials())
        held = {
            "suctions": suctions,
            "staged": ready.staged.astype(np.uint8),
        }
        arrays = []
        for name in ORDER:
            one = held.get(name, getattr(ready, name, None))
            arrays.append(np.ascontiguousarray(getattr(wall, name) if one is None else one))
        sizes = (
            wall.nodes,
            ready.steps.size,
            ready.offered.shape[1],
            wall.gaps.shape[0],
            ready.watched.size,
            len(wall.parts),
        )
        ended = loaded(ctypes.byref(_Wall(*sizes, *(one.ctypes.data for one in arrays))))
        assert ended == 0, f"not solved at hour {ended}"

    return run


def ready(case: Case) -> Ready:
    """A wall of the benchmarks with its arrays."""
    return prepare(case.wall, case.outside, case.inside, (0, case.wall.first[4]), case.sources)


def by_loops(one: Ready) -> None:
    """The compiled Python on the same arrays."""
    wall = one.wall
    ended = march.march(
        one.temps, one.ys, one.tables, porous.suction(porous.potentials()), one.heats, one.exponents, wall.links,
        wall.spans, wall.films, one.takes, wall.gaps, one.outer, one.inner, one.emits, one.airs,
        one.offered, one.steps, one.staged, one.watched, wall.layers, one.seen_t, one.seen_y, one.water, one.kept,
        one.profile_t, one.profile_y, one.taken, one.tally,
    )  # fmt: skip
    assert ended == (-1, -1), ended
