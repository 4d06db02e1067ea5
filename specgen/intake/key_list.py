"""The keys of a file as a list to read: by place and role, each with its meaning, what to write, and its range."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from specgen.intake.existing import LISTS
from specgen.intake.project import TOP_KEYS
from specgen.intake.values import SHEET_THICKNESS
from specgen.intake.worked import written_values
from specgen.model.project import PLACES
from specgen.model.source import Status
from specgen.practice.entries import Field, Practice, RecordKind, Role
from specgen.practice.ranges import EXPECTED, Range
from specgen.practice.trade_names import LISTS as LISTED
from specgen.practice.trade_names import names_of
from specgen.units.errors import how_to_write
from specgen.wall.plausible import FAMILIES

RECORDS: Mapping[str, tuple[str, ...]] = {
    "submittal": ("submittal",),
    "request": ("request",),
    "office": ("office", "office limit", "office value", "office source"),
}
_EXAMPLES = {"text": '"in words"', "yes or no": "yes", "date": "2026-11-02", "number": "1.0"}
WHERE: Mapping[str, str] = {
    **{key: f"section `{key}`" for key in TOP_KEYS},
    "parapet": "each of the list `parapets`, or a type below `types`",
    **{what: f"list `{key}` of a parapet" for key, what in LISTED.items()},
    "existing": "`existing` of a parapet that stands",
    **{what: f"list `{key}` below `existing`" for key, what in LISTS.items()},
    "manufacturer letter": "list `maker_letters`",
    "waiver": "list `waivers`",
    "answer": "list `answers`",
}
_PARAPET = f"""\
  name: name of the parapet; as `name: P-1`
  type: name of the type below `types` that it is built like
  changes: values that differ from its type, by the id of a component; as `changes: {{coping: {{piece_length: 8 ft}}}}`
  build_up: list of components from the plaster to the roof membrane, each `- role: …` with its `kind`
  top: list of components of the top, each `- role: …` with its `kind`
  transitions: list of laps, each `- between: [top flashing, barrier]`
  {", ".join(PLACES)}: lists of places along the parapet
  existing: the parapet as it stands, where the work is on a standing wall"""
_COMPONENT = """\
A component also takes
  kind: unknown, where nobody knows it yet; none, where the parapet has no component of the role; as `kind: none`
  id: its name, where a role appears twice; as `id: roof-side sheathing`
  meant: why a value is meant that its kind is not expected to have; as `meant: {thickness: tested so}`
  because: why a measured value is stricter than anything asks for, or why there is no such component;
    as `because: {pull_adhesion: wind at the corner}`, or beside `kind: none` as `because: {kind: the coping is pinned}`
