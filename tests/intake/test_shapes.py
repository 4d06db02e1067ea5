"""The shape of each file stands once: what readers know, what schemas describe, what the list of keys prints."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import pytest
from jsonschema import Draft202012Validator

from specgen.commands.schema import FILES
from specgen.files.marks import InputError
from specgen.intake.accepted import load_accepted
from specgen.intake.bad_products import load_bad
from specgen.intake.bounds import BOUND_KEYS
from specgen.intake.comments import HEADS, load_comments
from specgen.intake.existing import LISTS
from specgen.intake.json_schema_own import own_names, with_names
from specgen.intake.key_list import key_list
from specgen.intake.prices import load_prices
from specgen.intake.records import REASONS
from specgen.intake.schedule import load_schedule
from specgen.intake.wrong_file import KEYS
from specgen.model.accepted import PAPERS
from specgen.model.project import PLACES
from specgen.practice.load import load_practice
from specgen.practice.shapes import shape, shapes
from specgen.work.schemas import file_schema
from tests import plain_yaml
from tests.chain.runs import run
from tests.conftest import LONG

ROOT = Path(__file__).parents[2]
PRACTICE = load_practice()
DEMO = ROOT / "projects" / "mixed-humid-midrise"


@cache
def made(kind: str) -> dict[str, Any]:
    return file_schema(kind, PRACTICE)


def keys(node: Any, path: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every key of a schema with what it says of it; the conditions that tell roles apart describe nothing."""
    if isinstance(node, dict):
        for name, one in (node.get("properties") or {}).items():
            yield f"{path}/{name}", one
        for name, one in node.items():
            if name != "if":
                yield from keys(one, f"{path}/{name}")
    elif isinstance(node, list):
        for number, one in enumerate(node):
            yield from keys(one, f"{path}/{number}")


@pytest.mark.parametrize("kind", FILES)
def test_every_key_is_described(kind: str) -> None:
    schema = made(kind)

    def words(one: dict[str, Any]) -> str:
        if "description" in one or "$ref" not in one:
            return str(one.get("description", ""))
        return words(schema["$defs"][unquote(one["$ref"].removeprefix("#/$defs/"))])

    every = list(keys(schema))
    assert [path for path, one in every if not re.fullmatch(r"\S.*\S[.]", words(one))] == []
    assert len(every) >= len(shape(f"{kind} file"))


@pytest.mark.parametrize("kind", FILES)
def test_every_pattern_says_what_is_wanted(kind: str) -> None:
    bare = {
        node["pattern"]
        for node in _maps(made(kind))
        if isinstance(node.get("pattern"), str) and "patternErrorMessage" not in node
    }
    assert bare <= {r"\S"}  # that something stands there at all


def _maps(node: Any) -> Iterator[dict[str, Any]]:
    if isinstance(node, dict):
        yield node
    for one in node.values() if isinstance(node, dict) else node if isinstance(node, list) else ():
        yield from _maps(one)


@pytest.mark.parametrize("kind", FILES)
def test_a_schema_names_itself_and_its_format(kind: str) -> None:
    schema = made(kind)
    if LONG or len(schema["$defs"]) < 3:  # the large ones: `test_json_schema`
        Draft202012Validator.check_schema(schema)
    assert schema["$id"].startswith("urn:specgen:schema:") and " " not in schema["$id"]
    assert schema["$schema"].endswith("2020-12/schema") and schema["title"] and schema["description"]
    assert list(schema["properties"]) == list(shape(f"{kind} file"))
    assert schema.get("required", []) == list(shape(f"{kind} file").needed)


