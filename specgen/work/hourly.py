"""The hourly study of a project's walls: what is kept and holds stays, the rest is run, one process a core."""

from __future__ import annotations

import multiprocessing
import signal
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from multiprocessing.connection import Connection, wait
from multiprocessing.context import SpawnProcess
from typing import ClassVar, cast

from specgen.assessment import Assessment
from specgen.design import hourly_kept
from specgen.design.hourly_kept import HOLDS, Standing, standing
from specgen.files.faults import Fault
from specgen.model.hourly import HourlyResult
from specgen.model.project import Parapet, Project
from specgen.physics.errors import PhysicsError
from specgen.practice.entries import Practice
from specgen.review.hours import cut_words

YEARS = 10
"""That are asked for at most, where nobody says how many."""
KEPT, RAN, OPEN = "kept", "run", "unknown"
Tell = Callable[[float], None]


@dataclass(frozen=True)
class Studied:
    """One parapet: its result, whether it was kept or run, and why there is none where there is none."""

    parapet: str
    state: str
    result: HourlyResult | None = None
    why: str = ""
    ALSO_PLAIN: ClassVar = ("holds",)

    @property
    def holds(self) -> bool | None:
        """Whether the criterion holds in every cut; None where a run is lacking."""
        if self.result is None or any(cut.at(0.0) is None for cut in self.result.cuts):
            return None
        return all(cut.holds for cut in self.result.cuts)

    @property
    def failed(self) -> bool:
        """Whether the criterion fails in a cut."""
        return self.holds is False

    @property
    def open(self) -> bool:
        """Whether it cannot be told."""
        return self.holds is None


Elsewhere = Callable[[Sequence[Parapet]], Iterator[Studied]]


def studies(
    project: Project,
    practice: Practice,
    parapets: Sequence[Parapet],
    *,
    years: int | None = None,
    anew: bool = False,
    cores: int = 1,
    tell: Tell = lambda share: None,
    elsewhere: Elsewhere | None = None,
) -> Iterator[Studied]:
    """The study of each parapet, those first that need no run, then each as it is done.

    Args:
        project: with the limits of its requirements in place of what it leaves to the sections.
        practice: the office's, where it has one.
        parapets: of the project.
        years: at most so many; None: those of a kept result, else `YEARS`.
        anew: run also what is kept and holds.
        cores: processes at a time; one runs in this process.
        tell: takes the share of all runs that is done.
        elsewhere: runs those that need it, in place of the processes of this machine.
    """
    wanted: list[Parapet] = []
    for one in parapets:
        found = standing(project, one, practice)
        if not anew and _serves(found, years):
            yield Studied(one.name, KEPT, found.result)
            continue
        now = hourly_kept.key_now(project, one, practice, years or YEARS)
        if now.key:
            wanted.append(one)
        else:
            yield Studied(one.name, OPEN, why="; ".join(now.missing))
    if elsewhere is not None:
        for number, done in enumerate(elsewhere(wanted) if wanted else ()):
            tell((number + 1) / len(wanted))
            yield done
        return
    work = _Work(project, practice, years or YEARS)
    if min(cores, len(wanted)) > 1:
        yield from _over_cores(work, wanted, min(cores, len(wanted)), tell)
    else:
        for number, one in enumerate(wanted):
            yield work.studied(one, _part(tell, number, len(wanted)))


def studies_of(
    assessment: Assessment, names: Sequence[str], *, cores: int = 1, tell: Tell = lambda share: None
) -> Iterator[Studied]:
    """The studies of some walls of an assessed project, as :func:`studies` makes them."""
    project = assessment.stages[-1].memo.project
    chosen = [one for one in project.parapets if one.name in names]
    yield from studies(project, assessment.practice, chosen, cores=cores, tell=tell)


def line_of(one: Studied) -> str:
    """A parapet in a line: the criterion, the cut that decides, or why it is not known."""
    if one.result is None or one.holds is None:
        return f"{one.parapet}: the hours are unknown: {one.why or 'no run at the leak of the criterion'}"
    worst = min(one.result.cuts, key=lambda cut: (cut.holds, -1.0 if cut.forgiven is None else cut.forgiven))
    return f"{one.parapet}: {worst.cut}: {cut_words(worst)}"


def _serves(found: Standing, years: int | None) -> bool:
    return found.state == HOLDS and found.result is not None and years in (None, found.result.years)


def _part(tell: Tell, number: int, count: int) -> Tell:
    return lambda share: tell((number + share) / count)


@dataclass(frozen=True)
class _Work:
    """What every study of a project needs; it goes to each process once."""

    project: Project
    practice: Practice
    years: int

    def studied(self, parapet: Parapet, tell: Tell) -> Studied:
        """The study of one parapet; a wall that cannot be solved is told with layer and hour."""
        from specgen.design.hourly_study import study
        from specgen.design.worksheet import Unknown

        try:
            result = study(self.project, parapet, self.practice, years=self.years, tell=tell)
        except Unknown as error:
            return Studied(parapet.name, OPEN, why=str(error) or "a value is missing")
        except PhysicsError as error:
            return Studied(parapet.name, OPEN, why=str(error))
        tell(1.0)
        return Studied(parapet.name, RAN, result)


def _in_process(work: _Work, parapet: Parapet, heard: Connection) -> None:
    """What a process of its own does: one study, its shares on the way and the result at the end into a pipe."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # who stops the run ends its processes
    try:
        heard.send(work.studied(parapet, heard.send))
    except Exception as error:  # told where the run is, and not on the paper of a process
        heard.send(f"{parapet.name}: {type(error).__name__}: {error}")
    heard.close()


def _over_cores(work: _Work, parapets: Sequence[Parapet], cores: int, tell: Tell) -> Iterator[Studied]:
    """Each study as it is done, in a process of its own; one that ends before its study leaves that wall alone open."""
    context = multiprocessing.get_context("spawn")
    waiting, done = list(parapets), dict.fromkeys((one.name for one in parapets), 0.0)
    running: dict[Connection, tuple[str, SpawnProcess]] = {}
    try:
        while waiting or running:
            while waiting and len(running) < cores:
                parapet = waiting.pop(0)
                ours, theirs = context.Pipe(duplex=False)
                process = context.Process(target=_in_process, args=(work, parapet, theirs), daemon=True)
                process.start()
                theirs.close()  # so that ours ends with the process
                running[ours] = parapet.name, process
            for pipe in cast(list[Connection], wait(list(running))):  # on Windows a class of its own
                name, process = running[pipe]
                heard = _heard(pipe, name)
                if isinstance(heard, float):
                    done[name] = heard
                else:
                    process.join()
                    pipe.close()
                    del running[pipe]
                    done[name] = 1.0
                    yield heard
                tell(sum(done.values()) / len(done))
    finally:
        for _, process in running.values():
            process.terminate()


def _heard(pipe: Connection, name: str) -> float | Studied:
    """A share of a study, or the study; what a process that ended left is a wall that is open.

    Raises:
        Fault: the study failed in a way that nobody foresaw.
    """
    try:
        heard: float | Studied | str = pipe.recv()
    except (EOFError, OSError):
        why = "the process that studied it ended: it was killed, or ran out of memory; run the command again"
        return Studied(name, OPEN, why=why)
    if isinstance(heard, str):
        raise Fault(heard)
    return heard


def gone(project: Project, kept: Mapping[str, HourlyResult]) -> tuple[str, ...]:
    """The parapets of kept results that the project no longer has."""
    there = {one.name for one in project.parapets}
    return tuple(sorted(name for name in kept if name not in there))
