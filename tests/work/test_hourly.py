"""Studies over cores: each as it is done, how far they are, and what a process that ends leaves open."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace

import pytest

from specgen.assessment import settled
from specgen.files.faults import Fault
from specgen.intake.project import load_project
from specgen.model.project import Parapet, Project
from specgen.physics.errors import PhysicsError
from specgen.practice.load import load_practice
from specgen.work.hourly import OPEN, RAN, Studied, _over_cores, _Work
from tests.chain.runs import CONFORMING
from tests.hourly_results import result_of


class Quick(_Work):
    """Work whose studies take no time; what each does hangs on the name of its parapet."""

    def studied(self, parapet: Parapet, tell: Callable[[float], None]) -> Studied:
        tell(0.5)
        if parapet.name == "ends":
            os._exit(3)
        if parapet.name == "broken":
            raise KeyError("nobody foresaw this")
        if parapet.name == "unsolved":
            return Studied(parapet.name, OPEN, why=str(PhysicsError("plaster: hour 7")))
        tell(1.0)
        return Studied(parapet.name, RAN, result_of(parapet.name, notes=(str(os.getpid()),)))


def project(*names: str) -> Project:
    made = settled(load_project(CONFORMING, load_practice()), load_practice())
    return replace(made, parapets=tuple(replace(made.parapets[0], name=name) for name in names))


def over_cores(*names: str) -> tuple[dict[str, Studied], list[float]]:
    heard: list[float] = []
    made = project(*names)
    found = _over_cores(Quick(made, load_practice(), 10), made.parapets, 2, heard.append)
    return {one.parapet: one for one in found}, heard


def test_walls_are_studied_in_processes_of_their_own() -> None:
    found, heard = over_cores("P-1", "P-2", "unsolved")
    assert {name: one.state for name, one in found.items()} == {"P-1": RAN, "P-2": RAN, "unsolved": OPEN}
    assert found["unsolved"].why == "plaster: hour 7"
    pids = {one.result.notes[0] for one in found.values() if one.result}
    assert str(os.getpid()) not in pids
    assert heard == sorted(heard) and heard[-1] > 0.5


def test_a_process_that_ends_leaves_its_wall_alone_open() -> None:
    found, _ = over_cores("ends", "P-2")
    assert set(found) == {"ends", "P-2"}
    assert found["ends"].state == OPEN and "run the command again" in found["ends"].why
    assert found["P-2"].state == RAN


def test_a_fault_in_a_process_is_a_fault_of_the_run() -> None:
    with pytest.raises(Fault, match="broken: KeyError: 'nobody foresaw this'"):
        over_cores("broken", "P-2")
