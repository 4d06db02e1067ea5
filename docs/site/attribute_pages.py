"""The attribute list: every record, role, kind, and key of the files, made of the vocabulary."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from markup import anchor, plain, table

from specgen.intake.key_list import RECORDS, WHERE, Key, keys_of
from specgen.practice.entries import Field, Kind, Practice, RecordKind, Role
from specgen.practice.trade_names import names_of

PAGES = {  # where a role stands: page, title, what it holds
    "build-up": (
        "layers",
        "Layers of the wall",
        "What stands in `build_up`, from the plaster to the roof membrane.",
    ),
    "top": ("top", "The top", "What stands in `top`."),
    "place": ("places", "Products at places", "They stand in a submittal, and in no build-up."),
}
TRADE = "What the trade says, and what a file says. A file with a word of the trade is answered with the word meant."
BREAK = "<br>"
FILES = {
    "submittal": "A submittal file",
    "request": "A substitution request",
    "office": "An office file",
    "acceptance": "A record of what was accepted",
}


def attribute_pages(practice: Practice) -> Iterator[tuple[str, str]]:
    """Path and text of every page, the overview first."""
    known = practice.vocabulary
    others = {name for names in RECORDS.values() for name in names}
    records = [one for one in known.records.values() if one.name not in others]
    yield "attributes/index.md", _index(practice, records)
    yield (
        "attributes/project.md",
        _page("The project file outside the wall", "", _records(practice, records, "##")),
    )
    for where, (page, title, about) in PAGES.items():
        roles = [role for role in known.roles.values() if role.where == where]
        yield f"attributes/{page}.md", _page(title, about, _roles(practice, roles))
    yield (
        "attributes/other-files.md",
        _page("Submittals, requests, and the office", "", _other_files(practice)),
    )
    yield "attributes/trade-words.md", _page("Words of the trade", TRADE, _trade_words(practice))
    families = table(("Family",), [(f"`{family}`",) for family in known.families])
    yield (
        "attributes/families.md",
        _page("Material families", "What a part is made of decides what it may touch.", families),
    )


def _page(title: str, about: str, lines: Iterable[str]) -> str:
    return "\n".join([f"# {title}", "", about, "", *lines])


def _index(practice: Practice, records: Iterable[RecordKind]) -> str:
    known = practice.vocabulary
    count = sum(len(one.fields) for one in (*known.records.values(), *known.roles.values()))
    about = (
        f"{len(known.roles)} roles, {len(known.records)} records, {count} keys. *Possible* is what a value can be at "
        "all: anything else is refused. *Expected* is what it usually is: anything else is asked about. "
        "The same list on the terminal: `specgen schema project --list`."
    )
    pages: list[tuple[str, str, Mapping[str, Field]]] = [("project", one.name, one.fields) for one in records]
    pages += [(PAGES[role.where][0], role.name, role.fields) for role in known.roles.values()]
    rows = [(f"[{name}]({page}.md#{anchor(name)})", str(len(fields))) for page, name, fields in pages]
    return _page("Attribute list", about, table(("Record or role", "Keys"), rows))


def _other_files(practice: Practice) -> Iterator[str]:
    for file, names in RECORDS.items():
        yield f"## {FILES[file]}"
        yield ""
        yield from _records(practice, [practice.vocabulary.records[name] for name in names], "###")


def _trade_words(practice: Practice) -> Iterator[str]:
    """Every everyday name in the order of letters, with what it is called in a file."""
    known = practice.vocabulary
    rows = []
    for role in known.roles.values():
        page = f"{PAGES[role.where][0]}.md#{anchor(role.name)}"
        rows += [(name, f"role [`{role.name}`]({page})") for name in names_of(role.name)]
        for key, words in (("kind", role.kinds), *((field, ()) for field in role.fields)):
            rows += [(name, f"`{key}` of [`{role.name}`]({page})") for name in names_of(role.name, key)]
            rows += [
                (name, f"`{key}: {word}` of [`{role.name}`]({page})")
                for word in words
                for name in names_of(role.name, key, word)
            ]
    for record in known.records.values():
        rows += [
            (name, f"`{field}` of `{record.name}`")
            for field in record.fields
            for name in names_of(record.name, field)
        ]
    yield from table(
        ("The trade says", "A file says"),
        [(plain(name), words) for name, words in sorted(rows, key=_by_letters)],
    )


def _by_letters(row: tuple[str, str]) -> tuple[str, str]:
    return row[0].lower(), row[1]


def _records(practice: Practice, records: Iterable[RecordKind], level: str) -> Iterator[str]:
    for record in records:
        yield f"{level} {record.name} {{: #{anchor(record.name)} }}"
        yield ""
        where = WHERE.get(record.name, "")
        yield plain(f"{record.title.capitalize()}: {where}." if where else f"{record.title.capitalize()}.")
        yield ""
        yield from _keys(keys_of(practice, record))


def _roles(practice: Practice, roles: Iterable[Role]) -> Iterator[str]:
    for role in roles:
        yield f"## {role.name} {{: #{anchor(role.name)} }}"
        yield ""
        also = f" Also called {', '.join(names_of(role.name))}." if names_of(role.name) else ""
        yield plain(
            f"{role.title.capitalize()}. Section {role.section}. Installed by the {role.trade}.{also}"
        )
        yield ""
        yield from table(
            ("Kind", "Meaning"), [(f"`{kind.name}`", _kind(role, kind)) for kind in role.kinds.values()]
        )
        yield from _keys(keys_of(practice, role))


def _kind(role: Role, kind: Kind) -> str:
    """What a kind is, where its name does not say it, its family, and what the trade calls it."""
    title = "" if kind.title == kind.name else kind.title
    family = f"Family: {kind.family}." if kind.family else ""
    names = names_of(role.name, "kind", kind.name)
    also = f"Also called {', '.join(names)}." if names else ""
    return BREAK.join(plain(one) for one in (title, family, also) if one)


def _keys(keys: Iterable[Key]) -> Iterator[str]:
    rows = [(f"`{key.name}`", _meaning(key), _range(key)) for key in keys]
    if rows:
        yield from table(("Key", "Meaning", "Write"), rows)


def _meaning(key: Key) -> str:
    note = f" ({plain(key.note)})" if key.note else ""
    must = f"**{key.must.capitalize()}.**" if key.must else ""
    also = f"Also called {plain(', '.join(key.names))}." if key.names else ""
    return BREAK.join(one for one in (f"{plain(key.title)}{note}", also, must) if one)


def _range(key: Key) -> str:
    example = f"`{key.name}: {key.example}`".replace("|", "\\|")
    ends = {"Possible": key.possible, "Expected": key.expected, "Test method": key.method}
    return BREAK.join(
        [plain(key.accepted), example, *(f"{name}: {plain(words)}" for name, words in ends.items() if words)]
    )