def test_shapes_are_those_of_the_models() -> None:
    assert shape("parapet").lists == {"transitions": "transition", **PLACES}
    assert set(LISTS) == set(shape("existing"))
    for name in ("project file", "parapet", "existing"):
        assert set(shape(name).lists.values()) <= set(PRACTICE.vocabulary.records)
    assert set(PAPERS) == set(shape("acceptance"))
    assert set(REASONS) == set(shape("reasons"))
    assert set(BOUND_KEYS) <= set(shape("claim"))
    assert {key for head, (needed, may) in HEADS.items() for key in (head, *needed, *may)} == set(
        shape("about")
    )
    for kind, heads in KEYS.items():
        assert set(heads) <= set(shape(f"{kind} file")), kind
    assert {name.removesuffix(" file") for name in shapes() if name.endswith(" file")} == set(FILES)


@pytest.mark.parametrize("kind", FILES)
def test_the_list_of_keys_holds_the_shape(kind: str) -> None:
    lines = "\n".join(key_list(PRACTICE, kind))
    for name, key in shape(f"{kind} file").items():
        assert f"  {name}: {key.title}. {key.note}" in lines


def _accepted(path: Path) -> object:
    for name in ("a.yaml", "b.yaml"):
        (path.parent / name).write_text("x", "utf-8")
    return load_accepted(path, PRACTICE)


LOADERS: dict[str, Any] = {
    "schedule": lambda path: load_schedule(path, PRACTICE),
    "acceptance": _accepted,
    "comments": lambda path: load_comments(path, PRACTICE),
    "prices": lambda path: load_prices(path, PRACTICE),
    "bad products": lambda path: load_bad(path, PRACTICE),
}
TAKEN = "date: 2027-01-04, by: A. B., result: no exceptions taken"
SIGNED = "name: AB, time: '2026-11-30T09:15:00-05:00'"
FILED = {
    "schedule": [
        "start: 2027-03-01\nwork_week: [monday, tuesday]\nholidays: [2027-05-31]\nlead_times: {coping: 40}\nreview: 10\n",
        "start: next spring\n",
        "work_week: [Fun Day]\n",
        "work_week: []\n",
        "durations: {copping: 3}\n",
        "durations: {coping: 0}\n",
        "review: 3 days\n",
        "holidays: 2027-05-31\n",
        "days: 3\n",
        "start:\nreview:\n",
    ],
    "acceptance": [
        "accepted:\n  - {submittal: a.yaml, date: 2027-01-04, by: A. B., result: no exceptions taken}\n",
        f"accepted:\n  - {{submittal: a.yaml, substitution: b.yaml, {TAKEN}}}\n",
        "accepted:\n  - {date: 2027-01-04, by: A. B., result: no exceptions taken}\n",
        "accepted:\n  - {submittal: a.yaml, date: 2027-01-04, by: A. B., result: fine}\n",
        "accepted:\n  - {submittal: a.yaml, by: A. B., result: no exceptions taken}\n",
        "accepted: a.yaml\n",
        "taken: []\n",
    ],
    "comments": [
        f"comments:\n  - {{about: {{finding: CP02, parapet: P-1}}, {SIGNED}, text: why, answered: yes}}\n",
        "comments:\n",
        f"comments:\n  - {{about: {{finding: CP02, value: height}}, {SIGNED}, text: why}}\n",
        f"comments:\n  - {{about: {{paragraph: x}}, {SIGNED}, text: why}}\n",
        f"comments:\n  - {{about: {{section: 07 71 00, paragraph: x}}, {SIGNED}, text: why}}\n",
        f"comments:\n  - {{about: {{value: x, layer: y}}, {SIGNED}, text: why}}\n",
        "comments:\n  - {about: {value: x}, time: '2026-11-30T09:15:00-05:00', text: why}\n",
        f"comments:\n  - {{about: {{value: x}}, {SIGNED}, text: why, answers: {{}}}}\n",
        "comment: []\n",
    ],
    "prices": [
        "currency: USD\nprices: {barrier: 6.20 per ft2, 'barrier: self-adhered, butyl': 7 per m2, laps made: 3 per ft}\n",
        "currency: USD\nprices: {barier: 6.20 per ft2}\n",
        "currency: USD\nprices: {barrier: 6.20 per acre}\n",
        "currency: USD\nprices: {}\n",
        "prices: {barrier: 6.20 per ft2}\n",
        "currency: USD\nprices: {barrier: 6.20 per ft2}\ndate: 2027\n",
    ],
    "bad products": [
        "bad:\n  - {name: Sample, reason: recalled}\n",
        "bad:\n  - {role: barrier, kind: self-adhered, thickness: 40 mil, reason: recalled}\n",
        "bad: []\n",
        "bad:\n  - {name: Sample}\n",
        "bad:\n  - {kind: self-adhered, reason: recalled}\n",
        "bad:\n  - {name: Sample, kind: self-adhered, reason: recalled}\n",
        "bad:\n  - {role: barier, reason: recalled}\n",
        "bad:\n  - {role: barrier, kind: felt, reason: recalled}\n",
        "bad:\n  - {role: barrier, colour: red, reason: recalled}\n",
    ],
}


