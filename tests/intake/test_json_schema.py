"""The JSON Schemas against the loader: all shipped files, and some hundred files with one mistake or change each.

Left out, because one value at a time does not show them: names and ids that point elsewhere in the file, a
value that a parapet takes from its type, a name used twice, a gauge without its metal, the size of a number
(below absolute zero, a ratio above one written as a text, the pressure of a test condition), the unit of a
value that an office adds, and what YAML 1.2 has no form for: a date, yes and no in quotes, and a whole number
with a decimal point. Files and folders that are not there, and code that is not allowed, are left out as well.
"""

from __future__ import annotations

import copy
import json
import random
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import pytest
import yaml
from jsonschema import Draft202012Validator

from specgen.files.marks import InputError, InputProblem, refuse
from specgen.files.yaml_reader import read_yaml
from specgen.intake.json_schema import project_schema
from specgen.intake.json_schema_files import office_schema
from specgen.intake.json_schema_papers import submittal_schema
from specgen.intake.office import TOP_KEYS as OFFICE_KEYS
from specgen.intake.office import load_office
from specgen.intake.project import PARAPET_KEYS, TOP_KEYS, TYPE_KEYS, load_project
from specgen.intake.quantity_pattern import quantity_pattern
from specgen.intake.submittal import CLAIM_KEYS, PRODUCT_KEYS, load_submission
from specgen.model.submission import Submission
from specgen.practice.load import load_practice
from specgen.rules.office import changeable
from specgen.units.quantity import QuantityError, dimensions, parse
from specgen.units.spelling import words_of
from specgen.units.table import UNITS
from tests import plain_yaml
from tests.conftest import LONG

ROOT = Path(__file__).parents[2]
PRACTICE = load_practice()
CHANGEABLE = changeable(PRACTICE)
PROJECT = project_schema(PRACTICE)
SUBMITTAL = submittal_schema(PRACTICE)
OFFICE = office_schema(PRACTICE, CHANGEABLE)

OFFICE_TEXT = """\
office: {name: Sample Office, document: Wall Standards, edition: "2026"}
limits:
  drainage.depth: {value: 3/8 in, place: item 4}
  barrier.air_permeance: 0.003 cfm/ft2 @ 75 Pa
  coping.piece_length: 8 ft
  plaster.panel_ratio: 2.2
  turnup.attachment: [fully adhered]
options:
  CP03: {floor: 7/8 in}
severity: {CP04: defect, PL01: defect}
values:
  office.mockup_length:
    title: length of the mock-up
    value: 12 ft
    source: {document: Wall Standards, edition: "2026", place: item 9, status: office}
"""


class Core(yaml.SafeLoader):
    """Reads YAML as editors do that follow version 1.2: yes, no and dates are texts."""


Core.yaml_implicit_resolvers = {}
for tag, pattern, first in (
    ("bool", r"true|false", "tf"),
    ("null", r"null|~|", ["n", "~", ""]),
    ("int", r"[-+]?[0-9]+", "-+0123456789"),
    ("float", r"[-+]?(?:\.[0-9]+|[0-9]+\.[0-9]*)", "-+.0123456789"),
):
    Core.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(rf"(?:{pattern})\Z"), list(first))


def shipped() -> Iterator[tuple[Path, dict[str, Any]]]:
    for path in sorted(ROOT.glob("tests/stated/*/project.yaml")):
        yield path, PROJECT
    yield ROOT / "templates" / "new" / "project.yaml", PROJECT
    for path in sorted(ROOT.glob("tests/stated/*/submittals/*.yaml")):
        yield path, SUBMITTAL
    for path in sorted(ROOT.glob("tests/stated/*/office.yaml")):
        yield path, OFFICE


@pytest.mark.parametrize("schema", [PROJECT, SUBMITTAL, OFFICE], ids=["project", "submittal", "office"])
def test_a_schema_is_a_schema(schema: dict[str, Any]) -> None:
    if LONG or schema is PROJECT:
        Draft202012Validator.check_schema(schema)
    assert json.loads(json.dumps(schema)) == schema
    wanted = set(re.findall(r'"#/\$defs/([^"]+)"', json.dumps(schema)))
    assert {unquote(name) for name in wanted} == set(schema["$defs"])


@pytest.mark.parametrize(
    ("path", "schema"), list(shipped()), ids=lambda one: one.stem if isinstance(one, Path) else ""
)
def test_every_shipped_file_is_valid(path: Path, schema: dict[str, Any]) -> None:
    validator = Draft202012Validator(schema)
    for content in (plain_yaml.as_json(read_yaml(path)), yaml.load(path.read_text(), Core)):
        assert [error.message[:200] for error in validator.iter_errors(content)] == []


