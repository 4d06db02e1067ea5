"""Who decided what and when on a project, as the files in its folder hold it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from specgen.files.marks import InputError, InputProblem
from specgen.files.withdrawn import REGISTER
from specgen.intake.accepted import FILE_NAME, load_accepted
from specgen.intake.submittal import load_submission
from specgen.model.project import Decision, Project
from specgen.practice.entries import Practice
from specgen.register.columns import ITEM, REMARKS, ROUND
from specgen.register.merge import Row
from specgen.render.replies import NUMBERS, letter_numbers
from specgen.units.counted import many
from specgen.work.confirming import NOT_THERE
from specgen.work.filed import submittals_of
from specgen.work.register_run import read_copy
from specgen.work.registering import register_folder


@dataclass(frozen=True)
class Event:
    """One thing that a person decided or sent. ``file`` is where it stands, below the project folder."""

    day: date | None
    what: str
    about: str
    result: str
    by: str
    note: str
    file: str


def history(project: Project, practice: Practice) -> tuple[tuple[Event, ...], tuple[InputProblem, ...]]:
    """Every decision, the latest first; and what of the files cannot be read.

    Args:
        project: as read; its waivers and answers, and the folder that it lies in.
        practice: the vocabulary.
    """
    events: list[Event] = []
    problems: list[InputProblem] = []
    folder = Path(project.path).parent
    sources: tuple[Callable[[], Iterator[Event]], ...] = (
        lambda: _accepted(folder, practice),
        lambda: _decisions(project),
        lambda: _confirmed(folder, practice, problems),
        lambda: _registered(project, folder),
        lambda: _sent(project, folder),
    )
    for source in sources:
        try:
            events += list(source())
        except InputError as error:
            problems += error.problems
    ordered = sorted(events, key=lambda one: one.day or date.min, reverse=True)
    return tuple(ordered), tuple(problems)


def _accepted(folder: Path, practice: Practice) -> Iterator[Event]:
    path = folder / FILE_NAME
    for one in load_accepted(path, practice) if path.exists() else ():
        words = (one.word("result") or "", one.word("by") or "", one.word("note") or "")
        yield Event(one.date, f"{one.paper} accepted", one.file, *words, FILE_NAME)


def _decisions(project: Project) -> Iterator[Event]:
    for one in (*project.waivers, *project.answers):
        day, until = one.values.get("date"), one.values.get("until")
        yield Event(
            day if isinstance(day, date) else None,
            one.what,
            f"{one.rule}, {_where(one)}",
            f"until {until}" if until else "",
            one.word("by") or "",
            "; ".join(filter(None, (one.word(key) for key in ("reason", "answer", "reference", "limit")))),
            Path(project.path).name,
        )


def _where(one: Decision) -> str:
    return "all parapets" if one.parapet == "all" else f"parapet {one.parapet}"


def _confirmed(folder: Path, practice: Practice, problems: list[InputProblem]) -> Iterator[Event]:
    for path in submittals_of(folder):
        try:
            products = load_submission(path, practice).products
        except InputError as error:
            problems += error.problems
            continue
        for product in products:
            found = Counter(
                (one.values.get("date"), one.word("as") or "", one.word("by") or "")
                for one in product.confirmed.values()
            )
            for (day, what, by), count in found.items():
                words = f"{many(count, 'value')} {what}"
                about = f"{product.role} {product.name}"
                at = path.relative_to(folder).as_posix()
                shown = words.replace(f" {NOT_THERE}", f" found {NOT_THERE}")
                yield Event(
                    day if isinstance(day, date) else None, "compared with sheets", about, shown, by, "", at
                )


def _registered(project: Project, folder: Path) -> Iterator[Event]:
    path = register_folder(project) / f"{REGISTER}.xlsx"
    if not path.exists():
        return
    register = read_copy(path).register
    rows: list[Row] = [*register.history, *register.rows.values()]
    for row in rows:
        if not row.get("result"):
            continue
        day, round_ = row.get("returned"), row.get(ROUND)
        about = str(row.get("submittal") or row.get(ITEM) or "")
        yield Event(
            day if isinstance(day, date) else None,
            "result of a submittal",
            f"{about}, round {round_}" if round_ else about,
            str(row["result"]),
            str(row.get("by") or ""),
            str(row.get(REMARKS) or ""),
            path.relative_to(folder).as_posix(),
        )


def _sent(project: Project, folder: Path) -> Iterator[Event]:
    place = register_folder(project)
    for stem, one in letter_numbers(place).items():
        words = "sent" if one.day else "drafted"
        at = (place / NUMBERS).relative_to(folder).as_posix()
        yield Event(
            one.day, f"letter {words}", stem.replace("-", " "), f"{one.number}, round {one.round}", "", "", at
        )
