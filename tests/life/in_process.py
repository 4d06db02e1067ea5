"""Commands inside the test process: what is read and specified of one project file is made once."""

from __future__ import annotations

import os
import random
from collections.abc import Collection, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from specgen import specification
from specgen.audit.engine import Done
from specgen.commands import audit, audit_job, letters, register, review, substitute, write
from specgen.register import entries
from specgen.work import inputs
from tests.chain.runs import run
from tests.faults.disk import in_child
from tests.life.history import KILLED, Outcome

DUE = (  # of some thirty submittals: the time goes into the rows of workbooks
    "01 25 00 request_submittal",
    "06 10 00 product_data",
    "06 10 00 shop_drawings",
    "07 71 00 product_data",
    "07 71 00 samples",
)
READERS = (register, write, review, substitute, letters, audit_job)


@contextmanager
def made_once(due: Collection[str] | None = DUE) -> Iterator[None]:
    """A project file is read, assessed and specified once, few submittals are due, and the disk is not waited for."""
    read, assessed, specified = inputs.read_inputs, inputs.Inputs.assessed, specification.specify
    known: dict[Any, Any] = {}

    def once(key: Any, make: Any) -> Any:
        if key not in known:
            known[key] = make()
        return known[key]

    def reading(project: Path, *rest: Any, **more: Any) -> Any:
        file = project / "project.yaml" if project.is_dir() else project
        return once(("read", file.read_bytes()), lambda: read(project, *rest, **more))

    with pytest.MonkeyPatch.context() as patch:
        for one in READERS:
            patch.setattr(one, "read_inputs", reading)
        patch.setattr(
            inputs.Inputs, "assessed", lambda self: once(("assessed", id(self)), lambda: assessed(self))
        )
        patch.setattr(specification, "specify", lambda one: once(("spec", id(one)), lambda: specified(one)))
        patch.setattr(
            audit, "_engine", lambda todo, *_: (Done(one, audit_job.audit_job(one)) for one in todo)
        )
        if due is not None:
            every = entries.entries
            patch.setattr(
                entries, "entries", lambda *given: tuple(one for one in every(*given) if one.id in due)
            )
        patch.setattr(os, "fsync", lambda handle: None)
        yield


def command(place: Path, words: Sequence[object], kill: random.Random | None) -> Outcome:
    """Run it here; or in a child that is killed at one of its calls to the disk, if it makes so many."""
    if kill is None:
        done = run(*words)
        return Outcome(done.status, done.out)

    def act() -> tuple[int, str]:
        done = run(*words)
        return done.status, done.out

    most = 40 if words[0] == "register" else 250
    ended = in_child(place, act, kill.randint(1, most), "kill")
    assert ended.status != 1000, ended.err
    return Outcome(KILLED if ended.status == 9 else ended.status, ended.err)