@pytest.mark.parametrize(("kind", "text"), [(kind, one) for kind, held in FILED.items() for one in held])
def test_schema_and_loader_agree_on_files_beside_a_project(kind: str, text: str, tmp_path: Path) -> None:
    path = tmp_path / "file.yaml"
    path.write_text(text, "utf-8")
    try:
        LOADERS[kind](path)
        refused = ""
    except InputError as error:
        refused = str(error)
    validator = Draft202012Validator(made(kind))
    errors = [error.message for error in validator.iter_errors(plain_yaml.as_json(plain_yaml.load(text)))]
    assert bool(refused) == bool(errors), (refused, errors)


def test_the_names_of_a_project_are_offered_where_a_file_points_at_them() -> None:
    names = own_names(DEMO)
    assert names.parts["barrier"] == "barrier" and "P-1" in names.parapets
    schema = with_names(made("project"), names)
    parapet = schema["$defs"]["parapet"]["properties"]
    joint = parapet["transitions"]["items"]["properties"]
    assert joint["between"]["items"]["examples"] == joint["upper"]["examples"] == list(names.parts)
    assert parapet["type"]["examples"] == list(names.types)
    assert set(parapet["changes"]["properties"]) == set(names.parts)
    assert parapet["penetrations"]["items"]["properties"]["through"]["examples"] == list(names.parts)
    waiver = schema["properties"]["waivers"]["items"]["properties"]
    assert waiver["parapet"]["examples"] == ["all", *names.parapets]
    submittal = with_names(made("submittal"), names)
    product = submittal["$defs"]["role coping"]["properties"]
    assert product["parapets"]["items"]["examples"] == list(names.parapets)
    assert "examples" not in made("project")["$defs"]["parapet"]["properties"]["type"]  # nothing of one stays


def test_a_name_that_is_not_offered_is_no_error_for_an_editor() -> None:
    schema = with_names(made("project"), own_names(DEMO))
    written = plain_yaml.as_json(plain_yaml.load((DEMO / "project.yaml").read_text("utf-8")))
    assert not list(Draft202012Validator(schema).iter_errors(written))
    written["parapets"][0].setdefault("transitions", []).append({"between": ["a new one", "barrier"]})
    assert not list(Draft202012Validator(schema).iter_errors(written))


@pytest.mark.parametrize("kind", FILES if LONG else ["project"])
def test_the_command_prints_them(kind: str) -> None:
    done = run("schema", kind, "--for", DEMO)
    assert done.status == 0 and '"$id": "urn:specgen:schema:' in done.out


def test_the_command_says_what_it_cannot_read(tmp_path: Path) -> None:
    assert run("schema", "project", "--for", tmp_path / "none").status == 2
    (tmp_path / "project.yaml").write_text("project: [", "utf-8")
    assert run("schema", "project", "--for", tmp_path).status == 2
    assert run("schema", "project", "--for", DEMO, "--list").status == 2
    (tmp_path / "project.yaml").write_text("project:\nparapets: [3, {top: x}]\ntypes: 4\n", "utf-8")
    assert run("schema", "project", "--for", tmp_path).status == 0  # half written: what has a name is offered
