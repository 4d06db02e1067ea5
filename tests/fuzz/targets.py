"""What reads words or files of other people, each as a function of bytes that may raise its declared errors alone."""

from __future__ import annotations

import atexit
import contextlib
import io
import json
import random
import tempfile
import zipfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

from xlsxwriter import Workbook

from specgen.files.faults import OutputError
from specgen.files.marks import InputError
from specgen.files.package import PackageError, read_package
from specgen.files.yaml_reader import read_yaml_text
from specgen.intake.bounds import between, stated
from specgen.intake.datasheet.candidates import candidates
from specgen.intake.datasheet.grammar import contents
from specgen.intake.datasheet.labels import Labels
from specgen.intake.datasheet.owners import Owners
from specgen.intake.datasheet.read import read_product, sheet_of
from specgen.intake.datasheet.worker import answer
from specgen.intake.hourly import FILE_NAME as HOURLY
from specgen.intake.hourly import load_hourly
from specgen.intake.project import load_project
from specgen.intake.schedule import load_schedule
from specgen.intake.submittal import load_submission
from specgen.intake.substitution import load_request
from specgen.intake.values import UnusableValueError
from specgen.intake.workbook import returned_book
from specgen.model.sheet import Column
from specgen.practice.datasheet_names import load_datasheet_names
from specgen.practice.entries import Field, Practice
from specgen.practice.load import load_practice
from specgen.render.issues import RECORD, read_record
from specgen.render.word_notes import noted_paragraphs
from specgen.render.word_office import office_template
from specgen.render.word_template import base_parts
from specgen.sections.clause_file import load_clauses
from specgen.sections.clause_text import (
    TEXT_FUNCTIONS,
    TEXT_NAMES,
    WHEN_FUNCTIONS,
    WHEN_NAMES,
    ClauseTextError,
    compile_condition,
    compile_text,
)
from specgen.units.compare import at_most
from specgen.units.quantity import QuantityError, parse, to_unit
from tests.chain.runs import REPO
from tests.files.yaml_changes import drawn, plain, typed

SEEDS = Path(__file__).with_name("seeds")
ROLES = ("barrier", "coping", "top flashing", "lath")


@dataclass(frozen=True)
class Target:
    """One reader.

    ``share`` is its part of a thousand inputs; ``tokens`` are words that its language knows, for the mutations;
    ``examples`` are files of this repository, or an office file each of whose parts is one, to begin with beside
    the kept seeds.
    """

    run: Callable[[bytes], None]
    declared: tuple[type[Exception], ...]
    share: int
    tokens: tuple[str, ...] = ()
    longest: int = 600  # bytes of an input that is made
    examples: str = ""


@cache
def _practice() -> Practice:
    return load_practice()


@cache
def _fields() -> tuple[Field, ...]:
    """One field of every type, a length first, and all that are read in a way of their own."""
    every = {name: role.fields for name, role in _practice().vocabulary.roles.items()}
    kinds = {(one.type, one.at, one.signed): one for fields in every.values() for one in fields.values()}
    return tuple(sorted(kinds.values(), key=lambda one: (one.type != "length", one.type, one.at, one.signed)))


@cache
def _folder() -> Path:
    made = tempfile.TemporaryDirectory(prefix="specgen-fuzz-")
    atexit.register(made.cleanup)
    return Path(made.name)


def _file(name: str, data: bytes) -> Path:
    path = _folder() / name
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(data)
    return path


def _words(data: bytes) -> str:
    return data.decode("utf-8", "surrogateescape")


def yaml_text(data: bytes) -> None:
    read_yaml_text(_words(data), "any.yaml")


def yaml_change(data: bytes) -> None:
    """A change drawn by the first bytes; the rest is the text."""
    text = _words(data[2:])
    before = plain(text)
    change = drawn(before, random.Random(data[:2].hex()))
    assert typed(plain(change.of_text(text))) == typed(change.of_data(before)), change


def quantity(data: bytes) -> None:
    found = parse(_words(data))
    assert found.exact == parse(found.text).exact
    assert to_unit(found, found.unit) == found.number


def bound(data: bytes) -> None:
    words = _words(data)
    low, _, high = words.partition("|")
    field = _fields()[(len(words) - len(words.lstrip(" "))) % len(_fields())]  # leading spaces choose it
    try:
        stated(field, words, _practice().vocabulary)
    except UnusableValueError:
        between(field, {"at least": low, "at most": high}, _practice().vocabulary)


def clause_condition(data: bytes) -> None:
    found = compile_condition(_words(data))
    asked: dict[str, Any] = {name: lambda *_: True for name in WHEN_FUNCTIONS}
    asked["kind"] = lambda *_: "metal"  # the one that always answers in words
    found.holds({**asked, **dict.fromkeys(WHEN_NAMES, "IBC 2021")})


