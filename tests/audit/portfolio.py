"""Generated portfolios: the worked examples with another membrane, barrier, drainage layer, climate, or a fault."""

from __future__ import annotations

import random
from pathlib import Path

from tests.chain.runs import REPO

MIXED = REPO / "tests" / "stated" / "mixed-humid-midrise"
OTHERS = tuple(
    REPO / "tests" / "stated" / name for name in ("faulty-parapet", "plaster-covered-top", "existing-repair")
)
CLIMATES = ("1A", "2A", "2B", "3C", "4A", "4C", "5A", "6A", "7")
USES = ("offices", "library", "apartments", "clinic")
MEMBRANES = ("TPO", "PVC", "EPDM", "KEE-modified PVC")
BARRIERS = (
    ("fluid-applied", "STPE fluid"),
    ("self-adhered", "SBS bitumen"),
    ("mechanically fastened", "polyethylene"),
)
DRAINAGE = ("dimpled sheet", "mesh", "grooved mat")
FAULTS = (
    ("slope_toward: roof", "slope_toward: outer face"),
    ("coats: 3", "coats: 2"),
    ("cure_before_load: 14 days", "cure_before_load: 3 days"),
    ("coping_clearance: 1/2 in", "coping_clearance: 1/8 in"),
    ("fasteners_through: no", "fasteners_through: yes"),
    ("pull_adhesion: 40 psi", "pull_adhesion: 5 psi"),
    ("outer_drip: 1 in", "outer_drip: 1/4 in"),
)
PEOPLE = ("architect, J.K.", "architect, M.T.", "general contractor, R.S.")
PAPERS = {
    "submittal: barrier.yaml": MIXED / "submittals" / "barrier-conforming.yaml",
    "submittal: drainage.yaml": MIXED / "submittals" / "drainage-half-filled.yaml",
    "substitution: mesh.yaml": MIXED / "substitutions" / "mesh.yaml",
    "substitution: wrap.yaml": MIXED / "substitutions" / "wrap.yaml",
}


def portfolio(folder: Path, count: int, seed: int = 20261125, broken: bool = True) -> Path:
    """A folder of so many project folders, the same for the same seed; every twelfth cannot be used."""
    chance = random.Random(seed)
    for number in range(count):
        place = folder / f"region {number % 3}" / f"p{number:04}"
        place.mkdir(parents=True)
        if broken and number % 12 == 11:
            (place / "project.yaml").write_text("project: {name: torn\n", "utf-8")
        elif number % 12 == 7:
            other = chance.choice(OTHERS)
            (place / "project.yaml").write_bytes((other / "project.yaml").read_bytes())
        else:
            varied(place, f"G{number:04}", chance)
    return folder


def varied(place: Path, project: str, chance: random.Random) -> None:
    """One project of one parapet, and in two of three cases what was accepted on it."""
    text = (MIXED / "project.yaml").read_text("utf-8")
    text = text[: text.index("  - name: P-2")]
    kind, family = chance.choice(BARRIERS)
    membrane = chance.choice(MEMBRANES)
    changes = [
        ('number: "2601"', f'number: "{project}"'),
        ("climate_zone: 4A", f'climate_zone: "{chance.choice(CLIMATES)}"'),
        ("use: offices", f"use: {chance.choice(USES)}"),
        ("roof_membrane: TPO", f"roof_membrane: {membrane}"),
        ("kind: TPO", f"kind: {membrane}"),
        ("kind: dimpled sheet", f"kind: {chance.choice(DRAINAGE)}"),
        ("kind: fluid-applied\n        family: STPE fluid", f"kind: {kind}\n        family: {family}"),
        *chance.sample(FAULTS, chance.randrange(3)),
    ]
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    (place / "project.yaml").write_text(text, "utf-8")
    accepted = chance.sample(sorted(PAPERS), chance.randrange(3))
    if not accepted:
        return
    lines = ["accepted:"]
    for paper in accepted:
        name = paper.partition(": ")[2]
        (place / name).write_text(PAPERS[paper].read_text("utf-8").replace('"2601"', f'"{project}"'), "utf-8")
        day = f"2026-{chance.randrange(1, 13):02}-{chance.randrange(1, 28):02}"
        lines += [f"  - {paper}", f"    date: {day}", f"    by: {chance.choice(PEOPLE)}"]
        lines += ["    result: make corrections noted"]
    (place / "accepted.yaml").write_text("\n".join(lines) + "\n", "utf-8")