Components and the records above also take
  not_applicable: why a value does not apply here; as `not_applicable: {salt_water_distance: far inland}`"""


@dataclass(frozen=True)
class Key:
    """One key as the list describes it, each part in words; a part that it has not is empty."""

    name: str
    title: str
    note: str
    accepted: str
    example: str
    possible: str
    expected: str
    method: str
    must: str  # "needed", or "needed to issue"
    names: tuple[str, ...]  # what the trade also calls it


def key_list(practice: Practice, file: str) -> Iterator[str]:
    """The lines of the list.

    Args:
        practice: holds the vocabulary.
        file: project, submittal, request or office.
    """
    known = practice.vocabulary
    others = {name for names in RECORDS.values() for name in names} | {"office amendment", "acceptance"}
    records = [
        one
        for name, one in known.records.items()
        if (name not in others if file == "project" else name in RECORDS[file])
    ]
    for record in records:
        yield f"{record.name}: {WHERE[record.name]}" if record.name in WHERE else f"{record.name}:"
        if record.name == "parapet":
            yield _PARAPET
        if record.name == "transition":
            yield "  between: ids of the two components that meet; as `between: [top flashing, barrier]`"
        at = next((key for key, what in LISTED.items() if what == record.name), record.name)
        yield from _fields(practice, record.name, at, record.fields)
    if file == "office":
        return
    for role in known.roles.values():
        if file != "project" or role.where != "place":
            yield from _role(practice, role, file)
    yield _COMPONENT


def _role(practice: Practice, role: Role, file: str) -> Iterator[str]:
    where = "" if file != "project" else ", in `build_up`" if role.where == "build-up" else ", in `top`"
    yield f"role {role.name}{where}: {role.title}{_also_called(names_of(role.name))}"
    for kind in role.kinds.values():
        title = f": {kind.title}" if kind.title != kind.name else ""
        yield f"  kind: {kind.name}{title}{_also_called(names_of(role.name, 'kind', kind.name))}"
    fields = {name: one for name, one in role.fields.items() if file == "project" or not one.project_only}
    yield from _fields(practice, role.name, role.name, fields)


def _fields(practice: Practice, what: str, at: str, fields: Mapping[str, Field]) -> Iterator[str]:
    for key in _keys(practice, what, at, fields):
        note = f" ({key.note})" if key.note else ""
        possible = f"; can be {key.possible}" if key.possible else ""
        expected = f"; expected {key.expected}" if key.expected else ""
        method = f"; test method {key.method}" if key.method else ""
        yield (
            f"  {key.name}: {key.title}{note}; {key.accepted}; as `{key.name}: {key.example}`"
            f"{possible}{expected}{method}{f'; {key.must}' if key.must else ''}{_also_called(key.names)}"
        )


def keys_of(practice: Practice, of: Role | RecordKind) -> Iterator[Key]:
    """Each key of a role or a record."""
    at = next((key for key, what in LISTED.items() if what == of.name), of.name)
    return _keys(practice, of.name, at, of.fields)


def _keys(practice: Practice, what: str, at: str, fields: Mapping[str, Field]) -> Iterator[Key]:
    for name, field in fields.items():
        must = "needed" if field.required else "needed to issue" if field.to_issue else ""
        possible, expected = _ranges(practice, what, field)
        written = example(practice, what, field)
        names = tuple(names_of(at, name))
        yield Key(
            name,
            field.title,
            field.note,
            accepted(field),
            written,
            possible,
            expected,
            field.method,
            must,
            names,
        )


def _also_called(names: Iterable[str]) -> str:
    words = ", ".join(names)
    return f"; also called {words}" if words else ""


def accepted(field: Field) -> str:
    """What may be written: the choices, or the dimension with its usual units."""
    if field.choices:
        return f"{'some' if field.type == 'words' else 'one'} of {', '.join(field.choices)}"
    if field.type in ("family", "families"):
        return "a material family" if field.type == "family" else "material families"
    if field.type in ("text", "yes or no", "date", "count"):
        return "whole number" if field.type == "count" else field.type
    dimensions = SHEET_THICKNESS if field.type == "sheet thickness" else frozenset({field.type})
    return how_to_write(dimensions).removeprefix("write ")


def example(practice: Practice, what: str, field: Field) -> str:
    """A value as it may be written: that of a worked example, else one that is expected, or a choice."""
    if (what, field.name) in written_values():
        return written_values()[what, field.name]
    if field.type in ("word", "words"):
        choice = field.choices[0]
        written = f'"{choice}"' if choice.isdecimal() else choice
        return f"[{written}]" if field.type == "words" else written
    if field.type in ("family", "families"):
        rows = practice.table(FAMILIES).where(role=what)
        family = str(rows[0]["family"]) if rows else "galvanized steel"
        return f"[{family}]" if field.type == "families" else family
    expected = (Range.of(row) for row in practice.table(EXPECTED).where(role=what, attribute=field.name))
    ranges = [*expected, *([field.possible] if field.possible else [])]
    ends = [end for one in ranges for end in (one.least, one.most) if end is not None]
    found = min((end for end in ends if end.value != 0), key=lambda end: abs(end.value), default=None)
    return _EXAMPLES[field.type] if found is None else found.text


def _ranges(practice: Practice, what: str, field: Field) -> tuple[str, str]:
    """What a value can be, and what it is expected to be, in words."""
    if field.possible is None:
        return "", ""
    rows = practice.table(EXPECTED).where(role=what, attribute=field.name)
    expected = [f"{Range.of(row).words()}{f' ({kind})' if (kind := row['kind']) else ''}" for row in rows]
    ends = ((row, end) for row in rows for end in ("least", "most") if row[end])
    sources = (practice.table(EXPECTED).source_of(row, end) for row, end in ends)
    cited = dict.fromkeys(str(one) for one in sources if one.status is not Status.PRACTICE)
    behind = f" [{'; '.join(cited)}]" if cited else ""
    return field.possible.words(), f"{'; '.join(expected)}{behind}" if expected else ""
