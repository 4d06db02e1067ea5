"""A page a calculation: what it does, its formula, where it holds, a worked sheet, and what it was held against."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import ModuleType
from typing import NamedTuple

from markup import anchor, plain, table

from specgen.assessment import settled
from specgen.design.run import calculate_all, everyday, subjects
from specgen.design.sheet_md import markdown
from specgen.model.calculation import Calculation
from specgen.model.project import Project
from specgen.practice.entries import Practice
from specgen.render.plots import PlotsMissingError, require_plots, svg_and_png
from specgen.render.plotted import EVERYDAY, STUDIES, plotted
from specgen.work.inputs import read_inputs

NAMES = (
    "mixed-humid-midrise", "cold-continental-school", "hot-humid-lowrise", "marine-library", "existing-repair",
    "fluid-applied-roof", "plaster-covered-top",
)  # fmt: skip
EXAMPLES = tuple(Path(folder, name) for folder in ("projects", "tests/stated") for name in NAMES)
CHECKS = Path("docs", "published-checks.md")
ROW = re.compile(r"^\| (.+) \|$", re.MULTILINE)
COLUMNS = 8  # of the register's tables
LEAD = re.compile(r"^(Formulas?|Given):")
HEADING = re.compile(r"^## .*\n", re.MULTILINE)
NO_SHEET = {
    "coping on a curve": "No worked example is curved in plan.",
    "hourly moisture": "`specgen hourly` keeps it beside a project. [Years of hours](../hourly-moisture.md) shows some.",
}


class Worked(NamedTuple):
    """A calculation of a worked example, with the project as it was calculated."""

    example: Path
    project: Project
    calculation: Calculation


def calculation_pages(practice: Practice) -> Iterator[tuple[str, str | bytes]]:
    """Path and content of every page and plot, the overview first; the working folder is that of the repository."""
    worked, checks = _worked(practice), _checks()
    yield "calculations/index.md", _index(checks)
    for subject, module in subjects().items():
        plots = list(_plots(worked[subject], practice)) if subject in worked else []
        for name, image in plots:
            yield f"calculations/{name}", image
        lines = _page(
            subject, module, worked.get(subject), checks.get(subject, []), [name for name, _ in plots]
        )
        yield f"calculations/{anchor(subject)}.md", "\n".join(lines)


def _worked(practice: Practice) -> Mapping[str, Worked]:
    """The first worked example and parapet at which each calculation has a result."""
    found: dict[str, Worked] = {}
    for example in EXAMPLES:
        inputs = read_inputs(example, None, False)
        project = settled(inputs.project, inputs.effective())
        asked = [one for one, module in subjects().items() if getattr(module, "ON_REQUEST", False)]
        wanted = [one for one in (*everyday(project.parapets), *asked) if one not in found]
        for one in calculate_all(project, inputs.effective(), wanted):
            if one.done and one.subject not in found:
                found[one.subject] = Worked(example, project, one)
    return found


def _checks() -> Mapping[str, list[list[str]]]:
    """The rows of the register of published checks, by subject."""
    found: dict[str, list[list[str]]] = {}
    for match in ROW.finditer(CHECKS.read_text("utf-8")):
        cells = match[1].split(" | ")
        if len(cells) == COLUMNS:
            found.setdefault(cells[0], []).append(cells[1:])
    return found


def _index(checks: Mapping[str, list[list[str]]]) -> str:
    rows = [
        (f"[{plain(module.TITLE)}]({anchor(subject)}.md)", f"`{subject}`", str(len(checks.get(subject, []))))
        for subject, module in subjects().items()
    ]
    about = (
        f"{len(rows)} calculations. Each prints its inputs with their sources, its formula, its steps, where it holds, "
        "and what it leaves out; what lacks a datum is unknown, and the datum is named. All checks are listed in "
        "[Published checks](../published-checks.md). How to run them: [Calculate](../manual/calculate.md)."
    )
    return "\n".join(["# Calculations", "", about, "", *table(("Calculation", "Subject", "Checks"), rows)])


def _page(
    subject: str, module: ModuleType, worked: Worked | None, checks: list[list[str]], plots: list[str]
) -> Iterator[str]:
    yield from (f"# {plain(module.TITLE)}", "", f'`specgen calc PROJECT --subject "{subject}"`', "")
    for part in (inspect.getdoc(module.calculate) or "").split("\n\n"):
        yield from (LEAD.sub(r"**\1.**", plain(part.replace("``", "`"))), "")
    yield from ("## Where it holds", "", plain(module.VALIDITY), "", "It leaves out:", "")
    yield from (f"- {plain(one)}" for one in module.LEAVES_OUT)
    yield ""
    if worked is None:
        yield from (
            "## A worked sheet",
            "",
            NO_SHEET[subject],
            "",
        )
    else:
        yield from (
            "## A worked sheet",
            "",
            f"`{worked.example.as_posix()}`, parapet {worked.calculation.parapet}.",
            "",
        )
        yield _sheet(worked)
    if plots:
        yield from ("## Drawn", "", f'`specgen calc PROJECT --subject "{subject}" --plots FOLDER`', "")
    for name in plots:
        yield from (f"![{plain(module.TITLE)}, drawn]({name})", "")
    yield from ("## What it was held against", "")
    rows = [
        [plain(cell) for cell in (what, source, place, tolerance, how)]
        for what, source, place, tolerance, how, *_ in checks
    ]
    yield from (
        table(("What is compared", "Source", "Place", "Tolerance", "How"), rows)
        if rows
        else ("No check of its own.", "")
    )


def _sheet(worked: Worked) -> str:
    """The sheet without its heading and without what the page says already."""
    text = HEADING.sub("", markdown(worked.calculation, worked.project.system), count=1)
    before, _, rest = text.partition("### Validity\n")
    return before + (f"### Sources\n{rest.partition('### Sources')[2]}" if "### Sources" in rest else "")


def _plots(worked: Worked, practice: Practice) -> Iterator[tuple[str, bytes]]:
    if worked.calculation.subject not in {**EVERYDAY, **STUDIES}:
        return
    try:
        require_plots()
    except PlotsMissingError:
        return
    parapet = next(one for one in worked.project.parapets if one.name == worked.calculation.parapet)
    for subject, name, figure in plotted(worked.project, parapet, practice, [worked.calculation.subject]):
        yield f"{anchor(subject)}-{anchor(name)}.svg", svg_and_png(figure)[0]