def clause_text(data: bytes) -> None:
    found = compile_text(_words(data))
    asked = {name: lambda *words: " ".join(words) for name in TEXT_FUNCTIONS}
    found.render({**asked, **dict.fromkeys(TEXT_NAMES | WHEN_NAMES, "words")})


def clause_file(data: bytes) -> None:
    load_clauses(_practice(), over=_file("clauses/07-71-00.yaml", data).parent)


def cell(data: bytes) -> None:
    words = _words(data)
    for dimensions, condition in ((("length",), ""), (("air permeance", "vapor permeance"), "pressure")):
        found = contents(words, dimensions, units_alone=True, condition=condition)
        assert all(at_most(parse(one.low_text), parse(one.high_text)) for one in found.amounts), found


def table(data: bytes) -> None:
    """A table of a data sheet in text, from the process that opens it to the values taken."""
    raw = answer("csv", {}, data)
    if "wrong" in raw:
        return
    sheet = sheet_of("sheet.csv", json.loads(json.dumps(raw)))
    role = ROLES[len(data) % len(ROLES)]
    names = load_datasheet_names()
    owners = Owners(sheet, Labels(role, names, _practice().vocabulary))
    candidates(owners, _practice().vocabulary)
    read_product([sheet], role, _practice())


def pdf(data: bytes) -> None:
    raw = answer("pdf", {}, data)
    if "wrong" not in raw:
        sheet_of("sheet.pdf", json.loads(json.dumps(raw)))


@cache
def parts_of(kind: str) -> Mapping[str, bytes]:
    """A sound office file by its parts."""
    if kind == "docx":
        return base_parts()
    made = io.BytesIO()
    book = Workbook(made)
    book.set_properties({"created": datetime(2026, 11, 2)})
    tab = book.add_worksheet("Register")
    for row, words in enumerate(
        (["No.", "Due", "Round"], ["07 27 00-01", "2026-11-16", 2], ["=A2", 40000, "x"])
    ):
        tab.write_row(row, 0, words)
    book.set_custom_property("State", "1")
    book.close()
    return read_package(made.getvalue(), kind="Excel")


def in_package(kind: str, data: bytes) -> bytes:
    """An office file with one part replaced, where the first line of the data names one; else the data as they are."""
    name, parted, part = data.partition(b"\n")
    parts = parts_of(kind)
    if not parted or name.decode("latin-1") not in parts:
        return data
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for one, held in parts.items():
            archive.writestr(one, part if one.encode() == name else held)
    return out.getvalue()


def examples(target: Target) -> list[bytes]:
    """The inputs that a target begins with beside its kept seeds."""
    if target.examples in ("docx", "xlsx"):
        return [name.encode() + b"\n" + part for name, part in parts_of(target.examples).items()]
    return [path.read_bytes() for path in sorted(REPO.glob(target.examples))] if target.examples else []


def package(data: bytes) -> None:
    read_package(in_package("docx", data))


def word(data: bytes) -> None:
    file = in_package("docx", data)
    with contextlib.suppress(PackageError):
        noted_paragraphs(file)
    office_template(file)


def workbook(data: bytes) -> None:
    path = _file("book.xlsx", in_package("xlsx", data))
    columns = (
        Column("number", "No.", 9),
        Column("due", "Due", 9, "date"),
        Column("round", "Round", 9, "count"),
    )
    book = returned_book(path)
    book.carried("State")
    book.table("Register", columns, "number")


def sheet_of_workbook(data: bytes) -> None:
    answer("workbook", {}, in_package("xlsx", data))


def record(data: bytes) -> None:
    read_record(_file(f"issue/{RECORD}", data).parent)


def hourly(data: bytes) -> None:
    load_hourly(_file(f"kept/{HOURLY}", data).parent)


def project(data: bytes) -> None:
    load_project(_file("project.yaml", data), _practice())


def submission(data: bytes) -> None:
    load_submission(_file("submittal.yaml", data), _practice())


def request(data: bytes) -> None:
    load_request(_file("request.yaml", data), _practice())


def schedule(data: bytes) -> None:
    load_schedule(_file("schedule.yaml", data), _practice())


