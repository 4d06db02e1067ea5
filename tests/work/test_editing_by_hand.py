"""Each worked example at random places: what the functions make is what a person types at that place of the file."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from specgen.assessment import assess
from specgen.files.marks import InputError, refuse
from specgen.files.yaml_reader import read_yaml_text
from specgen.intake.project import ProjectReader
from specgen.model.project import PLACES, Project
from specgen.practice.load import load_practice
from specgen.work.editing import Address, set_way
from tests.chain.runs import REPO
from tests.conftest import SEED, sampled
from tests.rules.mutations.document import paths_at

PRACTICE = load_practice()
EXAMPLES = sorted(REPO.glob("projects/*/project.yaml"))
PAIR = re.compile(
    r"""(?<![\w"'])(?P<key>[a-z_0-9]+):[ ]
    (?P<value>"[^"\n]*"|'[^'\n]*'|[^\s,{}\[\]"'#|>][^,{}\[\]\n#]*)
    (?=[,}\n]|[ ]{2}\#)""",
    re.VERBOSE,
)
LONGEST = 118
COUNT = 20
SECTIONS = ("site", "building", "project", "quality", "trades", "contacts")
LISTS = {**PLACES, "observations": "observation", "openings": "opening"}


@dataclass(frozen=True)
class Found:
    """A value of the text: where its key begins, where its words begin and end, and the address of the page."""

    key: int
    start: int
    end: int
    words: str
    address: Address
    scope: str


def addressed(path: str, text: str) -> tuple[Address, str] | None:
    """The address of a path of names, and its scope; None for what is no value of a record."""
    way = path.split("/")
    key = way[-1]
    if len(way) == 2 and way[0] in SECTIONS:
        return Address(way[0], key=key), ""
    if way[0] == "types":
        match = re.search(rf"- name: (\S+)\n +type: {re.escape(way[1])}\n", text)
        if match is None:
            return None
        parapet, scope = match[1], "type"
    elif way[0] == "parapets" and len(way) > 2:
        parapet, scope = way[1], "own"
    else:
        return None
    if len(way) == 3 and key not in ("name", "type"):
        return Address("parapet", parapet, key=key), scope
    if len(way) == 4 and way[2] == "existing":
        return Address("existing", parapet, key=key), scope
    if len(way) == 5 and way[2] in ("build_up", "top") and key not in ("role", "kind", "id"):
        return Address("component", parapet, way[3], key), scope
    if len(way) == 5 and way[2] == "transitions" and key not in ("upper", "tape"):
        return Address("transition", parapet, way[3].replace(" + ", " / "), key), scope
    if len(way) == 5 and way[2] in LISTS and key != "name":
        return Address(LISTS[way[2]], parapet, way[3], key), scope
    if len(way) == 6 and way[3] in LISTS and key != "name":
        return Address(LISTS[way[3]], parapet, way[4], key), scope
    return None


def values(text: str) -> list[Found]:
    """The values that stand on one line, found by their spelling and by the tests' own paths."""
    paths, found = paths_at(text), []
    for one in PAIR.finditer(text):
        line = text.count("\n", 0, one.start()) + 1
        column = one.start() - (text.rfind("\n", 0, one.start()) + 1) + 1
        path = paths.get((line, column), "")
        if path.split("/")[-1] != one["key"]:  # a map that goes by indentation begins at its first key
            path += f"/{one['key']}"
        known = addressed(path, text)
        words = one["value"].rstrip()
        if known:
            found.append(
                Found(one.start(), one.start("value"), one.start("value") + len(words), words, *known)
            )
    return found


def other(words: str, address: Address, chance: random.Random) -> str:
    """Other words of the same sort, as somebody types them."""
    if words in ("yes", "no"):
        return "no" if words == "yes" else "yes"
    record = PRACTICE.vocabulary.records.get(address.record)
    field = record.fields.get(address.key) if record else None
    if field is not None and field.choices:
        return chance.choice(field.choices)
    if re.fullmatch(r"\d{4}-\d\d-\d\d", words):
        return "2026-10-30"
    number = re.match(r"\d+(\.\d+)?(?= |$)", words)
    if number and not words.startswith("0"):
        return f"{float(number[0]) * chance.choice((0.5, 1.5, 2)):g}{words[number.end() :]}"
    return chance.choice((words.strip("\"'"), "as drawn", "by others, see A-501"))


def typed(words: str, was: str) -> str:
    """How somebody types words in place of others: in quotes where YAML wants them."""
    bare = was.strip("\"'")
    plain = re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9 ./%@-]*", words)
    quoted = not plain or (re.fullmatch(r"[\d.]+", words) and was.startswith(('"', "'")))
    return was if words == bare and was.startswith('"') and not plain else f'"{words}"' if quoted else words


def removed(text: str, one: Found) -> str:
    """The text without a key, taken out as by hand; "" where that is not plain to see."""
    line = text.rfind("\n", 0, one.key) + 1
    after = text[one.end : one.end + 2]
    if not text[line : one.key].strip() and after[:1] == "\n":
        return text[:line] + text[one.end + 1 :]
    if text[one.key - 2 : one.key] == ", " and text[line : one.key].strip():
        return text[: one.key - 2] + text[one.end :]
    if after == ", ":
        return text[: one.key] + text[one.end + 2 :]
    return ""


def read(text: str, path: Path) -> Project:
    reader = ProjectReader(PRACTICE, read_yaml_text(text, str(path), want=dict), str(path))
    project = reader.read()
    refuse(reader.problems)
    return project


def by_hand(text: str, one: Found, chance: random.Random) -> Iterator[tuple[str, str, str]]:
    """The way, the words, and the text as a person leaves it."""
    way = chance.choice(("stated", "stated", "stated", "unknown", "specified"))
    if way == "specified":
        yield way, "", removed(text, one)
        return
    words = other(one.words, one.address, chance) if way == "stated" else "unknown"
    now = typed(words, one.words) if way == "stated" else words
    yield way, words, text[: one.start] + now + text[one.end :]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda one: one.parent.name)
def test_random_places_are_changed_as_by_hand(path: Path) -> None:
    text = path.read_text("utf-8")
    project, found, chance = read(text, path), values(text), random.Random(f"{SEED} {path.parent.name}")
    base = assess(project, PRACTICE)
    places = chance.sample(found, min(len(found), 3 * COUNT))
    changed = 0
    for one in sampled("places of the examples, changed", places, path.parent.name):
        for way, words, wanted in by_hand(text, one, chance):
            if not wanted:
                continue
            try:
                by_reader: Project | None = read(wanted, path)
            except InputError:
                by_reader = None
            try:
                now = set_way(text, project, PRACTICE, one.address, way, words, one.scope).text
                read(now, path)
            except InputError:
                assert by_reader is None or way != "stated", (one, way, words)
                continue
            assert by_reader is not None, (one, way, words)
            changed += 1
            if max(map(len, wanted.splitlines())) <= LONGEST:
                assert now == wanted, (one, way, words)
            assert read_yaml_text(now, "p") == read_yaml_text(wanted, "p"), (one, way, words)
            found_now, found_by_hand = (
                [
                    (each.code, each.parapet, each.message, each.outcome)
                    for each in base.again(each_project).findings
                ]
                for each_project in (read(now, path), by_reader)
            )
            assert found_now == found_by_hand
    assert changed >= COUNT / 5
