"""The twelve sets of facts, and a small vocabulary that can be searched in full."""

from __future__ import annotations

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
    "drainage layer": ("dimpled sheet",),
    "blocking": ("preservative-treated wood",),
    "coping": ("formed metal, aluminum, concealed and cover plate",),
    "cleat": ("continuous, aluminum",),
    "plaster": ("portland cement plaster, cement finish",),
    "lath": ("self-furred expanded metal lath",),
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


def proposer(name: str, only: dict[str, tuple[str, ...]] | None = None, workers: int = 1) -> Proposer:
    """What proposes walls for one of the sets."""
    inputs = read_inputs(FOLDER / f"{name}.yaml", None, False)

    def assessed(project: Project) -> Assessment:
        return replace(inputs, project=project).assessed()

    return Proposer(inputs.project, inputs.effective(), assessed, None, workers, only)
