"""Walls made by chance from the worked examples: other kinds, sizes, units and numbers of parapets."""

from __future__ import annotations

import copy
import random
from pathlib import Path
from typing import Any

import yaml

from specgen.practice.load import load_practice

REPO = Path(__file__).parents[2]
EXAMPLES = sorted(path.parent.name for path in (REPO / "tests" / "stated").glob("*/project.yaml"))
# One size in one spelling of both languages, at or beyond what is asked for, and below it.
SIZES = {
    ("plaster", "thickness"): ("7/8 in", "1 in", "22 mm", "3/4 in"),
    ("plaster", "panel_area"): ("120 ft2", "100 ft2", "12 m2"),
    ("plaster", "panel_length"): ("16 ft", "5 m", "14 ft", "20 ft"),
    ("plaster", "coping_clearance"): ("1/2 in", "3/4 in", "12 mm"),
    ("drainage layer", "depth"): ("7/16 in", "10 mm", "3/8 in", "1/4 in", "1/8 in"),
    ("weep screed", "flange"): ("3 1/2 in", "4 in", "90 mm"),
    ("barrier", "air_permeance"): (
        "0.002 cfm/ft2 @ 75 Pa",
        "0.004 cfm/ft2 @ 1.57 psf",
        "0.01 L/(s·m2) @ 75 Pa",
    ),
    ("barrier", "vapor_permeance"): ("14 perm", "800 ng/(Pa·s·m2)", "5 perm"),
    ("barrier", "thickness"): ("40 mil", "60 mil", "1.5 mm"),
    ("barrier", "pull_adhesion"): ("40 psi", "20 psi", "0.3 MPa"),
    ("sheathing", "thickness"): ("5/8 in", "1/2 in", "16 mm"),
    ("roof turn-up", "height"): ("12 in", "14 in", "300 mm", "8 in"),
    ("top flashing", "thickness"): ("40 mil", "60 mil", "1 mm"),
    ("coping", "outer_drip"): ("1 in", "1 1/4 in", "25 mm", "1/2 in"),
    ("coping", "inner_drip"): ("1 in", "30 mm", "3/4 in"),
    ("coping", "slope"): ("1/4 in/ft", "1/2 in/ft", "5 %"),
    ("coping", "piece_length"): ("10 ft", "8 ft", "3 m", "12 ft"),
    ("cleat", "fastener_spacing"): ("12 in", "8 in", "300 mm"),
    ("blocking", "slope"): ("1/4 in/ft", "1/2 in/ft", "2 %"),
}
KINDS = (
    "plaster",
    "lath",
    "drainage layer",
    "barrier",
    "sheathing",
    "blocking",
    "weep screed",
    "top flashing",
)


class Plain(yaml.SafeDumper):
    """Writes every word as it stands in a project file: no word is taken for a number."""


Plain.yaml_implicit_resolvers = {}


def generated(seed: int) -> str:
    """The project file of a wall made by chance.

    Args:
        seed: the same seed makes the same wall.
    """
    chance = random.Random(seed)
    name = chance.choice(EXAMPLES)
    project: dict[str, Any] = yaml.load(
        (REPO / "tests" / "stated" / name / "project.yaml").read_text("utf-8"), Loader=yaml.BaseLoader
    )
    project["project"]["units"] = chance.choice(("inch-pound", "SI", "both"))
    project["project"]["number"] = str(chance.randrange(1000, 9999))
    project["project"]["issue_date"] = f"2026-{chance.randrange(1, 13):02d}-{chance.randrange(1, 29):02d}"
    project["project"]["state"] = chance.choice(("draft", "issued for review", "issued for bid"))
    for holder in (*project.get("types", {}).values(), *project["parapets"]):
        for part in (*holder.get("build_up", ()), *holder.get("top", ())):
            _vary(part, chance)
    _count(project, chance)
    return yaml.dump(project, Dumper=Plain, sort_keys=False, allow_unicode=True)


def _vary(part: dict[str, Any], chance: random.Random) -> None:
    kinds = load_practice().vocabulary.roles[part["role"]].kinds
    if part["role"] in KINDS and "kind" in part and chance.random() < 0.25:
        part["kind"] = chance.choice(sorted(kinds))
    for (role, attribute), sizes in SIZES.items():
        if part["role"] == role and attribute in part and chance.random() < 0.35:
            part[attribute] = chance.choice(sizes)


def _count(project: dict[str, Any], chance: random.Random) -> None:
    """Other numbers of parapets: some left out, or one more that is like the first but for its length."""
    parapets = project["parapets"]
    project["parapets"] = parapets[: chance.randrange(1, len(parapets) + 1)]
    if chance.random() < 0.4:
        more = copy.deepcopy(parapets[0])
        more["name"] = "N-9"
        more["length"] = chance.choice(("20 ft", "44 ft", "15 m"))
        project["parapets"].append(more)
