"""The paper that documents, drawings, workbooks and pages are set on: one choice a project."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

PaperName = Literal["Letter", "A4"]


@dataclass(frozen=True)
class PaperSize:
    """A sheet standing upright [mm], and whether somebody chose it: then it goes before the page of a Word template."""

    name: PaperName
    width: float
    height: float
    chosen: bool = False


LETTER = PaperSize("Letter", 215.9, 279.4)
A4 = PaperSize("A4", 210.0, 297.0)
SIZES: Mapping[str, PaperSize] = {one.name: one for one in (LETTER, A4)}


@dataclass(frozen=True)
class Issuer:
    """The office whose standards a project is written under: its name, and the paper it chooses; "" where none is."""

    name: str = ""
    paper: str = ""


def paper_size(system: str, *choices: str | None) -> PaperSize:
    """The paper of a project: the first choice that names one, else what its language of units goes with.

    Args:
        system: the language of units: ``inch-pound``, ``SI`` or ``both``.
        choices: names of paper, the one that goes before the others first.

    >>> paper_size("SI").name, paper_size("both").name, paper_size("SI", None, "Letter").name
    ('A4', 'Letter', 'Letter')
    """
    for name in choices:
        if name and name in SIZES:
            return replace(SIZES[name], chosen=True)
    return A4 if system == "SI" else LETTER
