"""Loads the practice folder: values, tables and vocabulary, each number with its source and status."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from specgen.files.yaml_reader import read_yaml
from specgen.model.project import Value
from specgen.model.source import Source, Status
from specgen.practice.entries import (
    Entry,
    Field,
    Kind,
    Practice,
    PracticeError,
    PracticeTable,
    RecordKind,
    Role,
    Row,
    Vocabulary,
)
from specgen.units.quantity import QuantityError, dimensions, parse

FOLDER = Path(__file__).parent
PRACTICE_STATUSES = ("C", "S", "P", "M")
LAYERS = ("water", "air", "vapor", "heat")
PLAIN_TYPES = frozenset(
    {"text", "word", "yes or no", "count", "number", "date", "family", "families", "sheet thickness"}
)


@lru_cache(maxsize=1)
def load_practice() -> Practice:
    """The practice folder that ships with specgen.

    Raises:
        PracticeError: an entry without a source, a value that does not parse, a key defined twice.
    """
    entries: dict[str, Entry] = {}
    for path in sorted((FOLDER / "values").glob("*.yaml")):
        for key, node in _mapping(path).items():
            if key in entries:
                raise PracticeError(f"{path.name}: practice entry {key!r} is defined twice")
            entries[key] = _entry(key, node, path)
    tables = {path.stem: _table(path) for path in sorted((FOLDER / "tables").glob("*.yaml"))}
    return Practice(entries, tables, _vocabulary(FOLDER / "vocabulary"))


def _mapping(path: Path) -> Mapping[str, Any]:
    content = read_yaml(path)
    if not isinstance(content, dict):
        raise PracticeError(f"{path.name}: a mapping is wanted")
    return content


def source(node: Mapping[str, Any], where: str) -> Source:
    """A citation from its four written fields.

    Raises:
        PracticeError: no source, no status, or a status that is not C, S, P or M.
    """
    given = node.get("source")
    if not isinstance(given, dict) or not given.get("document"):
        raise PracticeError(f"{where}: no source")
    if given.get("status") not in PRACTICE_STATUSES:
        raise PracticeError(f"{where}: status {given.get('status')!r} is not C, S, P or M")
    return Source(
        str(given["document"]),
        str(given.get("edition", "")),
        str(given.get("place", "")),
        Status(given["status"]),
    )


def _entry(key: str, node: Mapping[str, Any], path: Path) -> Entry:
    where = f"{path.name}: {key}"
    return Entry(
        key, node["title"], _value(node.get("value"), where), source(node, where), node.get("note", "")
    )


def _value(written: Any, where: str) -> Value | None:
    """A written value: a list of words, a word, or (starting with a digit or a sign) a quantity."""
    if written is None or isinstance(written, bool):
        return written
    if isinstance(written, list):
        return tuple(str(item) for item in written)
    if isinstance(written, str) and not written[:1].isdigit() and written[:1] not in "-.":
        return written
    try:
        return parse(written)
    except QuantityError as error:
        raise PracticeError(f"{where}: {error}") from error


def _table(path: Path) -> PracticeTable:
    content = _mapping(path)
    columns = {name: column["is"] for name, column in content["columns"].items()}
    rows = tuple(_row(row, columns, path) for row in content["rows"])
    return PracticeTable(path.stem, content["title"], source(content, path.name), columns, rows)


def _row(row: Mapping[str, Any], columns: Mapping[str, str], path: Path) -> Row:
    unknown = set(row) - set(columns)
    if unknown:
        raise PracticeError(f"{path.name}: unknown column {sorted(unknown)}")
    out: dict[str, Value | None] = {}
    for name, kind in columns.items():
        written = row.get(name)
        if written is None or kind == "word":
            out[name] = written
            continue
        try:
            out[name] = parse(written, {kind})
        except QuantityError as error:
            raise PracticeError(f"{path.name}: {name}: {error}") from error
    return out


def _vocabulary(folder: Path) -> Vocabulary:
    families = read_yaml(folder / "families.yaml")
    records = {
        name: RecordKind(name, node["title"], dict(_fields(node["fields"])))
        for name, node in _mapping(folder / "records.yaml").items()
    }
    roles = {name: _role(name, node) for name, node in _mapping(folder / "roles.yaml").items()}
    return Vocabulary(records, roles, tuple(str(name) for name in families))


def _role(name: str, node: Mapping[str, Any]) -> Role:
    kinds = {kind: _kind(kind, values) for kind, values in node["kinds"].items()}
    fields = dict(_fields(node["attributes"]))
    layers = _layers(node.get("layers", []), name)
    after = tuple(str(role) for role in node.get("after", []))
    return Role(
        name,
        node["title"],
        node["where"],
        node["trade"],
        node["section"],
        kinds,
        fields,
        layers,
        after,
        bool(node.get("edge", False)),
    )


def _kind(name: str, node: Mapping[str, Any]) -> Kind:
    values = dict(node)
    if "layers" in values:
        values["layers"] = _layers(values["layers"], name)
    return Kind(name, **values)


def _layers(written: Any, where: str) -> tuple[str, ...]:
    unknown = [layer for layer in written if layer not in LAYERS]
    if unknown:
        raise PracticeError(f"vocabulary: {where!r} carries unknown layer {unknown}, not one of {LAYERS}")
    return tuple(layer for layer in LAYERS if layer in written)


def _fields(node: Mapping[str, Any]) -> Iterator[tuple[str, Field]]:
    known = PLAIN_TYPES | set(dimensions())
    for name, written in node.items():
        values = {**written}
        kind = values.pop("is")
        if kind not in known:
            raise PracticeError(f"vocabulary: {name!r} is of unknown type {kind!r}")
        for listed in ("choices", "methods_accepted"):
            if listed in values:
                values[listed] = tuple(str(item) for item in values[listed])
        yield name, Field(name=name, type=kind, **values)
