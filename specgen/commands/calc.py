"""specgen calc: the calculations, with inputs, formulas, results and sources."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.assessment import settled
from specgen.commands.common import CLEAN, OPEN, echo_json, exits, need
from specgen.commands.options import ALLOW_CODE, OFFICE, OTHER_PROJECT, PROJECT, WEATHER, completed
from specgen.commands.terminal import columns, print_as_is, print_text
from specgen.commands.unusable import WordError
from specgen.design.changes import ResultChange, change_lines, changes
from specgen.design.progress import part
from specgen.design.run import calculate_all, everyday, subjects
from specgen.design.sheet import WIDTH, sheet
from specgen.design.sheet_md import markdown
from specgen.files.marks import suggestion
from specgen.model.calculation import Calculation
from specgen.model.project import Component, Project
from specgen.model.source import Source
from specgen.practice.entries import Practice
from specgen.units.counted import many
from specgen.wall.differing import own_records, records_at
from specgen.wall.plausible import doubts
from specgen.work.inputs import read_inputs
from specgen.work.trial import Trial, TrialError, tried

if TYPE_CHECKING:
    from types import ModuleType

    from specgen.design.coping_geometry import Cut

CUTS = "coping geometry"  # the subject that a cut list belongs to

FORMAT = click.option(
    "--format", "form", type=click.Choice(["text", "md", "json"]), default="text", help="How to print."
)


@dataclass(frozen=True)
class Calculated:
    """What is printed as data of calculations; those of the coping's pieces have the cut list over all parapets."""

    project: str
    calculations: tuple[Calculation, ...]
    cut_list: tuple[Cut, ...]


@dataclass(frozen=True)
class TrialRun:
    """What is printed as data of tried values."""

    notes: tuple[str, ...]
    changes: tuple[ResultChange, ...]


@dataclass(frozen=True)
class Subject:
    """A subject of calculations."""

    subject: str
    title: str
    on_request: bool  # runs only where it is named
    results: tuple[str, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True)
class Subjects:
    """What is printed as data of the list of subjects."""

    subjects: tuple[Subject, ...]


@click.command()
@PROJECT
@click.option(
    "--subject",
    "subject",
    shell_complete=completed("subjects"),
    help="One subject, as `coping wind`; an expensive one runs only so.",
)
@click.option("--parapet", "parapet", shell_complete=completed("parapets"), help="One parapet by name.")
@click.option("--list", "listed", is_flag=True, help="List the subjects with their sources, and stop.")
@click.option(
    "--set",
    "assignments",
    multiple=True,
    metavar="PATH=VALUE",
    help="Try a value without touching the file, as `P-1.drainage layer.kind=mesh`; print what changes. Repeatable.",
)
@click.option(
    "--plots",
    type=click.Path(path_type=Path, file_okay=False),
    help="Write drawings as SVG and PNG into this folder (isotherms and sensitivities with --subject of a study); "
    "needs the extra `plots`.",
)
@OTHER_PROJECT
@OFFICE
@ALLOW_CODE
@WEATHER
@FORMAT
@exits
def command(
    project: Path,
    subject: str | None,
    parapet: str | None,
    listed: bool,
    assignments: tuple[str, ...],
    plots: Path | None,
    other_project: bool,
    office: Path | None,
    allow_code: bool,
    weather: Path | None,
    form: str,
) -> int:
    """Print the calculations of PROJECT: inputs, formula, steps, result, source, what is left out.

    Exit status: 0 printed, 2 the input cannot be used, 3 no calculation has a result: what is missing is named.
    """
    if plots is not None:
        need("plots")
    if extra := getattr(subjects().get(subject or ""), "EXTRA", "") if not listed else "":
        need(extra)
    inputs = read_inputs(project, office, allow_code, weather)
    described, practice = inputs.project, inputs.effective()
    for word, given, known in (
        ("subject", subject, tuple(subjects())),
        ("parapet", parapet, tuple(one.name for one in described.parapets)),
    ):
        if given is not None and given not in known:
            hint = suggestion(given, known, f"known: {', '.join(known)}")
            raise WordError([f"no {word} `{given}`; {hint}"])
    chosen = [parapet] if parapet else [one.name for one in described.parapets][: 1 if listed else None]
    names = [subject] if subject else list(subjects()) if listed else list(everyday(described.parapets))
    system = described.system
    try:
        trial = tried(described, practice, assignments)
    except TrialError as error:
        raise click.UsageError(f"--set {error}") from error
    _tell_doubts(trial, chosen)
    trial = replace(trial, project=settled(trial.project, trial.practice))
    found = _run(trial.project, trial.practice, names, chosen)
    if plots is not None:
        from specgen.commands.drawings import write_drawings

        studies = any(_on_request(subjects()[name]) for name in names)
        drawn = write_drawings(
            trial.project, trial.practice, chosen, plots, studies=studies, other_project=other_project
        )
        print_text(f"{many(len(drawn), 'drawing')} in {plots}", err=True)
    if listed:
        _list(found, form)
        return CLEAN
    if assignments:
        _print_changes(
            _run(settled(described, practice), practice, names, chosen), found, trial, system, form
        )
    else:
        cuts = _cuts(trial) if subject == CUTS else ()
        _print(found, cuts, described.title, system, form)
    return CLEAN if any(one.done for one in found) else OPEN


