"""The keys of a file as a list to read: by place and role, each with its meaning, what to write, and its range."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from specgen.intake.existing import LISTS
from specgen.intake.field_words import accepted, example
from specgen.intake.project import TOP_KEYS
from specgen.model.source import Status
from specgen.practice.entries import Field, Practice, RecordKind, Role
from specgen.practice.ranges import EXPECTED, Range
from specgen.practice.shapes import shape
from specgen.practice.trade_names import LISTS as LISTED
from specgen.practice.trade_names import names_of

RECORDS: Mapping[str, tuple[str, ...]] = {
    "submittal": ("submittal", "paper", "notice", "confirmation"),
    "request": ("request",),  # its products name papers as those of a submittal do
    "office": ("office", "office limit", "office amendment", "office value", "office source"),
    "acceptance": ("acceptance",),
}
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
_EXTENDED = {  # the shape of keys that hold others, by the record beside whose values they stand
    "parapet": ("parapet of a project", "parapet"),
    "transition": ("transition",),
    "existing": ("existing",),
    "paper": ("paper",),
    "office limit": ("office limit",),
    "office value": ("office value",),
    "acceptance": ("acceptance",),
}
_FURTHER = {  # the shapes of what stands below the top of a file, where no record of the vocabulary does
    "office": ("section of an office",),
    "comments": ("comment", "answer of a comment", "about"),
    "bad products": ("bad product",),
}
_WITH_ROLES = ("project", "submittal", "request")
_COMPONENT = """\
A component also takes the keys below; `kind` may be unknown, where nobody knows it yet, or none, where the parapet
has no component of the role, and `because: {kind: …}` says why. Parapets, places, and sections take `meant` and
`not_applicable` as well: `meant: {thickness: tested so}`, `not_applicable: {salt_water_distance: far inland}`"""


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
        file: a kind of file: project, submittal, request, office, and the others that people write.
    """
    known = practice.vocabulary
    others = {name for names in RECORDS.values() for name in names}
    records = [
        one
        for name, one in known.records.items()
        if (name not in others if file == "project" else name in RECORDS.get(file, ()))
    ]
    yield "at the top:"
    yield from _shape(f"{file} file")
    for record in records:
        yield f"{record.name}: {WHERE[record.name]}" if record.name in WHERE else f"{record.name}:"
        for name in _EXTENDED.get(record.name, ()):
            yield from _shape(name)
        at = next((key for key, what in LISTED.items() if what == record.name), record.name)
        yield from _fields(practice, record.name, at, record.fields)
    for name in _FURTHER.get(file, ()):
        yield f"{name}:"
        yield from _shape(name)
    if file not in _WITH_ROLES:
        return
    for role in known.roles.values():
        if file != "project" or role.where != "place":
            yield from _role(practice, role, file)
    if file == "project":
        yield _COMPONENT
        yield from (*_shape("component"), *_shape("reasons"))
    else:
        yield "A product also takes"
        yield from _shape("product")
        yield "A value of a product may be a mapping with"
        yield from _shape("claim")


def _shape(name: str) -> Iterator[str]:
    return (f"  {key}: {one.title}. {one.note}" for key, one in shape(name).items())


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
