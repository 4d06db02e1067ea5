"""One specification a wall: a command loads rules and clauses once, and writes and traces each wall once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

import specgen.rules.book
import specgen.rules.wall
import specgen.specification
from specgen.assessment import assess
from specgen.commands import main
from specgen.model.project import Project
from specgen.practice.load import load_practice
from specgen.specification import specify
from specgen.work.inputs import read_inputs
from tests.chain.runs import CONFORMING, FAULTY

SUBMITTALS = sorted((CONFORMING / "submittals").glob("*.yaml"))
REQUESTS = sorted((CONFORMING / "substitutions").glob("*.yaml"))


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> dict[str, list[tuple[Any, ...]]]:
    """The arguments of each call of what is to be done once, by name."""
    calls: dict[str, list[tuple[Any, ...]]] = {}

    def count(module: Any, name: str) -> None:
        real: Callable[..., Any] = getattr(module, name)

        def called(*args: Any, **kwargs: Any) -> Any:
            calls.setdefault(name, []).append(args)
            return real(*args, **kwargs)

        monkeypatch.setattr(module, name, called)

    monkeypatch.setattr(specgen.rules.book, "_LOADED", [])  # as in a process of its own
    count(specgen.rules.book, "_modules")
    count(specgen.specification, "load_clauses")
    count(specgen.specification, "build_sections")
    count(specgen.rules.wall, "control_paths")
    count(specgen.rules.wall, "sequence")
    return calls


@pytest.mark.parametrize(
    ("arguments", "walls"),
    [
        (("write", CONFORMING), 1),
        (("write", FAULTY), 1),
        (("review", CONFORMING, *SUBMITTALS), 1),
        (("substitute", CONFORMING, REQUESTS[0]), 2),
        (("substitute", CONFORMING, *REQUESTS), 1 + len(REQUESTS)),
        (("letters", CONFORMING, *SUBMITTALS), 1),
        (("register", CONFORMING), 1),
    ],
    ids=lambda value: value if isinstance(value, int) else f"{value[0]} {len(value) - 2}",
)
def test_a_command_does_each_thing_once(
    arguments: tuple[str | Path, ...], walls: int, counted: dict[str, list[tuple[Any, ...]]], tmp_path: Path
) -> None:
    done = CliRunner().invoke(main, [*map(str, arguments), "-o", str(tmp_path / "out")])
    assert done.exit_code in (0, 1, 3), done.output
    assert len(counted["_modules"]) == 1  # the rule book
    assert len(counted["load_clauses"]) == 1
    assert len(counted["build_sections"]) == walls
    assert (
        max(Counter((id(project), id(wall)) for project, wall, _ in counted["control_paths"]).values()) == 1
    )
    if walls == 1 and arguments[0] not in ("review", "letters"):  # these try products at a parapet alone
        assert max(Counter(id(wall) for wall, _ in counted["sequence"]).values()) == 1


def test_a_specification_written_again_of_its_own_project_is_equal() -> None:
    spec = specify(read_inputs(FAULTY, None, False).assessed())
    again = spec.again(spec.assessment.project)
    assert again.sections == spec.sections
    assert again.rows == spec.rows and again.paragraphs == spec.paragraphs
    assert again.assessment.findings == spec.assessment.findings


def test_another_project_is_written_in_its_own_language_of_units() -> None:
    practice = load_practice()
    inputs = read_inputs(CONFORMING, None, False)
    spec = specify(inputs.assessed())
    metric = _in_units(inputs.project, "SI")
    alone = specify(assess(metric, practice))
    again = spec.again(metric)
    assert again.sections == alone.sections != spec.sections
    assert spec.again(metric).again(inputs.project).sections == spec.sections


def _in_units(project: Project, system: str) -> Project:
    return replace(project, info=replace(project.info, values={**project.info.values, "units": system}))