def _tell_doubts(trial: Trial, chosen: Sequence[str]) -> None:
    """Tell the values that are not calculated with, beside what is printed."""
    parapets = [one for one in trial.project.parapets if one.name in chosen]
    records = [*own_records(trial.project), *(one for parapet in parapets for one in records_at(parapet))]
    for record, name, stated, why in doubts(
        (one for _, one in records), trial.practice, trial.project.system
    ):
        if name in record.doubted:
            words = getattr(stated.value, "text", stated.value)
            of = record.id if isinstance(record, Component) else record.what
            print_text(f"{record.at(name)}: {name} {words} of `{of}` is not calculated with: {why}", err=True)


def _cuts(trial: Trial) -> tuple[Cut, ...]:
    from specgen.design.coping_geometry import cut_list

    return cut_list(trial.project, trial.practice)


def _print(found: Sequence[Calculation], cuts: Sequence[Cut], title: str, system: str, form: str) -> None:
    """The calculations; those of the coping's pieces end with the cut list over all parapets."""
    if form == "json":
        echo_json(Calculated(title, tuple(found), tuple(cuts)))
        return
    if form == "md":
        print_as_is("\n".join(markdown(one, system) for one in found), nl=False)
    else:
        width = min(columns(sys.stdout) or WIDTH, WIDTH)
        print_text("\n\n".join(sheet(one, system, width) for one in found))
    if cuts:
        head = "\n## Cut list over all parapets\n" if form == "md" else "\nCut list over all parapets"
        mark = "- " if form == "md" else ""
        from specgen.design.coping_geometry import show_cut

        print_text("\n".join([head, *(mark + show_cut(cut, system) for cut in cuts)]))


def _on_request(module: ModuleType) -> bool:
    return bool(getattr(module, "ON_REQUEST", False))


def _run(
    project: Project, practice: Practice, names: Sequence[str], chosen: Sequence[str]
) -> list[Calculation]:
    """Parapet by parapet, each calculation a part of the work."""
    work = [(parapet, name) for parapet in chosen for name in names]
    out: list[Calculation] = []
    for done, (parapet, name) in enumerate(work):
        with part(done / len(work), (done + 1) / len(work)):
            out += calculate_all(project, practice, [name], [parapet])
    return out


def _list(found: Iterable[Calculation], form: str) -> None:
    """Every subject once: title, whether it runs by itself, sources of its method and of the first parapet's data."""
    sources: dict[str, dict[str, None]] = {}
    for calc in found:
        sources.setdefault(calc.subject, {}).update(dict.fromkeys(calc.sources))
    entries = tuple(
        Subject(
            name,
            str(getattr(module, "TITLE", name)),
            _on_request(module),
            tuple(getattr(module, "SETS", ())),
            tuple(dict.fromkeys([*sources.get(name, {}), *_method_sources(module)])),
        )
        for name, module in subjects().items()
    )
    if form == "json":
        echo_json(Subjects(entries))
        return
    for one in entries:
        asked = "  (runs only with --subject)" if one.on_request else ""
        print_text(f"{one.subject}: {one.title}{asked}")
        for source in one.sources:
            print_text(f"    {source}")


def _method_sources(module: ModuleType) -> list[str]:
    """The sources of a subject's method, which a calculation that lacks data does not come to cite."""
    return [str(value) for value in vars(module).values() if isinstance(value, Source)]


def _print_changes(
    before: Sequence[Calculation], after: Sequence[Calculation], trial: Trial, system: str, form: str
) -> None:
    found = changes(before, after, system)
    if form == "json":
        echo_json(TrialRun(trial.notes, found))
        return
    for note in trial.notes:
        print_text(f"note: {note}")
    print_text("\n".join(change_lines(found)))
