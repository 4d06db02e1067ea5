"""Small walls built by hand, written to YAML and read by the real loader."""

from __future__ import annotations

import copy
import tempfile
from pathlib import Path
from typing import Any

from specgen.intake.project import load_project
from specgen.model.project import Project
from specgen.practice.load import load_practice
from tests import plain_yaml

PRACTICE = load_practice()
DEMO = Path("tests/stated/mixed-humid-midrise")

Wall = dict[str, Any]


def plain() -> Wall:
    """One family from roof to wall: water and air pass without a break."""
    return {
        "height": "36 in",
        "air_path": "over the top",
        "build_up": [
            {"role": "plaster", "kind": "portland cement plaster"},
            {"role": "lath", "kind": "expanded metal lath"},
            {"role": "drainage layer", "kind": "mesh"},
            {"role": "weep screed", "kind": "perforated weep screed"},
            {"role": "barrier", "kind": "self-adhered", "family": "SBS bitumen"},
            {"role": "sheathing", "kind": "plywood"},
            {"role": "framing", "kind": "wood studs"},
            {"role": "sheathing", "kind": "plywood", "id": "inner sheathing"},
            {"role": "roof turn-up", "kind": "SBS-modified bitumen"},
        ],
        "top": [
            {"role": "blocking", "kind": "preservative-treated wood"},
            {"role": "top flashing", "kind": "self-adhered SBS"},
            {"role": "cleat", "kind": "continuous", "metal": "galvanized steel"},
            {"role": "coping", "kind": "formed metal", "metal": "galvanized steel"},
        ],
        "transitions": [
            {"between": ["barrier", "weep screed"], "lap": "3 in", "upper": "barrier"},
            {"between": ["top flashing", "barrier"], "lap": "4 in", "upper": "top flashing"},
            {"between": ["top flashing", "roof turn-up"], "lap": "4 in", "upper": "top flashing"},
        ],
    }


def taped() -> Wall:
    """TPO roof, acrylic top flashing, a tape that its manufacturer approves for both."""
    wall = plain()
    part(wall, "roof turn-up")["kind"] = "TPO"
    part(wall, "top flashing")["kind"] = "self-adhered acrylic"
    part(wall, "barrier")["family"] = "acrylic adhesive"
    tape = {"role": "bridging tape", "kind": "butyl tape", "each_side": "2 in"}
    wall["top"].insert(2, {**tape, "compatible_with": ["TPO", "acrylic adhesive"]})
    joint(wall, "roof turn-up").update(tape="bridging tape", primer_kind="membrane primer")
    return wall


def part(wall: Wall, role: str) -> dict[str, Any]:
    """The first component of a role, to be changed in place."""
    return next(one for one in (*wall["build_up"], *wall["top"]) if one["role"] == role)


def joint(wall: Wall, end: str) -> dict[str, Any]:
    """The last transition that names a component, to be changed in place."""
    return next(one for one in reversed(wall["transitions"]) if end in one["between"])


def without(wall: Wall, role: str) -> Wall:
    """The wall without the components of a role and their transitions."""
    out = copy.deepcopy(wall)
    for key in ("build_up", "top"):
        out[key] = [one for one in out[key] if one["role"] != role]
    out["transitions"] = [one for one in out["transitions"] if role not in one["between"]]
    return out


def project(
    wall: Wall,
    roof: str | None = "SBS-modified bitumen",
    letters: list[Wall] | None = None,
    units: str = "inch-pound",
) -> Project:
    """The project with this one parapet, through the real loader."""
    text = {
        "project": {"name": "Example Clinic", "number": "2601", "issue_date": "2026-11-02", "units": units},
        "site": {"place": "an inland town"},
        "building": {"roof_membrane": roof} if roof else {},
        "parapets": [{"name": "P-1", **wall}],
    }
    if letters:
        text["maker_letters"] = letters
    return load_text(_dump(text))


def _dump(content: object) -> str:
    # Dates are written as plain scalars, yes and no as YAML 1.1 words: what a person would write.
    return plain_yaml.dump(content).replace("'2026-11-02'", "2026-11-02")


def load_text(text: str) -> Project:
    """A project from the text of its file."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "project.yaml"
        path.write_text(text, encoding="utf-8")
        return load_project(path, PRACTICE)
