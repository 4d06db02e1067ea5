"""Projects to draw: the demos, and fifty made of the first one by chance that is always the same."""

from __future__ import annotations

import copy
import random
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

from specgen.assessment import assess
from specgen.drawing.shapes import Drawing
from specgen.drawing.sheets import sheets
from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from specgen.sections.clause_file import load_clauses
from specgen.sections.lines import SectionError
from specgen.specification import Specification, specify
from specgen.units.quantity import parse
from tests import plain_yaml

DEMOS = sorted(path.parent for path in Path("tests/stated").glob("*/project.yaml"))
MADE = 50
PRACTICE = load_practice()

# A kind to try, and sizes from nothing like a wall to far beyond one.
KINDS = {
    "drainage layer": ["dimpled sheet", "mesh", "grooved mat"],
    "sheathing": ["glass-mat gypsum", "plywood", "OSB", "concrete", "concrete masonry"],
    "framing": ["cold-formed steel studs", "wood studs", "concrete", "concrete masonry"],
    "barrier": ["fluid-applied", "self-adhered", "mechanically fastened", "building paper"],
    "roof turn-up": ["TPO", "PVC", "EPDM", "SBS-modified bitumen", "fluid-applied"],
    "coping": ["formed metal", "formed metal", "stone", "precast concrete", "plaster-covered"],
}
SIZES = {
    "thickness": ["1/16 in", "1 in", "9 in", "250 mm"],
    "depth": ["1 mm", "3/16 in", "2 in"],
    "height": ["6 in", "12 in", "1 m", "9 ft"],
    "slope": ["0 %", "2 %", "1/2 in/ft", "20 %"],
    "outer_face_height": ["2 in", "10 in", "600 mm"],
    "outer_drip": ["0 in", "1 in", "80 mm"],
    "inner_leg": ["1 in", "8 in"],
    "each_side": ["2 in", "12 in"],
    "flange": ["1 in", "6 in"],
    "lap": ["1/2 in", "6 in", "18 in"],
}
# Places to have, and what is chosen of each value.
PLACES: dict[str, dict[str, list[Any]]] = {
    "corners": {
        "turn": ["outside", "inside"],
        "coping": ["welded", "butted", None],
        "flashing": ["preformed piece", "fluid-applied", "cut and butted", None],
        "drainage": ["runs around", "stops"],
    },
    "ends": {
        "end_dam": [True, False],
        "saddle_flashing": ["welded", "none", None],
        "counterflashing": [
            "behind the wall barrier",
            "let into the wall",
            "surface mounted and sealed",
            "none",
            None,
        ],
        "wall_lap": ["1 in", "6 in", None],
    },
    "steps": {
        "height": ["2 in", "450 mm", "9 ft"],
        "coping": ["welded", None],
        "flashing": ["preformed piece"],
        "end_dam": [True, False],
    },
    "joints": {
        "what": ["expansion", "seismic"],
        "width": ["1/2 in", "100 mm", "20 in"],
        "movement": ["1/4 in", None],
        "coping": ["sliding cover", "runs through", None],
        "flashing": ["looped", "flat", "cut"],
        "barrier": ["looped", "flat", None],
    },
    "penetrations": {
        "what": ["railing post", "pipe", "cable"],
        "diameter": ["1/4 in", "10 in", None],
        "sealed_by": ["boot", "flange", "fluid-applied flashing", "sealant", "none", None],
    },
}
PARAPET_SIZES = {
    "height": ["4 in", "18 in", "42 in", "1.1 m", "14 ft"],
    "thickness": ["3 in", "11 in", "400 mm", "4 ft"],
    "length": ["5 ft", "33 ft", "96 m"],
    "plaster_height": ["2 ft", "12 ft", "30 m"],
}


@cache
def demo(folder: Path) -> Specification:
    """One demo project with its sections."""
    return _issue(load_project(folder, PRACTICE))


@cache
def sheets_of(folder: Path) -> tuple[Drawing, ...]:
    """The sheets of one demo project."""
    return tuple(sheets(demo(folder)))