_YAML = (
    ": ", "- ", "{", "}", "[", "]", "&a ", "*a", "!!python/object:os.system", "|\n", ">-\n", "#", "'", '"', "\n  ",
    "<<: ", "%YAML 1.1\n", "---\n", "? ", "\\U", "0x", "2026-13-45", "1e999", "0777", "12:30:45", "~", ".inf",
    ".nan", "yes", "\t",
)  # fmt: skip
_NUMBERS = (
    "1/4", "1 1/2", "12", "0", "-", "1e308", "1e-320", "R-13", '3\' 6"', "½", "²", "①", "٣", "in", " ft", " mm",
    " psf", " perm", " at 75 Pa", "°F", " degC", ":12", " %", "·", "/", " gauge", "µ", "cfm/ft²", "1/K", ",",
    " lb/100 ft2",
)  # fmt: skip
_BOUNDS = (
    ">= ", "≤", "at least ", "up to ", " max.", " min", " to ", "–", "...", "not less than ", "|", " or more",
    "(max)",
)  # fmt: skip
_JINJA = (
    "{{ ", " }}", "{% if ", " %}", "{% endif %}", "{% else %}", "{%- ", "{# ", " #}", " and ", " or ", "not ", "(",
    ")", "('coping')", "has", "kind", "place", "where", "limit", "code", "value", "ref", " == ", " in ", " > ", "~",
    "|upper", ".x", "[0]", "'", "**x", "{% raw %}", "{% set x=1 %}", "lambda", "loop", "\\", " if ", " else ",
    "true", "none",
)  # fmt: skip
_CELLS = (
    "ASTM E96 Method B", "E2178-21a", "(1)", "{^1}", "≥", "±", " – ", "typical", "@ 75 Pa", "max.", "1,234",
    "perms", "mils", "kPa", "pass", "%", "/", "Procedure A", "wet cup", "[a]", "¹²", "①", "٣", "10⁻⁵",
)  # fmt: skip
_SHEET = (
    ",", ";", "\t", "\n", '"', "Water vapor permeance", "Thickness", "Property,Value,Unit,Method", "Air leakage",
    "mil", "Yes",
)  # fmt: skip
_XML = (
    "<", ">", "/>", 'w:val="', "inf", "1e999", "-1", "nan", "99999999999999999999", "w:left", "w:sectPr", "&#x0;",
    "&amp;", "<!DOCTYPE a>", "<![CDATA[", "xmlns:w=", "٣", "²", "w:pos=", "right", "w:numId", "w:ilvl",
)  # fmt: skip
_JSON = (
    "{", "}", "[", "]", '"', ":", ",", "null", "NaN", "1e999", "-1", '"table"', '"reference"', '"style"', "[" * 400,
    "\\ud800", "true",
)  # fmt: skip
_INPUT = (InputError,)

TARGETS: Mapping[str, Target] = {
    "quantity": Target(quantity, (QuantityError,), 298, _NUMBERS, 60),
    "bound": Target(bound, (UnusableValueError,), 200, (*_NUMBERS, *_BOUNDS), 60),
    "condition": Target(clause_condition, (ClauseTextError,), 120, _JINJA, 300),
    "text": Target(clause_text, (ClauseTextError,), 120, _JINJA, 300),
    "cell": Target(cell, (), 100, (*_CELLS, *_NUMBERS, *_BOUNDS), 120),
    "yaml": Target(yaml_text, _INPUT, 79, _YAML, 400),
    "change": Target(yaml_change, _INPUT, 1, _YAML, 400),
    "schedule": Target(schedule, _INPUT, 20, _YAML, 600, "tests/stated/*/schedule.yaml"),
    "package": Target(package, (PackageError,), 20, _XML, 12_000, "docx"),
    "record": Target(record, (OutputError, InputError), 19, _JSON, 4_000),
    "hourly": Target(hourly, _INPUT, 1, (*_JSON, '"kind"', '"results"', '"mold"'), 4_000),
    "submission": Target(
        submission, _INPUT, 5, (*_YAML, *_NUMBERS, *_BOUNDS), 1_500, "tests/stated/*/submittals/*.yaml"
    ),
    "request": Target(request, _INPUT, 5, (*_YAML, *_NUMBERS), 1_500, "tests/stated/*/substitutions/*.yaml"),
    "table": Target(table, _INPUT, 4, (*_SHEET, *_CELLS, *_NUMBERS), 800),
    "project": Target(project, _INPUT, 2, (*_YAML, *_NUMBERS), 12_000, "tests/stated/*/project.yaml"),
    "word": Target(word, (PackageError, ValueError), 2, _XML, 12_000, "docx"),
    "workbook": Target(workbook, _INPUT, 1, _XML, 12_000, "xlsx"),
    "sheet": Target(sheet_of_workbook, (), 1, _XML, 12_000, "xlsx"),
    "clauses": Target(clause_file, _INPUT, 1, (*_YAML, *_JINJA), 1_500),
    "pdf": Target(
        pdf,
        (),
        1,
        ("obj", "endobj", "stream", "/Length", "BT", "ET", "Tj", "Tf", "<<", ">>", "[", "]", "re", "cm"),
        3_000,
    ),
}