@pytest.mark.parametrize("schema", [PROJECT, SUBMITTAL, OFFICE], ids=["project", "submittal", "office"])
def test_patterns_are_read_alike_by_python_and_by_editors(schema: dict[str, Any]) -> None:
    """ECMAScript with its ``u`` flag refuses escapes it does not know, and has no inline flags."""
    patterns = [
        node[key] for node, key, _ in places(schema) if key == "pattern" and isinstance(node[key], str)
    ]
    assert patterns
    for pattern in patterns:
        assert not re.search(r"\\[^sS.*+?()\[\]{}^$|\\]|\(\?(?!:|=)", pattern), pattern


def test_the_keys_are_those_of_the_loader() -> None:
    parapet = {*PARAPET_KEYS, *PRACTICE.vocabulary.records["parapet"].fields, "meant", "not_applicable"}
    assert set(PROJECT["properties"]) == set(TOP_KEYS)
    assert set(PROJECT["$defs"]["parapet"]["properties"]) == parapet
    assert set(PROJECT["$defs"]["type"]["properties"]) == parapet - (set(PARAPET_KEYS) - set(TYPE_KEYS))
    assert set(OFFICE["properties"]) == set(OFFICE_KEYS)
    coping = SUBMITTAL["$defs"]["role coping"]["properties"]
    assert set(coping) == {*PRODUCT_KEYS, *PRACTICE.vocabulary.roles["coping"].fields}
    assert set(coping["thickness"]["anyOf"][2]["properties"]) == set(CLAIM_KEYS)


def test_a_field_says_what_to_write() -> None:
    depth = PROJECT["$defs"]["role drainage layer"]["properties"]["depth"]
    assert depth["title"] == "drainage depth"
    assert depth["description"] == (
        "Drainage depth; write a length: in, ft, mm, m. Can be 0 mm to 12 in. Expected: at most 4 in."
    )
    warranty = PROJECT["properties"]["quality"]["properties"]["warranty_roof"]
    assert "write a time: day, h, week, year." in warranty["description"]
    assert warranty["examples"] == ["5 years"]  # what is expected, before what can be at all
    gap = PROJECT["$defs"]["role barrier"]["properties"]["air_permeance"]
    assert "ASTM E2178" in gap["description"]


SPELLINGS = sorted(
    {
        s
        for unit in UNITS
        for s in (unit.symbol, *unit.also, *unit.shared, unit.plural)
        if not s.startswith(":")
    }
    | {s for name in ("in", "ft", "h", "degF", "oz", "perm", "Btu", "ga", "lb") for s in words_of(name)}
    | {
        "sq ft",
        "square feet",
        "ft²",
        "°F",
        "deg F",
        "degrees C",
        "Δ°F",
        "in. w.c.",
        "inches of water",
        "W/m·K",
    }
    | {"cfm per ft2", "US perms", "PSI", "mPa", "L/s·m2", "L/m2·s", "furlong", '"', "'", "m2·s", "W/(m/K)"}
)


@pytest.mark.parametrize("dimension", dimensions())
def test_a_pattern_accepts_the_units_of_its_dimension_and_no_other(dimension: str) -> None:
    pattern = re.compile(quantity_pattern(frozenset({dimension}), signed=False))
    accepted = 0
    for spelling in SPELLINGS:
        for text in (f"1/2 {spelling}".strip(), f"0.5{spelling}"):
            try:
                parse(text, {dimension})
                known = True
            except QuantityError:
                known = False
            accepted += known
            assert bool(pattern.search(text)) == known, text
    assert accepted


@pytest.mark.parametrize(
    ("text", "known"),
    [
        *(
            (text, True)
            for text in ("3 1/2 in", "3½ in", "8' 6\"", "8 ft 6 1/2 in", "1e-1 in", " .5 in", "+2 in")
        ),
        *((text, False) for text in ("-2 in", "1,5 in", "2 to 3 in", "1 2 in", "in", "nan in", "2 in 3")),
    ],
)
def test_a_pattern_reads_numbers_as_the_parser_does(text: str, known: bool) -> None:
    assert bool(re.search(quantity_pattern(frozenset({"length"}), signed=False), text)) == known


