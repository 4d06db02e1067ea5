"""The basis report: one HTML file that needs no other file, no network and no script."""

from __future__ import annotations

import base64
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from specgen.assessment import Assessment
from specgen.basis import content
from specgen.design.hourly_moisture import SUBJECT as HOURS
from specgen.drawing.shapes import Drawing
from specgen.drawing.sheets import by_parapets, sheets_of
from specgen.explain.commented import commented
from specgen.field.frame import built_alike
from specgen.model.comment import Comment
from specgen.model.finding import Outcome, count_words
from specgen.model.folded import OPEN_WORDS, summary
from specgen.paths.meetings import families_of, meetings
from specgen.render.hour_charts import hour_charts
from specgen.render.page import page_template
from specgen.render.svg import svg_bytes
from specgen.sections.cautions import cautions
from specgen.sections.waivers import ANSWERS, ANSWERS_HEADER, HEADER, TITLE, answer_rows, waiver_rows
from specgen.specification import Specification

WALL_SHEETS = (
    "section",
    "control-layers",
)  # of each parapet; the order of work stands in the drawings of the issue
CALCULATION_SHEETS = {"plaster panels": "plaster-panels", "coping geometry": "coping-blank"}  # by subject


@dataclass(frozen=True)
class Figure:
    """A drawing or a plot as the report embeds it; a plot has no size of its own."""

    title: str
    alt: str
    data: str  # a data address
    width: float  # [mm]
    height: float  # [mm]


def basis_bytes(
    spec: Specification,
    subjects: Sequence[str],
    plots: Mapping[tuple[str, str], Sequence[tuple[str, bytes]]] | None = None,
    drawn: Mapping[str, Sequence[Drawing]] | None = None,
    comments: Sequence[Comment] = (),
) -> bytes:
    """The basis report of a project.

    Args:
        spec: the project as written.
        subjects: the calculations to print, by name.
        plots: SVG by subject and parapet, each with the words that tell what it shows; none if not given.
        drawn: the sheets by parapet, where they are drawn already.
        comments: what people asked and answered, as the file beside the project has it.

    Returns:
        HTML in UTF-8, the same bytes for the same project.
    """
    assessment = spec.assessment
    counts = summary(assessment.findings)
    met = meetings(assessment.project, assessment.practice)
    by_name = {
        (parapet, sheet.name.removeprefix(parapet + " ")): sheet
        for parapet, found in (drawn or by_parapets(spec)).items()
        for sheet in found
    }
    page = page_template("basis/basis.html").render(
        project=assessment.project,
        title=assessment.project.title,
        paper=assessment.project.paper,
        issued=assessment.project.issued,
        state=assessment.project.state,
        counted=[count_words(counts[word], word).split(" ", 1) for word in OPEN_WORDS],
        facts=content.facts(assessment),
        walls=content.walls(assessment),
        orders=built_alike(assessment),
        figures=tuple(figure(sheet) for name, sheet in by_name.items() if name[1] in WALL_SHEETS),
        paths=content.paths(assessment),
        findings=content.findings(assessment),
        passed=content.without_finding(assessment, Outcome.PASS),
        specified=content.without_finding(assessment, Outcome.SPECIFIED),
        calculations=content.calculations(assessment, subjects),
        line_cells=lambda line: content.line_cells(line, assessment),
        table_rows=lambda table: content.table_rows(table, assessment.system),
        plots=_beside_calculations(assessment, subjects, by_name, plots or {}),
        meetings=met,
        families=families_of(met),
        requirements=content.requirements(spec),
        paragraphs=tuple(content.traced_paragraphs(spec)),
        openings=content.openings(assessment),
        comments=commented(spec, comments),
        waivers=waiver_rows(assessment),
        decisions=(
            (TITLE, ("Rule", *HEADER[1:]), waiver_rows(assessment)),
            (ANSWERS, ("Rule", *ANSWERS_HEADER[1:]), answer_rows(assessment)),
        ),
        cautions=cautions(),
    )
    return (page.rstrip() + "\n").encode()


def _beside_calculations(
    assessment: Assessment,
    subjects: Sequence[str],
    drawn: Mapping[tuple[str, str], Drawing],
    plots: Mapping[tuple[str, str], Sequence[tuple[str, bytes]]],
) -> Mapping[tuple[str, str], Sequence[Figure]]:
    """By subject and parapet: the sheet that draws a calculation's result, the charts of kept hours, then its plots."""
    found: dict[tuple[str, str], list[Figure]] = {}
    for subject, name in CALCULATION_SHEETS.items():
        for (parapet, sheet), drawing in drawn.items():
            if sheet == name:
                found.setdefault((subject, parapet), []).append(figure(drawing))
    if HOURS in subjects and assessment.project.hourly:
        found |= {(HOURS, name): [*map(figure, charts)] for name, charts in _held_charts(assessment).items()}
    for key, figures in plots.items():
        found.setdefault(key, []).extend(Figure(words, words, _data(svg), 0, 0) for words, svg in figures)
    return found


def _held_charts(assessment: Assessment) -> Mapping[str, tuple[Drawing, ...]]:
    """The charts of the hours whose kept result holds, by parapet."""
    done = assessment.calculations
    return hour_charts(assessment.project, assessment.practice, lambda name: done[name][HOURS].done)


def drawings_beside(spec: Specification, subject: str, parapet: str) -> tuple[Drawing, ...]:
    """What the report draws beside one calculation of one parapet.

    Args:
        spec: the project as written.
        subject: of the calculation.
        parapet: by name.
    """
    assessment = spec.assessment
    if subject == HOURS:
        return _held_charts(assessment).get(parapet, ()) if assessment.project.hourly else ()
    wall = next(one for one in assessment.walls if one.parapet.name == parapet)
    if subject not in CALCULATION_SHEETS or not any(wall.parapet.components()):
        return ()
    name = f"{parapet} {CALCULATION_SHEETS[subject]}"
    return tuple(one for one in sheets_of(wall, spec) if one.name == name)


def figure(sheet: Drawing) -> Figure:
    width, height = sheet.size
    # A picture in a page has no links: layers that are off, and the links that would show them, are left out.
    sheet = replace(sheet, layers=tuple(layer for layer in sheet.layers if layer.on))
    return Figure(sheet.title, sheet.description, _data(svg_bytes(sheet)), width, height)


def _data(svg: bytes) -> str:
    return "data:image/svg+xml;base64," + base64.b64encode(svg).decode("ascii")
