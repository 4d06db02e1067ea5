"""What must hold after any one system call of a run has failed, or the run was killed at it."""

from __future__ import annotations

import json
import random
import shutil
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from specgen.files.lock import LOCK
from specgen.files.writing import MANIFEST
from tests.chain.runs import contents
from tests.faults.disk import FAULTS, KILLED, KINDS, Ended, in_child

Act = Callable[[Path], tuple[int, str]]  # a run in a folder: its status, and what it prints of errors


@dataclass(frozen=True)
class Case:
    """A run in a folder as it was before, and the folder after a run that nothing disturbs."""

    act: Act
    before: Path
    work: Path
    calls: tuple[str, ...]
    after: dict[str, bytes]
    status: int

    @classmethod
    def of(cls, act: Act, before: Path, work: Path) -> Case:
        """Run it undisturbed, and count its calls."""
        _afresh(before, work)
        done = in_child(work, lambda: act(work))
        assert done.status not in (2, 70, 1000), done.err
        return cls(act, before, work, done.calls, contents(work), done.status)

    def steps(self) -> Iterator[tuple[int, str]]:
        """Each call, with each way in which it can go wrong."""
        for number, call in enumerate(self.calls, start=1):
            for kind in KINDS:
                if call == "write" or kind not in ("short", "torn"):
                    yield number, kind

    def sample(self, count: int) -> list[tuple[int, str]]:
        """Some of the steps, the same each time."""
        return random.Random(20261129).sample(list(self.steps()), count)

    def each(self) -> list[tuple[int, str]]:
        """Every kill at a replacing, and each sort of call once with each way in which it can go wrong."""
        steps = list(self.steps())
        random.Random(20261129).shuffle(steps)
        one = {(self.calls[number - 1], kind): (number, kind) for number, kind in steps}
        kills = [
            (number, kind) for number, kind in steps if self.calls[number - 1] == "replace" and kind == "kill"
        ]
        return [*dict.fromkeys((*one.values(), *kills))]

    def disturbed(self, number: int, kind: str) -> Ended:
        """Run it with one fault, and hold what it left against what must hold; then run it again."""
        old = contents(self.before) if self.before.exists() else {}
        _afresh(self.before, self.work)
        done = in_child(self.work, lambda: self.act(self.work), number, kind)
        place = f"call {number} ({self.calls[number - 1]}), {kind}: status {done.status}, {done.err}"
        found = contents(self.work) if self.work.exists() else {}
        self._whole(found, old, done, place)
        if kind in FAULTS and done.status != self.status:
            assert done.status in (2, 70), place
            lines = done.err.strip().splitlines()
            assert len(lines) <= 2 and "Traceback" not in done.err, place
            if "nothing was written" in done.err:
                assert {name: data for name, data in found.items() if name != LOCK} == old, place
        elif done.status != KILLED:
            self.right({name: data for name, data in found.items() if name != LOCK}, place)
        again = in_child(self.work, lambda: self.act(self.work))
        assert again.status == self.status, f"{place}; then {again.err}"
        self.right(contents(self.work), place)
        return done

    def right(self, found: dict[str, bytes], place: str) -> None:
        """Hold the folder after the run that follows against that of a run that nothing disturbed."""
        assert found.keys() == self.after.keys(), place
        assert [name for name in found if found[name] != self.after[name]] == [], place

    def old_or_new(self, name: str, data: bytes, old: Mapping[str, bytes]) -> bool:
        """Whether a file is whole: as it was, or as it is to be."""
        return data in (old.get(name), self.after.get(name))

    def _whole(self, found: dict[str, bytes], old: dict[str, bytes], done: Ended, place: str) -> None:
        for name, data in found.items():
            last = name.rpartition("/")[2]
            if last == LOCK or (done.status == KILLED and last.startswith(".specgen-")):
                continue
            if last == MANIFEST:
                assert "files" in json.loads(data), place
                continue
            assert self.old_or_new(name, data, old), f"{place}: {name} is neither old nor new"
        lost = {name for name in old if name in self.after and name not in found}
        assert lost == set(), f"{place}: lost {lost}"


def _afresh(before: Path, work: Path) -> None:
    shutil.rmtree(work, ignore_errors=True)
    if before.exists():
        shutil.copytree(before, work)
