"""The hourly study of a project's walls: what is kept and holds stays, the rest is run, one process a core."""

from __future__ import annotations

import multiprocessing
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from multiprocessing.queues import SimpleQueue
from typing import ClassVar

from specgen.assessment import Assessment
from specgen.design import hourly_kept
from specgen.design.hourly_kept import HOLDS, Standing, standing
from specgen.model.hourly import HourlyResult
from specgen.model.project import Parapet, Project
from specgen.physics.errors import PhysicsError
from specgen.practice.entries import Practice
from specgen.review.hours import cut_words

YEARS = 10
"""That are asked for at most, where nobody says how many."""
LISTEN = 0.2  # s between two looks at how far the walls are
KEPT, RAN, OPEN = "kept", "run", "unknown"
Share = tuple[str, float]  # a parapet, and how much of its study is done [-]
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


_MINE: list[tuple[_Work, SimpleQueue[Share]]] = []  # of a process that studies


def _begin(work: _Work, shares: SimpleQueue[Share]) -> None:
    _MINE[:] = [(work, shares)]


def _one(name: str) -> Studied:
    work, shares = _MINE[0]
    (parapet,) = (one for one in work.project.parapets if one.name == name)
    return work.studied(parapet, lambda share: shares.put((name, share)))


def _over_cores(work: _Work, parapets: Sequence[Parapet], cores: int, tell: Tell) -> Iterator[Studied]:
    """Each study as it is done; those of a process that ended are told, and lose no other."""
    context = multiprocessing.get_context("spawn")
    shares: SimpleQueue[Share] = context.SimpleQueue()
    done = dict.fromkeys((one.name for one in parapets), 0.0)
    pool = ProcessPoolExecutor(cores, context, _begin, (work, shares))
    try:
        running: dict[Future[Studied], str] = {pool.submit(_one, name): name for name in done}
        while running:
            ready, _ = wait(running, LISTEN, FIRST_COMPLETED)
            while not shares.empty():
                name, share = shares.get()
                done[name] = share
            tell(sum(done.values()) / len(done))
            for future in ready:
                yield _outcome(future, running.pop(future))
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _outcome(future: Future[Studied], name: str) -> Studied:
    try:
        return future.result()
    except BrokenProcessPool:
        why = "the process that studied it ended: it was killed, or ran out of memory; run the command again"
        return Studied(name, OPEN, why=why)


def gone(project: Project, kept: Mapping[str, HourlyResult]) -> tuple[str, ...]:
    """The parapets of kept results that the project no longer has."""
    there = {one.name for one in project.parapets}
    return tuple(sorted(name for name in kept if name not in there))
