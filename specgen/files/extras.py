"""Packages that only some work needs: what is missing, and how to get it, in one sentence everywhere."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from importlib.util import find_spec


@dataclass(frozen=True)
class Extra:
    """What an extra is for, and its packages: the module that is imported, and the name that is installed."""

    work: str
    packages: Mapping[str, str]


EXTRAS: Mapping[str, Extra] = {
    "plots": Extra("drawings of calculations", {"matplotlib": "matplotlib"}),
    "studies": Extra("long studies", {"scipy": "scipy"}),
    "hourly": Extra("the hours at full speed", {"numba": "numba"}),
    "portfolio": Extra("a Dask cluster", {"distributed": "distributed"}),
    "bim": Extra("a building model", {"ifcopenshell": "ifcopenshell"}),
    "pdf": Extra("documents as PDF", {"weasyprint": "weasyprint"}),
    "page": Extra(
        "the page", {"starlette": "starlette", "uvicorn": "uvicorn", "python_multipart": "python-multipart"}
    ),
}


def missing(extra: str) -> str:
    """What to tell where a package of an extra is not installed; "" where all of them are.

    Args:
        extra: its name, as in ``pip install .[plots]``.
    """
    one = EXTRAS[extra]
    absent = [name for module, name in one.packages.items() if find_spec(module) is None]
    if not absent:
        return ""
    install = f"python -m pip install {' '.join(absent)}"
    return f"missing for {one.work}: {', '.join(absent)}; install the extra `{extra}`: {install}"