@cache
def made(number: int) -> Specification:
    """A project made by chance, with its sections."""
    chance = random.Random(number)
    content = copy.deepcopy(whole())
    content["project"]["units"] = chance.choice(["inch-pound", "SI", "both"])
    for parapet in content["parapets"]:
        _changed(parapet, chance)
    _roof(content["building"], chance)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "project.yaml"
        path.write_text(plain_yaml.dump(content))
        return _issue(load_project(path, PRACTICE))


def whole() -> dict[str, Any]:
    """The first demo that has types, with one parapet written out."""
    content: dict[str, Any] = plain_yaml.load(
        Path("tests/stated/mixed-humid-midrise/project.yaml").read_text()
    )
    parapet = content["parapets"][0]
    content["parapets"] = [{**content.pop("types")[parapet.pop("type")], **parapet}]
    content.pop("maker_letters", None)
    content.pop("waivers", None)
    return content


def _changed(parapet: dict[str, Any], chance: random.Random) -> None:
    parapet["name"] = chance.choice(
        ["P-1", "Süd <&> 1", "a very long name of a parapet that no sheet has room for"]
    )
    for parts in (parapet["build_up"], parapet["top"]):
        for part in list(parts):
            if chance.random() < 0.12:
                parts.remove(part)
                continue
            if part["role"] in KINDS and chance.random() < 0.4:
                part["kind"] = chance.choice(KINDS[part["role"]])
            for name in list(part):
                if name in SIZES and chance.random() < 0.3:
                    part[name] = chance.choice(_sizes(part["role"], name))
                elif name not in ("role", "kind", "id") and chance.random() < 0.15:
                    del part[name]
    _joints(parapet, chance)
    for name, sizes in PARAPET_SIZES.items():
        if chance.random() < 0.5:
            parapet[name] = chance.choice(sizes)
        elif name != "height" and chance.random() < 0.3:
            parapet.pop(name, None)
    _places(parapet, chance)
    if chance.random() < 0.3:
        seal = {"role": "base seal", "kind": "self-adhered sheet", "family": "butyl"}
        parapet["build_up"].append(seal)
    if chance.random() < 0.3:
        parapet["scuppers"] = [
            {"name": "S-1", "use": "overflow", "position": "2 ft", "width": "6 in", "height": "4 in"}
        ]


def _places(parapet: dict[str, Any], chance: random.Random) -> None:
    ids = [part.get("id", part["role"]) for part in (*parapet["build_up"], *parapet["top"])]
    for key, fields in PLACES.items():
        if chance.random() < 0.5:
            made = {name: chance.choice(choices) for name, choices in fields.items()}
            place = {"name": f"the {key} <&>", **{name: one for name, one in made.items() if one is not None}}
            if key == "penetrations":
                place["through"] = chance.choice(ids)
            parapet[key] = [place]


def _sizes(role: str, name: str) -> list[str]:
    """The sizes that a part of this role can have at all."""
    possible = PRACTICE.vocabulary.roles[role].fields[name].possible
    return [size for size in SIZES[name] if possible is None or possible.holds(parse(size))]


def _joints(parapet: dict[str, Any], chance: random.Random) -> None:
    ids = {part.get("id", part["role"]) for part in (*parapet["build_up"], *parapet["top"])}
    kept = []
    for joint in parapet["transitions"]:
        if not set(joint["between"]) <= ids or chance.random() < 0.15:
            continue
        if joint.get("tape") not in ids:
            joint.pop("tape", None)
        if chance.random() < 0.2:
            joint["upper"] = chance.choice(joint["between"])
        if chance.random() < 0.2:
            joint["lap"] = chance.choice(SIZES["lap"])
        kept.append(joint)
    parapet["transitions"] = kept


def _roof(building: dict[str, Any], chance: random.Random) -> None:
    if chance.random() < 0.5:
        building["roof_deck"] = chance.choice(["concrete", "wood", "steel"])
        building["roof_insulation"] = chance.choice(["polyisocyanurate", "mineral wool"])
        building["roof_insulation_thickness"] = chance.choice(["2 in", "250 mm"])


def _issue(project: Any) -> Specification:
    assessment = assess(project, PRACTICE)
    try:
        return specify(assessment)
    except (
        SectionError
    ):  # a wall made by chance may leave a clause without what it refers to; it is drawn all the same
        return Specification(assessment, load_clauses(PRACTICE), ())
