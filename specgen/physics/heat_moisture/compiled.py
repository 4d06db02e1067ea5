"""Numba where the extra ``hourly`` is installed; the same functions as plain Python where it is not."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from functools import cache
from hashlib import sha256
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from typing import Any, TypeVar

Function = TypeVar("Function", bound=Callable[..., Any])

COMPILED: bool = find_spec("numba") is not None
"""Whether loops over hours run compiled."""
BESIDE = ("constants", "gap_air", "gap_balance", "largest_share", "mold", "moist_air", "moisture_hours")
"""Files of the room above that a simulation, or the reading of its hours, takes its formulas from."""


def compiled(function: Function) -> Function:
    """A function compiled when first called; its machine code is kept for the next run of the same program.

    Numba looks at the file of a function alone when it asks whether kept code is stale. Constants and functions of
    other files are built in too, so the code is kept under the sum of all of them.
    """
    if not COMPILED:
        return function
    numba: Any = import_module("numba")
    before = numba.config.CACHE_DIR
    numba.config.CACHE_DIR = str(_kept())
    try:
        made: Function = numba.njit(cache=True, error_model="numpy")(function)
    finally:
        numba.config.CACHE_DIR = before
    return made


def plain(function: Function) -> Function:
    """The Python function behind a compiled one: it takes arrays where the formula does."""
    return getattr(function, "py_func", function)


@cache
def program_sum() -> str:
    """The sum of the files that a simulation and its reading are made by: what was kept under another is stale."""
    here = Path(__file__).parent
    read = sha256()
    for file in sorted((*here.glob("*.py"), *(here.parent / f"{name}.py" for name in BESIDE))):
        read.update(file.read_bytes())
    return read.hexdigest()[:16]


@cache
def _kept() -> Path:
    """Where compiled code is kept: in the user's cache, or beside other temporary files where there is none."""
    base = os.environ.get("LOCALAPPDATA") or os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    wanted = Path(base) / "specgen" / f"hourly-{program_sum()}"
    try:
        wanted.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=wanted):
            return wanted
    except OSError:
        return Path(tempfile.mkdtemp(prefix="specgen-"))
