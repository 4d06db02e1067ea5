"""Packages that only the long studies need."""

from __future__ import annotations

from importlib.util import find_spec

from specgen.design.worksheet import Worksheet


def need_scipy(work: Worksheet) -> None:
    """Stop where scipy is not installed.

    Raises:
        Unknown: it is not; the worksheet says how to install it.
    """
    if find_spec("scipy") is None:
        raise work.stop("the package scipy is not installed: pip install scipy")
