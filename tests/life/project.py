"""A whole project's life: issues, answers, acceptances and audits beside the register, by the same two people."""

from __future__ import annotations

import random
import shutil
from collections.abc import Sequence
from pathlib import Path

from tests.chain.runs import contents
from tests.life.history import KILLED, REGISTER, Commands, History, Step
from tests.life.papers import Papers, held_audit, held_issue, held_review, paper_to_edit

FILES = Path(__file__).parent
SUBMITTALS = ("coping-thick.yaml", "coping-thin.yaml")
REQUEST = "request.yaml"
WHOLE = (
    REGISTER
    + ("write",) * 4
    + ("edit_paper",) * 6
    + ("old_paper",) * 2
    + ("project_changes",) * 3
    + ("review", "review", "substitute", "letters", "accept", "accept", "audit", "audit")
)


class Life(History):
    """A project with its papers and its register in one folder, and an audit in another."""

    def __init__(self, place: Path, projects: Sequence[Path], command: Commands, kills: float = 0.15) -> None:
        super().__init__(place, projects, command, kills)
        self.papers = {"out": Papers(), "audit": Papers()}
        self.taken: list[tuple[str, bytes]] = []  # papers that somebody has a copy of
        self.written: int | None = None  # the project as issued last; None where that is not known
        self.home = place / "jobs" / "wall"
        self.accepted = ""

    def live(self, steps: Sequence[Step]) -> None:
        self.home.mkdir(parents=True)
        for name in (*SUBMITTALS, REQUEST):
            shutil.copy(FILES / name, self.home / name)
        super().live(steps)

    def end(self) -> None:
        super().end()
        if any((self.out / name).exists() for name in ("manifest.json", "issue.json")):
            self.write(random.Random(0), kill=False)
            before = contents(self.out)
            self.write(random.Random(0), kill=False)
            after = contents(self.out)
            self._hold((f"a rerun changed {one}" for one in before if before[one] != after.get(one)), "write")
            self._hold((f"a rerun made {one}" for one in after.keys() - before.keys()), "write")

    def write(self, chance: random.Random, kill: bool = True) -> None:
        """The issue is written."""
        changed = self.written is not None and self.written != self.project
        self.written = None
        status, out = self._papers("out", ["write", self._file()], chance if kill else None)
        if out is not None:
            self.written = self.project
            self._hold(held_issue(out, status, changed), "write")

    def review(self, chance: random.Random) -> None:
        """Products are reviewed."""
        some = chance.sample(SUBMITTALS, 1)
        status, out = self._papers(
            "out", ["review", self._file(), *(self.home / one for one in some)], chance
        )
        if out is not None:
            self._hold(held_review(out, status), "review")

    def substitute(self, chance: random.Random) -> None:
        """A request is weighed."""
        self._papers("out", ["substitute", self._file(), self.home / REQUEST], chance)

    def letters(self, chance: random.Random) -> None:
        """Letters are drafted."""
        self._papers("out", ["letters", self._file(), self.home / chance.choice(SUBMITTALS)], chance)

    def accept(self, chance: random.Random) -> None:
        """Somebody accepts a paper that is not accepted yet."""
        open_ = [one for one in (*SUBMITTALS, REQUEST) if one not in self.accepted]
        if open_:
            one, word = chance.choice(open_), f"word{self.count():04}"
            kind = "substitution" if one == REQUEST else "submittal"
            self.accepted = self.accepted or "format: 2\naccepted:\n"
            self.accepted += f"  - {kind}: {one}\n    date: 2026-12-05\n    by: {word}\n"
            self.accepted += "    result: make corrections noted\n"
            (self.home / "accepted.yaml").write_text(self.accepted, "utf-8")

    def audit(self, chance: random.Random) -> None:
        """The project is audited as designed and as accepted."""
        self._file()
        _, out = self._papers("audit", ["audit", self.place / "jobs"], chance, "--jobs", 1)
        kept = self.place / "audit" / "audit.json"
        if out is not None and "audit.json" not in self.papers["audit"].edited:
            self._hold(held_audit(kept.read_bytes(), self.accepted), "audit")

    def edit_paper(self, chance: random.Random) -> None:
        """Somebody writes into a paper."""
        where = chance.choice(("out", "out", "out", "audit"))
        folder = self.place / where
        name = paper_to_edit(contents(folder) if folder.exists() else {}, chance)
        if name:
            data = self.papers[where].hand_edit(name, (folder / name).read_bytes(), f"word{self.count():04}")
            (folder / name).write_bytes(data)

    def old_paper(self, chance: random.Random) -> None:
        """Somebody takes a copy of a paper, or puts one of any age back in its place."""
        name = paper_to_edit(contents(self.out), chance)
        if name and (not self.taken or chance.random() < 0.5):
            self.taken.append((name, (self.out / name).read_bytes()))
        elif self.taken:
            name, data = chance.choice(self.taken)
            (self.out / name).parent.mkdir(exist_ok=True)
            (self.out / name).write_bytes(data)
            self.papers["out"].edited.pop(name, None)

    def _file(self) -> Path:
        shutil.copy(self.projects[self.project] / "project.yaml", self.home / "project.yaml")
        return self.home

    def _papers(
        self, where: str, words: list[object], chance: random.Random | None, *more: object
    ) -> tuple[int, str | None]:
        folder = self.place / where
        before = contents(folder) if folder.exists() else {}
        kill = self._kill(chance) if chance else None
        done = self.command(folder, [*words, "-o", folder, "--format", "json", *more], kill)
        out = None if done.status == KILLED else done.out
        after = contents(folder) if folder.exists() else {}
        self.runs += 1
        if done.status not in (KILLED, 0, 1, 3):
            self._hold(iter([f"status {done.status}: {done.out}"]), str(words[0]))
        self._hold(self.papers[where].ran(before, after, out), " ".join(map(str, words)))
        return done.status, out
