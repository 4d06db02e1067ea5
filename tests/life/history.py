"""One life of a project: steps drawn by chance, each with a seed of its own, so that any of them can be left out."""

from __future__ import annotations

import random
import shutil
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from tests.chain.runs import contents
from tests.life.oracle import BOOK, Oracle, states_of, whole_states
from tests.life.people import Desk

KILLED = -9
Step = tuple[str, int]  # what is done, and the seed of its chances
EDITS = ("type",) * 6 + ("returned",) * 2
EDITS += (
    "add",
    "clear",
    "over_computed",
    "relabel",
    "closed",
    "row",
    "delete",
    "sort",
    "own",
)  # of a person at a workbook
REGISTER = (
    ("sit",) * 7 + ("copy",) * 2 + ("put_back", "fork", "back_to", "project_changes", "schedule_changes")
)
REGISTER += ("merge",) * 4 + ("run",) * 3


@dataclass(frozen=True)
class Outcome:
    """How a run ended, KILLED if it did not, and what it printed."""

    status: int
    out: str


class Commands(Protocol):
    """How a history runs a command: in this process or in one of its own, perhaps killed at a moment."""

    def __call__(self, place: Path, words: Sequence[object], kill: random.Random | None) -> Outcome: ...


class LostError(AssertionError):
    """What the oracle found."""


class History:
    """A project, its folder of papers and registers, and two people with copies of any age."""

    def __init__(self, place: Path, projects: Sequence[Path], command: Commands, kills: float = 0.08) -> None:
        self.place, self.projects, self.command, self.kills = place, projects, command, kills
        self.out = place / "out"
        self.oracle, self.project, self.schedule = Oracle(), 0, 0
        self.copies: list[Path] = []
        self._count = 0
        self.runs = 0

    def live(self, steps: Sequence[Step]) -> None:
        """Do the steps; at the end every copy comes in, and all that people typed is looked for."""
        self.begin()
        for what, seed in steps:
            getattr(self, what)(random.Random(seed))
        self.end()

    def begin(self) -> None:
        """The first register, the same in every history."""
        self.oracle.holds(self.out)
        first = self.place.with_name("first")
        if not first.exists():
            self._register(self.out, (), None)
            shutil.copytree(self.out, first)
        else:
            shutil.copytree(first, self.out)

    def end(self) -> None:
        """All copies are merged, all is held against what the oracle knows, and a rerun changes nothing."""
        for folder in reversed(self.oracle.folders):
            self._register(folder, [one for one in self.books() if one != folder / BOOK], None)
        for folder in self.oracle.folders:
            self._hold(self.oracle.beyond_recall(folder), "at the end")
            self.rerun(folder)

    def rerun(self, folder: Path) -> None:
        """What nobody changed, a run does not change."""
        before = contents(folder)
        self._register(folder, (), None)
        differ = {
            name
            for name in before.keys() | contents(folder)
            if before.get(name) != contents(folder).get(name)
        }
        if differ:
            raise LostError(f"a rerun changed {sorted(differ)}")

    def books(self) -> list[Path]:
        """Every register and copy, the first register first."""
        return [*(folder / BOOK for folder in self.oracle.folders), *self.copies]

    def count(self) -> int:
        """A number that was never given before."""
        self._count += 1
        return self._count

    def sit(self, chance: random.Random) -> None:
        """Somebody opens a book, does one thing or a few, and saves it."""
        desk = Desk(chance.choice(self.books()), chance, self.oracle, self.count)
        for _ in range(chance.randint(1, 4)):
            getattr(desk, chance.choice(EDITS))()
        desk.save()

    def copy(self, chance: random.Random) -> None:
        """Somebody takes a copy."""
        book, target = chance.choice(self.books()), self.place / f"copy-{len(self.copies)}.xlsx"
        shutil.copy(book, target)
        self.oracle.copied(book, target)
        self.copies.append(target)

    def put_back(self, chance: random.Random) -> None:
        """Somebody puts a copy of any age in the place of the register."""
        if self.copies:
            book, folder = chance.choice(self.copies), chance.choice(self.oracle.folders)
            shutil.copy(book, folder / BOOK)
            self.oracle.copied(book, folder / BOOK)

    def fork(self, chance: random.Random) -> None:
        """The second person takes the whole folder away and keeps a register there."""
        away = self.place / "away"
        if not away.exists():
            shutil.copytree(self.out, away)
            self.oracle.holds(away, self.out)

    def run(self, chance: random.Random) -> None:
        """The register is brought up to date."""
        self._register(chance.choice(self.oracle.folders), (), self._kill(chance))

    def merge(self, chance: random.Random) -> None:
        """Copies are merged, also the register that the other person keeps."""
        folder = chance.choice(self.oracle.folders)
        others = [one for one in self.books() if one != folder / BOOK]
        chosen = chance.sample(others, min(len(others), chance.randint(1, 2)))
        self._register(folder, chosen, self._kill(chance))

    def back_to(self, chance: random.Random) -> None:
        """A state is brought back."""
        folder = chance.choice(self.oracle.folders)
        self._register(folder, (), None, chance.choice(states_of(folder)))

    def project_changes(self, chance: random.Random) -> None:
        """The project file is another one."""
        self.project = chance.randrange(len(self.projects))

    def schedule_changes(self, chance: random.Random) -> None:
        """The work begins at another day, or none is stated."""
        self.schedule = chance.randrange(3)

    def _kill(self, chance: random.Random) -> random.Random | None:
        return chance if chance.random() < self.kills else None

    def _register(
        self, folder: Path, copies: Sequence[Path], kill: random.Random | None, back_to: int | None = None
    ) -> None:
        words: list[object] = ["register", self.projects[self.project], "-o", folder]
        if self.schedule:
            plan = self.place / f"schedule-{self.schedule}.yaml"
            plan.write_text(f"start: 2027-0{self.schedule + 2}-01\n", "utf-8")
            words += ["--schedule", plan]
        for one in copies:
            words += ["--merge", one]
        if back_to is not None:
            words += ["--back-to", back_to]
        before = contents(folder) if folder.exists() else {}
        done = self.command(folder, words, kill)
        self.runs += 1
        what = " ".join(map(str, words[3:]))
        after = contents(folder)
        self._hold(whole_states(before, after), what)
        if done.status == KILLED:
            return
        self._hold(self.oracle.statuses(done.out, done.status), what)
        self.oracle.ran(folder, copies, done.out, back_to)
        self._hold(self.oracle.missing(folder), what)
        parts = [name for name in after if ".specgen-" in name]
        self._hold((f"{name} was left behind" for name in parts), what)

    def _hold(self, found: Iterator[str], after: str) -> None:
        for one in found:
            raise LostError(f"{one}, after {after}")


def drawn(seed: int, kinds: Sequence[str], most: int) -> list[Step]:
    """The steps of a history."""
    chance = random.Random(seed)
    return [(chance.choice(kinds), chance.randrange(1 << 32)) for _ in range(chance.randint(3, most))]


def shortest(steps: Sequence[Step], fails: Callable[[Sequence[Step]], bool]) -> list[Step]:
    """Fewer steps that still fail: none of them can be left out alone."""
    kept, place = list(steps), 0
    while place < len(kept):
        fewer = kept[:place] + kept[place + 1 :]
        if fails(fewer):
            kept = fewer
        else:
            place += 1
    return kept
