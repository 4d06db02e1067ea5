"""The walls of docs/hourly-moisture.md: worked examples, stated changes of them, and the years they stand in."""

from __future__ import annotations

import re
import tempfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pvlib

from specgen.assessment import settled
from specgen.intake.project import load_project
from specgen.model.project import Project
from specgen.practice.entries import Practice
from specgen.practice.load import load_practice

ROOT = Path(__file__).parents[1]
DATA = Path(pvlib.__file__).parent / "data"
Change = tuple[str, str]  # a regular expression, and what stands in its place


@dataclass(frozen=True)
class Climate:
    """A public year of weather; rain: monthly depths where its file has no usable rain, invented by this study."""

    name: str
    file: str
    rain: str = ""


MIXED = Climate("mixed-humid", "723170TYA.CSV")
HOT = Climate("hot-humid", "12839.tm2", "50, 50, 60, 80, 140, 240, 160, 220, 250, 160, 80, 50 mm")
MARINE = Climate("cold marine", "703165TY.csv", "100, 75, 75, 60, 75, 75, 75, 100, 125, 125, 115, 115 mm")
CLIMATES = (MIXED, HOT, MARINE)


@dataclass(frozen=True)
class Wall:
    """A wall of the study: an example in a climate, with changes of its file and a leak at the joint of the coping."""

    name: str
    what: str
    example: str
    climate: Climate
    changes: tuple[Change, ...] = ()
    top_leak: float = 0.0


LAYER = r"\{role: drainage layer, [^}]*\}"
LAP = r"\n *- \{between: \[[^\]]*drainage layer\][^\n]*"
BARRIER = r"\{role: barrier, [^}]*(?:\{[^}]*\}[^}]*)?\}"
NO_LAYER: tuple[Change, ...] = ((LAYER, "{role: drainage layer, kind: none}"), (LAP, ""))


def layer(kind: str, open_at_top: bool) -> tuple[Change, ...]:
    """The drainage layer of a kind, its gap open at the top or not."""
    at_top = "yes" if open_at_top else "no"
    return (
        (LAYER, f"{{role: drainage layer, kind: {kind}, floor_line: drains out, open_at_top: {at_top}}}"),
    )


def barrier(perm: float) -> tuple[Change, ...]:
    """A fluid-applied barrier of a permeance."""
    fluid = f"{{role: barrier, kind: fluid-applied, family: STPE fluid, vapor_permeance: {perm:g} perm}}"
    return ((BARRIER, fluid),)


LAYERS: tuple[tuple[str, tuple[Change, ...]], ...] = (
    ("dimpled sheet, open at top and bottom", layer("dimpled sheet", True)),
    ("dimpled sheet, open at the bottom alone", layer("dimpled sheet", False)),
    ("mesh", layer("mesh", False)),
    ("grooved mat", layer("grooved mat", False)),
    ("none", NO_LAYER),
)
CLASSES = (("vapor open", 20.0), ("class III", 5.0), ("class II", 0.5), ("class I", 0.05))  # perm

EXAMPLES = (
    Wall(
        "cold continental school",
        "Gypsum and steel studs, plaster over 2 in of extruded polystyrene, dark roof membrane over insulation.",
        "cold-continental-school",
        MIXED,
    ),
    Wall("existing repair", "Plywood and wood studs with mineral wool, reclad.", "existing-repair", MIXED),
    Wall(
        "fluid-applied roof",
        "Gypsum and steel studs, a roof membrane laid as a fluid up the parapet.",
        "fluid-applied-roof",
        MIXED,
    ),
    Wall(
        "hot-humid lowrise",
        "Plywood and wood studs, ventilated gap, acrylic finish, self-adhered barrier.",
        "hot-humid-lowrise",
        HOT,
    ),
    Wall(
        "marine library",
        "Cast concrete with a vapor-open barrier and a grooved mat.",
        "marine-library",
        MARINE,
    ),
    Wall(
        "mixed-humid midrise",
        "Gypsum and steel studs, dimpled sheet closed at the top, light roof membrane.",
        "mixed-humid-midrise",
        MIXED,
    ),
    Wall(
        "plaster-covered top",
        "Plaster over the top and down the roof side, its gap carried over.",
        "plaster-covered-top",
        HOT,
    ),
)
BROKEN = (
    Wall(
        "no drainage gap",
        "The mixed-humid midrise with its plaster straight on the barrier.",
        "mixed-humid-midrise",
        MIXED,
        NO_LAYER,
    ),
    Wall(
        "mesh under a black roof",
        "The hot-humid lowrise with mesh, closed at the top, a vapor-open barrier (20 perm), and a black EPDM turn-up.",
        "hot-humid-lowrise",
        HOT,
        (*layer("mesh", False), *barrier(20.0), (r"roof turn-up, kind: PVC", "roof turn-up, kind: EPDM")),
    ),
    Wall(
        "retarders on both sides",
        "The existing repair with a class I barrier (0.05 perm) and a class I retarder inside.",
        "existing-repair",
        MIXED,
        (*barrier(0.05), (r"interior_retarder: none", "interior_retarder: class I")),
    ),
    Wall(
        "plaster top without a drip",
        "The plaster-covered top whose gap stops below it: plaster straight on the membrane across the top.",
        "plaster-covered-top",
        HOT,
        ((r"drainage_over_top: yes", "drainage_over_top: no"),),
    ),
    Wall(
        "leak at the coping joint",
        "The mixed-humid midrise with 2 % of the rain on its top past joint and membrane into the blocking.",
        "mixed-humid-midrise",
        MIXED,
        (),
        0.02,
    ),
)
WALLS = (*EXAMPLES, *BROKEN)


@cache
def practice() -> Practice:
    """The numbers of the trade."""
    return load_practice()


def project(example: str, climate: Climate, changes: tuple[Change, ...] = ()) -> Project:
    """An example in a climate, changed, with the limits of its sections for values that nobody stated.

    Raises:
        ValueError: a change finds nothing to change.
    """
    text = (ROOT / "projects" / example / "project.yaml").read_text(encoding="utf-8")
    if climate.rain:
        changes = ((r"\nsite: \{", f'\nsite: {{rain_months: "{climate.rain}", '), *changes)
    for old, new in changes:
        text, count = re.subn(old, lambda _, new=new: new, text)  # type: ignore[misc]
        if not count:
            raise ValueError(f"{example}: nothing matches {old}")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "project.yaml"
        path.write_text(text, encoding="utf-8")
        return settled(load_project(path, practice(), DATA / climate.file), practice())


def with_barrier(example: str, climate: Climate, changes: tuple[Change, ...]) -> tuple[Change, ...]:
    """The changes, and the permeance that the barrier of the example as it is has by its sections, stated.

    A limit may stand for a value with one drainage layer and not with another; the tables compare like with like.
    """
    part = project(example, climate).parapets[0].part("barrier")
    permeance = part.si("vapor_permeance") if part is not None else None
    if permeance is None:
        raise ValueError(f"{example}: no permeance of the barrier")
    (found,) = re.findall(BARRIER, (ROOT / "projects" / example / "project.yaml").read_text("utf-8"))[:1]
    if "vapor_permeance:" in found:
        return changes
    return (
        *changes,
        (re.escape(found), f"{found[:-1]}, vapor_permeance: {permeance * 1e12:.4g} ng/(Pa·s·m2)}}"),
    )
