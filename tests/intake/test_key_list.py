"""The printed list of keys: it holds every key of a file, and each of its examples can be written as it stands."""

from __future__ import annotations

import re

import pytest

from specgen.files.yaml_reader import read_yaml_text
from specgen.intake.key_list import RECORDS, key_list
from specgen.intake.project import PARAPET_KEYS
from specgen.intake.values import convert
from specgen.practice.entries import Field
from specgen.practice.load import load_practice
from tests.chain.runs import run

PRACTICE = load_practice()
VOCABULARY = PRACTICE.vocabulary
LINES = list(key_list(PRACTICE, "project"))
HEAD = re.compile(r"^(role )?([a-z][a-z -]*?)(?:, in `[a-z_]+`)?:")
KEY = re.compile(r"  ([a-z_0-9 -]+): .*?; as `([a-z_0-9 -]+: .*?)`(?:;|$)")


def keys() -> list[tuple[str, Field, str]]:
    """Role or record, field, and the example line, of each line of the list that has a field."""
    found, fields = [], {}
    for line in "\n".join(LINES).splitlines():
        if head := HEAD.match(line):
            held = VOCABULARY.roles if head[1] else VOCABULARY.records
            what, fields = head[2], held[head[2]].fields if head[2] in held else {}
        elif (key := KEY.match(line)) and key[1] in fields:
            found.append((what, fields[key[1]], key[2]))
    return found


def test_every_key_of_a_project_file_is_listed_once() -> None:
    listed = [(what, field.name) for what, field, _ in keys()]
    assert len(listed) == len(set(listed)) > 250
    roles = {
        (name, key) for name, role in VOCABULARY.roles.items() if role.where != "place" for key in role.fields
    }
    left_out = {name for names in RECORDS.values() for name in names} | {"office amendment", "acceptance"}
    records = {
        (name, key) for name, one in VOCABULARY.records.items() if name not in left_out for key in one.fields
    }
    # one role and one record bear the name `scupper`; the role is of no project file
    assert roles | records == set(listed)
    assert all(any(key in line for line in LINES) for key in PARAPET_KEYS)


def test_every_example_can_be_written_as_it_stands() -> None:
    for what, field, line in keys():
        written = read_yaml_text(line, "example.yaml", want=dict)[field.name]
        convert(field, written, VOCABULARY)  # raises what cannot be used
        assert written is not None, (what, line)


@pytest.mark.parametrize("words", [
    "ends: ends against rising walls. A list; each begins with `- name: E-1`",
    "existing: parapet as it stands. Where the work is on a standing wall.",
    "inner_face: roof-side face; one of roof membrane, stucco, metal panel; as `inner_face: ",
    "family: material family; a material family; as `family: ",
    "end: list `ends` of a parapet",
    "role roof turn-up, in `build_up`: roof membrane base flashing; also called base flashing",
    "a length: in, ft, mm, m; as `height: 42 in`; can be 1 in to 30 ft",
    "vapor_permeance: vapor permeance; a vapor permeance: perm",
])  # fmt: skip
def test_the_command_prints_it(words: str) -> None:
    assert words in "\n".join(LINES)


def test_each_file_has_its_list() -> None:
    done = run("schema", "submittal", "--list")
    assert done.status == 0
    assert "submittal:" in done.out and "role scupper: " in done.out
    assert "planned_exposure" not in done.out  # a fact of the project
    office = run("schema", "office", "--list").out
    assert "office value:" in office and "role " not in office
