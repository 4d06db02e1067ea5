"""A change reaches what it names and nothing else: random values, ways and scopes on every example, read again."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

import pytest

from specgen.files.marks import InputError
from specgen.intake.project import OWN
from specgen.model.project import PLACES, STANDING_LISTS, Parapet, Project, Record, Transition
from specgen.practice.entries import Field
from specgen.work.editing import Address, add_layer, change_kind, move_layer, remove_layer, set_way, stated_at
from tests.chain.runs import REPO
from tests.conftest import SEED, sampled
from tests.work.test_editing import PRACTICE
from tests.work.test_editing_by_hand import read

EXAMPLES = sorted([*REPO.glob("projects/*/project.yaml"), *REPO.glob("tests/stated/*/project.yaml")])
Says = dict[tuple[str, ...], object]  # what a project says: record by record, value by value


def of_record(record: Record, *at: str) -> Iterator[tuple[tuple[str, ...], object]]:
    for name, value in {**record.written, **dict.fromkeys(record.unknown, "unknown")}.items():
        yield (*at, name), getattr(value, "text", value)
    yield from (((*at, name), f"does not apply: {why}") for name, why in record.inapplicable.items())


def of_parapet(parapet: Parapet) -> Iterator[tuple[tuple[str, ...], object]]:
    name = parapet.name
    yield from of_record(parapet, name)
    for key in ("build_up", "top"):
        yield (name, key), [part.id for part in getattr(parapet, key)]
    for part in (*parapet.components(), *parapet.undecided, *parapet.absent):
        yield (name, part.id, "kind"), part.kind
        yield from of_record(part, name, part.id)
    for key in ("transitions", *PLACES):
        for number, one in enumerate(getattr(parapet, key)):
            ends = f"{one.first} / {one.second}" if isinstance(one, Transition) else str(number)
            yield from of_record(one, name, key, ends)
    for key in STANDING_LISTS if parapet.existing else ():
        for number, one in enumerate(getattr(parapet.existing, key)):
            yield from of_record(one, name, key, str(number))


def says(project: Project) -> Says:
    """Everything that a project says, by place."""
    found: Says = {}
    for name, record in zip(
        OWN,
        (project.info, project.site, project.building, project.quality, project.trades, project.contacts),
        strict=True,
    ):
        found |= of_record(record, name)
    for parapet in project.parapets:
        found |= of_parapet(parapet)
    return found


def fitting(field: Field, chance: random.Random) -> str:
    """Words that may stand in a field; some cannot."""
    if field.choices:
        count = 2 if field.type == "words" and len(field.choices) > 1 else 1
        return ", ".join(chance.sample(field.choices, count))
    match field.type:
        case "yes or no":
            return chance.choice(("yes", "no"))
        case "family" | "families":
            return chance.choice(PRACTICE.vocabulary.families)
        case "date":
            return "2026-10-01"
        case "count":
            return "2"
        case "text":
            return chance.choice(("by others", 'see "A-5": 2', "#4, {x}"))
        case "length":
            return chance.choice(("2 in", "50 mm", "1 1/2 in", "3' 6\""))
        case "temperature":
            return "60 degF"
        case _:
            return chance.choice(("2", "0.5 perm", "20 psf", "10 %", "1/2 in/ft", "1 h"))


def address(project: Project, chance: random.Random) -> tuple[Address, dict[str, Field]]:
    """A record of the project, and its fields."""
    parapet = chance.choice(project.parapets)
    parts = list(parapet.components())
    places = [(what, one) for key, what in PLACES.items() for one in getattr(parapet, key)]
    pick = chance.random()
    vocabulary = PRACTICE.vocabulary
    if pick < 0.2:
        name = chance.choice(OWN)
        return Address(name), dict(vocabulary.records[name].fields)
    if pick < 0.4:
        return Address("parapet", parapet.name), dict(vocabulary.records["parapet"].fields)
    if pick < 0.8 and parts:
        part = chance.choice(parts)
        return Address("component", parapet.name, part.id), dict(vocabulary.roles[part.role].fields)
    if pick < 0.9 and places:
        what, one = chance.choice(places)
        return Address(what, parapet.name, one.word("name") or ""), dict(vocabulary.records[what].fields)
    joint = chance.choice(parapet.transitions)
    return (
        Address("transition", parapet.name, f"{joint.first} / {joint.second}"),
        dict(vocabulary.records["transition"].fields),
    )


def reached(before: Says, after: Says) -> set[tuple[str, ...]]:
    return {at for at in {*before, *after} if before.get(at) != after.get(at)}


def changes(path: Path) -> list[int]:
    return sampled("reach of changes", range(60), str(path))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda one: f"{one.parts[-3]}-{one.parent.name}")
def test_a_value_is_changed_where_it_is_named_alone(path: Path) -> None:
    text = path.read_text("utf-8")
    project = read(text, path)
    before, made = says(project), 0
    for number in changes(path):
        chance = random.Random(f"{SEED} {path.parent.name} {number}")
        held, fields = address(project, chance)
        key = chance.choice(
            [name for name in fields if name not in ("name", "between", "upper", "tape", "through")]
        )
        at = Address(held.record, held.parapet, held.place, key)
        way = chance.choice(("stated", "stated", "unknown", "inapplicable", "specified"))
        scope = chance.choice(("", "own", "type"))
        words = (
            fitting(fields[key], chance)
            if way == "stated"
            else "decided by others"
            if way == "inapplicable"
            else ""
        )
        try:
            one = set_way(text, project, PRACTICE, at, way, words, scope)
        except InputError as error:
            assert all(problem.fix for problem in error.problems), (at, way, words, scope)
            continue
        try:
            now = read(one.text, path)
        except InputError as error:
            # What the rest of the file says against it is for the reader to tell: a metal beside a gauge.
            assert any(key in problem.message or "gauge" in problem.message for problem in error.problems), (
                at,
                error,
            )
            continue
        made += 1
        after = says(now)
        stands = stated_at(one.text, now, PRACTICE, at)
        if fields[key].default is None:
            assert stands.way == way, (at, way, words, scope, one.what)
        several = {each.name for each in now.parapets if each.name in stands.parapets} or {""}
        for changed in reached(before, after):
            assert changed[-1] == key, (at, changed, scope)
            assert changed[0] in several or (len(changed) == 2 and changed[0] == at.record), (
                at,
                changed,
                scope,
            )
            assert not at.place or at.record not in ("component",) or changed[1] == at.place, (at, changed)
        if way == "stated":
            again = set_way(one.text, now, PRACTICE, at, way, words, scope)
            assert again.text == one.text, (at, words)
    assert made >= 2


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda one: f"{one.parts[-3]}-{one.parent.name}")
def test_layers_and_kinds_are_changed_where_they_are_named_alone(path: Path) -> None:
    text = path.read_text("utf-8")
    project = read(text, path)
    before, made = says(project), 0
    for number in changes(path):
        chance = random.Random(f"{SEED} {path.parent.name} layers {number}")
        parapet = chance.choice(project.parapets)
        part = chance.choice(list(parapet.components()))
        role = PRACTICE.vocabulary.roles[part.role]
        scope = chance.choice(("", "own", "type"))
        what = chance.choice(("kind", "add", "remove", "move"))
        try:
            match what:
                case "kind":
                    kind = chance.choice(list(role.kinds))
                    one = change_kind(text, project, PRACTICE, parapet.name, part.id, kind, scope=scope)
                case "add":
                    one = add_layer(text, project, PRACTICE, parapet.name, part.role, part.kind, scope=scope)
                case "remove":
                    one = remove_layer(text, project, PRACTICE, parapet.name, part.id, scope=scope)
                case _:
                    one = move_layer(
                        text, project, PRACTICE, parapet.name, part.id, chance.choice((-1, 1)), scope=scope
                    )
            now = read(one.text, path)
        except InputError as error:
            assert all(problem.fix for problem in error.problems), (what, part.id, scope)
            continue
        made += 1
        after = says(now)
        names = {at[0] for at in reached(before, after)}
        if scope == "own":
            assert names <= {parapet.name}, (what, part.id, names)
        here = next(each for each in now.parapets if each.name == parapet.name)
        match what:
            case "kind":
                assert after[parapet.name, part.id, "kind"] == kind
                touched = {at for at in reached(before, after) if at[0] == parapet.name}
                assert {at[1] for at in touched} <= {part.id}, touched
                for at in touched - {(parapet.name, part.id, "kind")}:
                    assert f"`{at[-1]}`" in one.left_out, (at, one.left_out)
            case "add":
                assert len(here.all_of(part.role)) == len(parapet.all_of(part.role)) + 1
            case "remove":
                assert here.by_id(part.id) is None
            case _:
                assert sorted(each.id for each in here.components()) == sorted(
                    each.id for each in parapet.components()
                )
    assert made >= 2
