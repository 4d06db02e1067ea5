"""The thirteen sets of facts, and a small vocabulary that can be searched in full."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from specgen.assessment import Assessment
from specgen.model.project import Project
from specgen.propose.proposals import Proposer
from specgen.work.inputs import read_inputs

FOLDER = Path(__file__).parent / "facts"
SETS = tuple(sorted(one.stem for one in FOLDER.glob("*.yaml")))
SHORT = ("concrete-sbs-4c",)  # of the short run
WITHOUT = "no-wall-tpo-sbs"
FEW = {
    "barrier": ("self-adhered, butyl", "self-adhered, acrylic adhesive"),
    "top flashing": ("self-adhered butyl", "self-adhered acrylic"),
    "top flashing / barrier": (
        "top flashing over barrier, edge sealed",
        "top flashing over barrier, butyl tape",
    ),
    "roof turn-up": ("TPO, fully adhered",),
    "top flashing / roof turn-up": (
        "top flashing over roof turn-up, butyl tape, membrane primer",
        "top flashing over roof turn-up, acrylic tape",
        "top flashing over roof turn-up, edge sealed",
    ),
    "sheathing": ("glass-mat gypsum",),
    "primer under the barrier": ("no primer",),
    "path of air and vapor": ("over the top",),
    "roof turn-up / base seal": ("no seal to meet",),
    "barrier / base seal": ("no seal to meet",),
    "drainage layer": ("dimpled sheet",),
    "blocking": ("preservative-treated wood",),
    "coping": ("formed metal, aluminum, concealed and cover plate",),
    "cleat": ("continuous, aluminum",),
    "plaster": ("portland cement plaster, cement finish",),
    "lath": ("self-furred expanded metal lath",),
}
PATHS = {  # of a roof whose air barrier lies on the deck: the paths across, and what they take
    **FEW,
    "barrier": ("self-adhered, butyl",),
    "top flashing": ("self-adhered butyl",),
    "top flashing / barrier": ("top flashing over barrier, edge sealed",),
    "top flashing / roof turn-up": ("top flashing over roof turn-up, butyl tape, membrane primer",),
    "path of air and vapor": (
        "over the top",
        "across at roof level, self-adhered sheet, butyl",
        "across at roof level, self-adhered sheet, acrylic adhesive",
    ),
    "roof turn-up / base seal": (
        "no seal to meet",
        "roof turn-up over base seal, butyl tape, membrane primer",
        "roof turn-up over base seal, acrylic tape",
    ),
    "barrier / base seal": ("no seal to meet", "barrier over base seal, edge sealed"),
    "path of heat": (
        "across at roof level, thermal break of 4 in",
        "across at roof level, studs filled with mineral wool",
    ),
}
DECK = {
    "roof_air_barrier: roof membrane": "roof_air_barrier: membrane on the deck",
    "    thermal_break: 4 in\n": "",
}
MORE = {
    **FEW,
    "drainage layer": ("dimpled sheet", "mesh"),
    "coping": (
        "formed metal, aluminum, concealed and cover plate",
        "formed metal, aluminum, lapped",
        "formed metal, stainless steel, standing seam",
    ),
    "cleat": ("continuous, aluminum", "continuous, stainless steel"),
}


def proposer(
    name: str,
    only: dict[str, tuple[str, ...]] | None = None,
    workers: int = 1,
    path: Path | None = None,
) -> Proposer:
    """What proposes walls for one of the sets, or for another file."""
    inputs = read_inputs(path or FOLDER / f"{name}.yaml", None, False)

    def assessed(project: Project) -> Assessment:
        return replace(inputs, project=project).assessed()

    return Proposer(inputs.project, inputs.effective(), assessed, None, workers, only)


def changed(name: str, changes: Mapping[str, str], folder: Path) -> Path:
    """The file of one of the sets with words changed."""
    text = (FOLDER / f"{name}.yaml").read_text("utf-8")
    for before, after in changes.items():
        assert before in text
        text = text.replace(before, after)
    path = folder / "project.yaml"
    path.write_text(text, "utf-8")
    return path
