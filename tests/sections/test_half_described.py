"""A half-described wall is written as far as it goes: no reference leads nowhere, whatever part is missing."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest

from specgen.assessment import assess
from specgen.intake.project import load_project
from specgen.model.project import Component, Project
from specgen.practice.load import load_practice
from specgen.specification import specify
from tests.conftest import LONG

PRACTICE = load_practice()
PROJECT = load_project(Path(__file__).parents[2] / "tests" / "stated" / "mixed-humid-midrise", PRACTICE)
WALL = PROJECT.parapets[0]
ROLES = tuple(dict.fromkeys(part.role for part in WALL.components()))
KINDS = [(role, kind) for role in ROLES for kind in PRACTICE.vocabulary.roles[role].kinds]


def described(keep: set[str]) -> Project:
    """The demo's wall with only these roles, and the laps between what is left."""

    def kept(parts: tuple[Component, ...]) -> tuple[Component, ...]:
        return tuple(part for part in parts if part.role in keep)

    build_up, top = kept(WALL.build_up), kept(WALL.top)
    ids = {part.id for part in build_up + top}
    joints = tuple(
        joint
        for joint in WALL.transitions
        if {joint.first, joint.second} <= ids and joint.word("tape") in (None, *ids)
    )
    return with_wall(build_up, top, transitions=joints)


def with_wall(build_up: tuple[Component, ...], top: tuple[Component, ...], **changes: object) -> Project:
    wall = replace(WALL, build_up=build_up, top=top, **changes)  # type: ignore[arg-type]
    return replace(PROJECT, parapets=(wall,))


def write(project: Project) -> None:
    specify(assess(project, PRACTICE))


@pytest.mark.parametrize("count", [1, 2] if LONG else [1])
def test_without_parts(count: int) -> None:
    for missing in combinations(ROLES, count):
        write(described(set(ROLES) - set(missing)))


@pytest.mark.parametrize("count", [0, 1, 2] if LONG else [0, 1])
def test_with_few_parts(count: int) -> None:
    for kept in combinations(ROLES, count):
        write(described(set(kept)))


@pytest.mark.parametrize(("role", "kind"), KINDS)
def test_any_kind_with_no_value_but_its_kind(role: str, kind: str) -> None:
    def bare(parts: tuple[Component, ...]) -> tuple[Component, ...]:
        return tuple(replace(one, kind=kind, values={}) if one.role == role else one for one in parts)

    write(with_wall(bare(WALL.build_up), bare(WALL.top)))


def test_no_part_with_a_value() -> None:
    def bare(parts: tuple[Component, ...]) -> tuple[Component, ...]:
        return tuple(replace(one, values={}) for one in parts)

    write(with_wall(bare(WALL.build_up), bare(WALL.top)))
