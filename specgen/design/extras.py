"""Packages that only the long studies need."""

from __future__ import annotations

from specgen.design.worksheet import Worksheet
from specgen.files.extras import missing

STUDIES = "studies"


def need_scipy(work: Worksheet) -> None:
    """Stop where scipy is not installed.

    Raises:
        Unknown: it is not; the worksheet says how to install it.
    """
    if why := missing(STUDIES):
        raise work.stop(why)