# Keys whose values point elsewhere, and keys whose absence is told only together with another place.
POINTERS = {
    "name",
    "type",
    "upper",
    "tape",
    "through",
    "between",
    "id",
    "parapet",
    "parapets",
    "one",
    "other",
    "makes",
}
KEPT = {"id", "metal", "build_up", "top", "types", "transitions"}
NAMED = {"types", "changes", "street parapet", "options", "limits", "office.mockup_length"}
VALUES: tuple[Any, ...] = (
    *(None, [], {}, ["x"], {"x": 1}, True, False, 3, -3, 0.4, 12_000, "", "   ", "word " * 120, "abc"),
    *(
        "12 in",
        "3 perm",
        "40 psf",
        "120 mph",
        "1/4 in/ft",
        "90 %",
        "250 degF",
        "-5 in",
        "12 furlong",
        "2 ft 6 in",
    ),
    *(
        "0.002 cfm/ft2 @ 75 Pa",
        "0.002 cfm/ft2 @ 75 mph",
        "12 in at 75 Pa",
        "6 weeks",
        "100 ft2",
        "0.7",
        "3,5 in",
    ),
)


def places(node: Any, inside: str = "") -> Iterator[tuple[Any, Any, str]]:
    """Every value of a tree: what holds it, its key, and the key of what holds it."""
    items = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, value in items:
        yield node, key, inside
        yield from places(value, key if isinstance(key, str) else inside)


def mutated(tree: Any, chance: random.Random) -> tuple[Any, str]:
    """A copy with one change, and what it was."""
    copied = copy.deepcopy(tree)
    spots = [one for one in places(copied) if isinstance(one[0], dict)]
    while True:
        node, key, inside = chance.choice(spots)
        what = chance.choice(
            ("value", "value", "value", "misspelt word", "unknown key", "deleted", "misspelt key")
        )
        value = node[key]
        structural = isinstance(value, dict | list)
        if what == "value" and key not in POINTERS | KEPT and inside not in NAMED:
            node[key] = chance.choice(VALUES)
        elif (
            what == "misspelt word" and isinstance(value, str) and key not in POINTERS and inside not in NAMED
        ):
            node[key] = value + "q"
        elif what == "unknown key" and inside not in NAMED:
            node["colour"] = "x"
        elif (
            what == "deleted"
            and key not in KEPT
            and inside not in NAMED
            and not (structural and key in NAMED)
        ):
            del node[key]
        elif what == "misspelt key" and key not in KEPT | POINTERS and inside not in NAMED:
            node[key + "x"] = node.pop(key)
        else:
            continue
        return copied, f"{what} at {inside}.{key}: {value!r} -> {node.get(key)!r}"


def ours(load: Callable[[Path], object], path: Path) -> list[str]:
    try:
        load(path)
    except InputError as error:
        return [str(problem) for problem in error.problems]
    return []


def readable(submission: Submission) -> None:
    """A value that cannot be used is told in its row; here it counts as a problem of the file."""
    refuse(
        [
            InputProblem(given.mark, given.why, given.fix)
            for product in submission.products
            for given in product.unreadable.values()
        ]
    )


CASES: dict[str, tuple[str, dict[str, Any], Callable[[Path], object], int]] = {
    "project": (
        (ROOT / "tests/stated/mixed-humid-midrise/project.yaml").read_text(),
        PROJECT,
        lambda path: load_project(path, PRACTICE),
        2_000 if LONG else 120,
    ),
    "submittal": (
        (ROOT / "tests/stated/mixed-humid-midrise/submittals/top-failing.yaml").read_text(),
        SUBMITTAL,
        lambda path: readable(load_submission(path, PRACTICE)),
        600 if LONG else 80,
    ),
    "office": (
        OFFICE_TEXT,
        OFFICE,
        lambda path: load_office(path, PRACTICE, CHANGEABLE),
        600 if LONG else 80,
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_schema_and_loader_agree_on_changed_files(name: str, tmp_path: Path) -> None:
    text, schema, load, count = CASES[name]
    validator, chance = Draft202012Validator(schema), random.Random(20260)
    tree = plain_yaml.load(text)
    tree.get("site", {}).pop("weather", None)
    path = tmp_path / f"{name}.yaml"
    seen = {True: 0, False: 0}
    disagreed = []
    for _ in range(count):
        content, what = mutated(tree, chance)
        path.write_text(plain_yaml.dump(content))
        problems = ours(load, path)
        errors = [error.message[:160] for error in validator.iter_errors(plain_yaml.as_json(content))]
        if (
            not errors
        ):  # a pattern reads a unit and cannot weigh it, nor tell a value from the words of a reason
            ours_alone = ("` cannot be; ", "stands where the reason for `")
            problems = [one for one in problems if not any(words in one for words in ours_alone)]
        seen[not problems] += 1
        if bool(problems) != bool(errors):
            disagreed.append((what, problems[:2], errors[:2]))
    assert disagreed == []
    assert min(seen.values()) >= count // 10, seen  # both answers were met
