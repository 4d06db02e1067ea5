"""``docs/examples.md``: the worked examples before and after their products were left to the sections.

The stated walls stand in ``tests/stated``. What their sections ask for beyond those of the short ones is listed here,
limit by limit. ``python -m tests.chain.examples_page`` writes the page.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

from specgen.model.requirement import Requirement
from specgen.practice.load import load_practice
from specgen.rules.hold import asked
from specgen.work.inputs import read_inputs

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "examples.md"
SHORT, STATED = ROOT / "projects", ROOT / "tests" / "stated"
NAMES = sorted(path.parent.name for path in SHORT.glob("*/project.yaml"))
AIM, EACH_FURTHER = 40, 8
HEAD = """\
# The worked examples, short and fully stated

`projects/` holds walls as a designer knows them before a product is chosen: kinds, families, metals, the order of laps,
and who answers. What a requirement sets a limit for is left to the sections. `tests/stated/` holds the same walls with
every value of a product, a size and a lap in them, as they stood before.
Written by `python -m tests.chain.examples_page`.

Lines are those with words on them, comments not counted. The aim is 40 for one parapet and 8 for each further one.
What lies above it: tables of months for a calculation, records of places (scuppers, corners, ends, joints), a second
type, and the survey of a standing wall.
"""
BELOW = """\
## What the stated values narrow

Both write the same sections, but for the limits below. "Asked for" is what the short wall leaves to its sections,
"stated" what the product, size or lap of the stated wall makes of it. "Not asked" is a value that nothing asks for once
nobody states it, or one that no longer needs asking once it is stated (clearance above earth and paving, plaster at a
horizontal face).
"""


def lines(file: Path) -> int:
    """The lines of a project file that hold words, comments aside."""
    every = (line.strip() for line in file.read_text("utf-8").splitlines())
    return sum(1 for line in every if line and not line.startswith("#"))


@cache
def limits(file: Path) -> tuple[Mapping[tuple[str, str, str], tuple[str, str]], int]:
    """Each limit of a project's sections with what set it, by section, role, and value; and the number of parapets."""
    inputs = read_inputs(file, None, False)
    assessment = inputs.assessed()
    found: dict[tuple[str, str, str], list[Requirement]] = {}
    for one in assessment.requirements.by_id.values():
        found.setdefault((one.section, one.role, one.title), []).append(one)
    system = assessment.project.system
    at = {
        key: (
            "; ".join(dict.fromkeys(asked(one.limit, system) for one in every)),
            every[0].name,
        )
        for key, every in found.items()
    }
    return at, len(assessment.project.parapets)


def narrowed(name: str) -> Iterator[tuple[str, str, str, str, str]]:
    """Section, role, value, what the short wall asks for, and what the stated one does, where the two differ."""
    short, _ = limits(SHORT / name / "project.yaml")
    stated, _ = limits(STATED / name / "project.yaml")
    for key in sorted({**short, **stated}):
        left, own = short.get(key, ("not asked", ""))[0], stated.get(key, ("not asked", ""))[0]
        if left != own:
            yield (*key, left, own)


def text() -> str:
    """The page."""
    load_practice()
    rows = []
    for name in NAMES:
        parapets = limits(SHORT / name / "project.yaml")[1]
        counts = (lines(STATED / name / "project.yaml"), lines(SHORT / name / "project.yaml"))
        aim = AIM + EACH_FURTHER * (parapets - 1)
        rows.append(f"| {name} | {parapets} | {counts[0]} | {counts[1]} | {aim} |")
    out = [
        HEAD,
        "| example | parapets | lines stated | lines short | aim |",
        "|---|---|---|---|---|",
        *rows,
        "",
        BELOW,
    ]
    for name in NAMES:
        out += [f"### {name}", "", "| section | of | value | asked for | stated |", "|---|---|---|---|---|"]
        out += [f"| {' | '.join(row)} |" for row in narrowed(name)]
        out.append("")
    return "\n".join(out)


if __name__ == "__main__":
    PAGE.write_text(text(), "utf-8")
