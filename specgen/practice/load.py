"""Loads the practice folder: values, tables and vocabulary, each number with its source and status."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar

from specgen.files.compiled import shipped_yaml
from specgen.files.marks import InputError
from specgen.model.project import Value
from specgen.practice.entries import (
    Field,
    Kind,
    Practice,
    PracticeEntry,
    PracticeError,
    PracticeTable,
    RecordKind,
    Role,
    Vocabulary,
)
from specgen.practice.nominal import paired
from specgen.practice.ranges import EXPECTED, POSSIBLE, Range
from specgen.practice.table_file import read_table
from specgen.practice.written import needed, source
from specgen.units.quantity import Quantity, QuantityError, dimensions, parse, row_of

AnyKind = TypeVar("AnyKind", RecordKind, Role)
Ranges = Mapping[tuple[str, str], Range]
FOLDER = Path(__file__).parent
LAYERS = ("water", "air", "vapor", "heat")
PLACES = ("build-up", "top", "place")
ENTRY_KEYS = frozenset({"title", "value", "si", "source", "note"})
MEASURED = ("count", "number", "sheet thickness")  # types with a range, beside the dimensions
PLAIN_TYPES = frozenset(
    {"text", "word", "words", "yes or no", "count", "number", "date", "family", "families", "sheet thickness"}
)


@lru_cache(maxsize=1)
def load_practice() -> Practice:
    """The practice folder that ships with specgen.

    Raises:
        PracticeError: an entry without a source, a value that does not parse, a key defined twice.
    """
    entries: dict[str, PracticeEntry] = {}
    for path in sorted((FOLDER / "values").glob("*.yaml")):
        for key, node in _mapping(path).items():
            if key in entries:
                raise PracticeError(f"{path.name}: practice entry {key!r} is defined twice")
            entries[key] = _entry(key, node, path)
    tables = load_tables(FOLDER / "tables")
    return Practice(entries, tables, _vocabulary(FOLDER / "vocabulary", tables, entries))


def load_tables(folder: Path) -> dict[str, PracticeTable]:
    """Every table of a folder by its file's name; a table that takes cells from another is filled from it.

    Raises:
        PracticeError: as :func:`load_practice`.
    """
    files = {path: _mapping(path) for path in sorted(folder.glob("*.yaml"))}
    tables: dict[str, PracticeTable] = {}
    for path, content in sorted(files.items(), key=lambda item: "from" in item[1]):
        tables[path.stem] = read_table(path, content, tables)
    return tables


def _mapping(path: Path) -> Mapping[str, Any]:
    content = _read(path)
    if not isinstance(content, dict):
        raise PracticeError(f"{path.name}: a mapping is wanted")
    return content


def _read(path: Path) -> Any:
    try:
        return shipped_yaml(path)
    except InputError as error:
        raise PracticeError(str(error)) from error


def _only(node: Mapping[str, Any], known: Collection[str], where: str) -> None:
    # A misspelt key would be passed over, and an entry without its value is read as a statement.
    unknown = sorted(set(node) - set(known))
    if unknown:
        raise PracticeError(f"{where}: unknown key {', '.join(unknown)}")


def _entry(key: str, node: Mapping[str, Any], path: Path) -> PracticeEntry:
    where = f"{path.name}: {key}"
    title = needed(node, "title", where)
    _only(node, ENTRY_KEYS, where)
    if "value" in node and node["value"] is None:
        raise PracticeError(f"{where}: 'value' is empty; a statement has no such line")
    value, cited = _value(node.get("value"), where), source(node, where)
    first = _beside(node.get("si"), value, where)
    if isinstance(value, Quantity):
        value = replace(value, nominal=(first,) if first else ()) if cited.of_code else paired(value, first)
    return PracticeEntry(key, title, value, cited, node.get("note", ""))


def _beside(written: Any, value: Value | None, where: str) -> Quantity | None:
    """The SI value that the source prints beside a value in inch-pound units."""
    if written is None:
        return None
    if not isinstance(value, Quantity):
        raise PracticeError(f"{where}: 'si' stands beside a quantity")
    try:
        si = parse(written, {value.dimension})
    except QuantityError as error:
        raise PracticeError(f"{where}: {error}") from error
    if row_of(si).system != "SI":
        raise PracticeError(f"{where}: 'si' is written in {si.unit}, no SI unit")
    return si


def _value(written: Any, where: str) -> Value | None:
    """A written value: a list of words, a word, or (starting with a digit or a sign) a quantity."""
    if written is None or isinstance(written, bool):
        return written
    if isinstance(written, list):
        return tuple(str(item) for item in written)
    if isinstance(written, str) and not ("0" <= written[:1] <= "9") and written[:1] not in "-.":
        return written
    try:
        return parse(written)
    except QuantityError as error:
        raise PracticeError(f"{where}: {error}") from error


def _vocabulary(
    folder: Path, tables: Mapping[str, PracticeTable], entries: Mapping[str, PracticeEntry]
) -> Vocabulary:
    families = tuple(str(name) for name in _read(folder / "families.yaml"))
    records = {
        name: RecordKind(
            name, needed(node, "title", name), dict(_fields(needed(node, "fields", name), name, entries))
        )
        for name, node in _mapping(folder / "records.yaml").items()
    }
    roles = {name: _role(name, node, families) for name, node in _mapping(folder / "roles.yaml").items()}
    ranges = tuple(_ranges(tables[name]) for name in (POSSIBLE, EXPECTED))
    return Vocabulary(
        {name: _ranged(kind, *ranges) for name, kind in records.items()},
        {name: _ranged(kind, *ranges) for name, kind in roles.items()},
        families,
    )


def _ranges(table: PracticeTable) -> Ranges:
    """The ranges that hold for every kind, by role or record and attribute."""
    rows = (row for row in table.rows if row.get("kind") is None)
    return {(str(row["role"]), str(row["attribute"])): Range.of(row) for row in rows}


def _ranged(kind: AnyKind, possible: Ranges, expected: Ranges) -> AnyKind:
    """A record kind or a role whose quantities and counts know what they can be and are expected to be."""
    fields = {}
    for name, field in kind.fields.items():
        can, usual = (ranges.get((kind.name, name)) for ranges in (possible, expected))
        where = f"vocabulary: {kind.name}: {name!r}"
        if can is None and (field.type in MEASURED or field.type in dimensions()):
            raise PracticeError(f"{where} has no row in table {POSSIBLE}")
        if any(one is not None and not one.fits(field.type) for one in (can, usual)):
            raise PracticeError(f"{where} has a range that is not of {field.type}")
        fields[name] = replace(field, possible=can, expected=usual)
    return replace(kind, fields=fields)


def _role(name: str, node: Mapping[str, Any], families: Collection[str]) -> Role:
    where = needed(node, "where", name)
    if where not in PLACES:
        raise PracticeError(f"vocabulary: {name!r} stands {where!r}, not one of {PLACES}")
    kinds = {kind: _kind(kind, values) for kind, values in needed(node, "kinds", name).items()}
    for kind in kinds.values():
        if kind.family and kind.family not in families:
            raise PracticeError(f"vocabulary: {kind.name!r} is of unknown family {kind.family!r}")
    return Role(
        name,
        needed(node, "title", name),
        where,
        needed(node, "trade", name),
        needed(node, "section", name),
        kinds,
        dict(_fields(needed(node, "attributes", name), name)),
        _layers(node.get("layers", []), name),
        tuple(str(role) for role in node.get("after", [])),
        bool(node.get("edge", False)),
        str(node.get("called", "")),
    )


def _kind(name: str, node: Mapping[str, Any]) -> Kind:
    values = dict(node)
    if "layers" in values:
        values["layers"] = _layers(values["layers"], name)
    try:
        return Kind(name, **values)
    except TypeError as error:
        raise PracticeError(f"vocabulary: kind {name!r}: {error}") from error


def _layers(written: Any, where: str) -> tuple[str, ...]:
    unknown = [layer for layer in written if layer not in LAYERS]
    if unknown:
        raise PracticeError(f"vocabulary: {where!r} carries unknown layer {unknown}, not one of {LAYERS}")
    return tuple(layer for layer in LAYERS if layer in written)


def _fields(
    node: Mapping[str, Any], where: str, entries: Mapping[str, PracticeEntry] | None = None
) -> Iterator[tuple[str, Field]]:
    known = PLAIN_TYPES | set(dimensions())
    for name, written in node.items():
        values = {**written}
        if entries is not None and "stands_for" in values:
            values["title"] = _stood_for(values["stands_for"], entries, f"{where}: {name!r}").title
        kind = values.pop("is", None)
        if kind not in known:
            raise PracticeError(f"vocabulary: {where}: {name!r} is of unknown type {kind!r}")
        for listed in ("choices", "methods_accepted"):
            if listed in values:
                values[listed] = tuple(str(item) for item in values[listed])
        try:
            field = Field(name=name, type=kind, **values)
        except TypeError as error:
            raise PracticeError(f"vocabulary: {where}: {name!r}: {error}") from error
        _check_field(field, where)
        yield name, field


def _stood_for(key: str, entries: Mapping[str, PracticeEntry], where: str) -> PracticeEntry:
    """The entry whose value a field may take the place of: one that a project is free to choose."""
    entry = entries.get(key)
    if entry is None or entry.source.of_code or not isinstance(entry.value, Quantity):
        raise PracticeError(f"vocabulary: {where} stands for {key!r}, no quantity that a project may choose")
    return entry


def _check_field(field: Field, where: str) -> None:
    if field.type in ("word", "words") and not field.choices:
        raise PracticeError(f"vocabulary: {where}: {field.name!r} is a word without choices")
    if field.choices and field.default is not None and field.default not in field.choices:
        raise PracticeError(f"vocabulary: {where}: default {field.default!r} of {field.name!r} is no choice")
    try:
        parse(field.at or "0")
    except QuantityError as error:
        raise PracticeError(f"vocabulary: {where}: {field.name!r}: {error}") from error
