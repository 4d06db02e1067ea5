"""Walls proposed from a file of facts: searched, written as project files, and each read back before it is handed out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from time import perf_counter

from specgen.assessment import Assessment
from specgen.design.progress import part, tell
from specgen.drawing.shapes import Drawing
from specgen.drawing.sheets import section_sheets
from specgen.files.faults import Fault
from specgen.files.foreign import foreign_text
from specgen.files.lock import locked
from specgen.files.withdrawn import Owner
from specgen.files.writing import OutputFolder, Written
from specgen.files.yaml_comments import Comment, comments
from specgen.files.yaml_reader import Limits, MarkedMap, read_yaml_text
from specgen.intake.formats import read_file
from specgen.intake.project import FILE_NAME, ProjectReader
from specgen.intake.project_weather import weather_files
from specgen.model.finding import Finding
from specgen.propose.front import differing
from specgen.propose.give_up import least_given_up
from specgen.propose.omissions import omissions
from specgen.propose.proposals import Found, Proposer
from specgen.propose.quantities import Prices, amounts
from specgen.propose.reasons import notes, reasons
from specgen.propose.result import Proposed, ProposedWall
from specgen.propose.trial import Tried
from specgen.render.proposals import proposals_page
from specgen.rules.existing.openings import planned_openings
from specgen.specification import specify
from specgen.units.counted import many
from specgen.work.inputs import Inputs
from specgen.work.papers import wanted_to_issue
from specgen.work.proposal_file import proposal_text

PAGE = "comparison.html"
_SEARCHED = 0.7  # share of the time that the search takes [-]


class DiffersError(Fault):
    """A proposed wall that reads otherwise from its file than it was assessed."""


@dataclass(frozen=True)
class Ready:
    """A run with the files it makes and the walls as assessed from them."""

    proposed: Proposed
    texts: Mapping[str, str]  # project files by name of the wall
    assessments: tuple[Assessment, ...]
    found: Found
    weather: Mapping[str, bytes] = field(default_factory=dict)  # of each weather file by its name


def propose(inputs: Inputs, prices: Prices | None = None, workers: int | None = None) -> Ready:
    """Search walls for a file of facts, and read each of the front back from its own file.

    Raises:
        InputError: a fact is open without which no wall can be proposed.
    """
    started = perf_counter()
    # What the hours did in the wall of the facts says nothing of another, and its key is not asked of thousands.
    inputs = replace(inputs, project=replace(inputs.project, hourly={}))
    facts = Path(inputs.project.path)
    proposer = Proposer(
        inputs.project,
        inputs.effective(),
        lambda project: replace(inputs, project=project).assessed(),
        prices,
        workers,
    )
    with part(0.0, _SEARCHED):
        found = proposer.propose()
    text_of_facts = foreign_text(facts, Limits().bytes).removeprefix("\ufeff").replace("\r\n", "\n")
    root, typed = read_file(facts, "project"), comments(text_of_facts)
    texts, walls, assessments = {}, [], []
    for number, one in enumerate(found.front, start=1):
        tell(_SEARCHED + (1.0 - _SEARCHED) * number / (len(found.front) + 1))
        name = f"wall-{number}"
        text = _text(root, typed, found, one, facts, name)
        read = _read_back(inputs, text, name)
        _hold(one, read, name)
        texts[name] = text
        assessments.append(read)
        walls.append(_wall(name, found, one, read))
    given_up = () if walls else least_given_up(proposer, found)
    proposed = Proposed(
        inputs.project.title,
        _open_first(inputs),
        tuple(walls),
        differing(found.front),
        found.count.walls,
        found.left,
        found.bench.tried,
        found.fallen,
        found.letters,
        ()
        if walls or found.best is None
        else tuple(f"{code} {name}" for code, name in found.best.standing.fails),
        given_up,
        round(perf_counter() - started, 2),
    )
    return Ready(proposed, texts, tuple(assessments), found, _weather(inputs))


def _open_first(inputs: Inputs) -> tuple[str, ...]:
    return tuple(
        f"{one.parapet}, {one.wanted.place}: {many(one.wanted.left, 'opening')} more; look at {'; '.join(one.wanted.why)}"
        for one in planned_openings(inputs.project, inputs.practice)
        if one.wanted.left
    )


def _text(root: MarkedMap, typed: Sequence[Comment], found: Found, one: Tried, facts: Path, name: str) -> str:
    head = (
        f"{name}: proposed from {facts.name} by specgen propose. The facts are as stated there. Each choice has",
        "its reason and its source above it; what is not stated is left to the sections. A person decides.",
    )
    return proposal_text(
        root,
        typed,
        found.bench.builder.project(one.wall),
        found.bench.base.practice,
        (" ".join(head),),
        notes(found, one),
    )


def _read_back(inputs: Inputs, text: str, name: str) -> Assessment:
    """The wall as its file is read and assessed."""
    root = read_yaml_text(text, f"{name}/{FILE_NAME}", want=dict)
    reader = ProjectReader(inputs.practice, root, str(Path(inputs.project.path).parent / FILE_NAME))
    project = reader.read()
    if reader.problems:
        raise DiffersError(f"{name} cannot be read: {reader.problems[0].message}")
    return replace(inputs, project=project).assessed()


def _hold(one: Tried, read: Assessment, name: str) -> None:
    """Stop where a file says otherwise than the wall that was searched."""
    wanted = sorted({(f.code, f.parapet, f.message) for f in (*one.standing.open, *one.standing.queries)})
    seen = sorted(
        {
            (f.code, f.parapet, f.message)
            for f in read.findings
            if f.open or f.failed or (f.counts and f.severity.value == "query")
        }
    )
    if wanted != seen:
        apart = [item for item in (*wanted, *seen) if (item in wanted) != (item in seen)]
        raise DiffersError(f"{name} reads otherwise than it was assessed: {apart[0]}")


def _wall(name: str, found: Found, one: Tried, read: Assessment) -> ProposedWall:
    return ProposedWall(
        name,
        one.measures,
        reasons(found, one),
        tuple(dict.fromkeys(_words(f) for f in one.standing.open)),
        tuple(dict.fromkeys(_words(f) for f in one.standing.queries)),
        tuple(omission for wall in read.walls for omission in omissions(wall)),
        amounts(read),
        any(f.failed for f in read.findings),
        any(f.open for f in read.findings),
    )


def _words(finding: Finding) -> str:
    return f"{finding.code} {finding.message}" + (f": {finding.missing}" if finding.missing else "")


def _weather(inputs: Inputs) -> dict[str, bytes]:
    folder = Path(inputs.project.path).parent
    return {named: (folder / named).read_bytes() for _, named in weather_files(inputs.project.site)}


def write_proposals(
    ready: Ready, inputs: Inputs, folder: Path, *, force: bool, other_project: bool
) -> Written:
    """Write the project file of each wall, and the page that compares them.

    Raises:
        OutputError: the folder is another project's, or cannot be written; nothing was.
    """
    info = inputs.project.info
    openings = planned_openings(inputs.project, inputs.practice)
    owner = Owner(info.word("number") or "", info.word("name") or "")
    with locked(folder):
        output = OutputFolder(folder, owner, other_project=other_project)
        for name, text in ready.texts.items():
            output.add(f"{name}/{FILE_NAME}", text.encode())
            for weather, content in ready.weather.items():
                output.add(f"{name}/{weather}", content)
        output.add(
            PAGE,
            proposals_page(
                ready.proposed,
                _drawn(ready),
                _open_points(ready),
                openings,
                ready.assessments[0].paper_words(),
                inputs.project.paper,
            ),
        )
        return output.commit(force=force)


def _open_points(ready: Ready) -> dict[str, tuple[Finding, ...]]:
    """What is unknown or asked in each wall."""
    return {
        wall.name: tuple(one for one in assessment.findings if one.counts)
        for wall, assessment in zip(ready.proposed.walls, ready.assessments, strict=True)
    }


def _drawn(ready: Ready) -> dict[str, tuple[Drawing, ...]]:
    """The section of each parapet of each wall; none where the facts lack what papers bear."""
    return {
        wall.name: ()
        if tuple(wanted_to_issue(assessment.project, assessment.practice))
        else section_sheets(specify(assessment))
        for wall, assessment in zip(ready.proposed.walls, ready.assessments, strict=True)
    }
