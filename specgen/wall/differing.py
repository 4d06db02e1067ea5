"""Which facts of a project differ in another: what a result that was read from them must be made again for.

A fact is one thing that can be read (:mod:`specgen.model.reading`): a value or a mark of a record by its name, a list,
the components of a role. It is named by its address in the project, so that records of a file that was read again are
held against those of before.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from specgen.model.project import PLACES, STANDING_LISTS, Parapet, Project, Record
from specgen.model.reading import WHOLE, Named
from specgen.units.quantity import Quantity

Fact = tuple[str, object]  # an address, and what is asked of it: a name, a role, a field

PROJECT, REQUIREMENTS = "project", "requirements"
OWN = "own"  # the name and the first line of a parapet, on which everything about it rests
SECTIONS = ("info", "site", "building", "quality", "trades", "contacts")
LISTS = ("waivers", "answers", "letters")
OTHER_LISTS = (
    "transitions",
    *PLACES,
    "existing",
    "undecided",
    "absent",
)  # of a parapet, beside its components
ABSENT = object()


def address_of(parapet: str) -> str:
    """The address of a parapet."""
    return f"parapet {parapet}"


def own_records(project: Project) -> Iterator[tuple[str, Record]]:
    """The records of a project outside its parapets, with their addresses."""
    yield from ((name, getattr(project, name)) for name in SECTIONS)
    for name in LISTS:
        yield from _numbered(name, getattr(project, name))


def records_at(parapet: Parapet) -> Iterator[tuple[str, Record]]:
    """A parapet and every record in it, with their addresses."""
    base, seen = address_of(parapet.name), set[str]()
    yield base, parapet
    for part in (*parapet.components(), *parapet.undecided):
        at = f"{base}, part {part.id}"
        while at in seen:  # one id twice: the first is the one that is found by it
            at += "'"
        seen.add(at)
        yield at, part
    for name in ("transitions", *PLACES):
        yield from _numbered(f"{base}, {name}", getattr(parapet, name))
    if (existing := parapet.existing) is not None:
        yield f"{base}, existing", existing
        for name in STANDING_LISTS:
            yield from _numbered(f"{base}, {name}", getattr(existing, name))


def addresses(records: Iterable[tuple[str, Record]]) -> dict[int, tuple[str, ...]]:
    """The addresses of the values, the marks and what else records hold by name, by the identity of the holder."""
    found: dict[int, tuple[str, ...]] = {}
    for at, record in records:
        for name, held in vars(record).items():
            if isinstance(held, Named):
                found[id(held)] = (*found.get(id(held), ()), f"{at}.{name}")
    return found


def changed(old: Project, new: Project) -> set[Fact] | None:
    """The facts that differ between two projects.

    Returns:
        None where something differs that everything rests on: the place of a whole section in its file.
    """
    before = dict(own_records(old))
    sections = [(before[at], one) for at, one in own_records(new) if at in before]
    if any(was is not now and shape(was) != shape(now) for was, now in sections[: len(SECTIONS)]):
        return None
    facts = set(_named_facts(before, dict(own_records(new))))
    facts |= {(PROJECT, ("field", name)) for name in LISTS if _other(old, new, name)}
    if old.stated_only is not new.stated_only:
        facts.add((PROJECT, ("field", "stated_only")))
    if old.path != new.path:
        facts.add((PROJECT, ("field", "path")))
    if old.weather is not new.weather:  # a year of hours is not compared
        facts.add((PROJECT, ("field", "weather")))
    if old.hourly is not new.hourly and old.hourly != new.hourly:
        facts.add((PROJECT, ("field", "hourly")))
    if [_own(one) for one in old.parapets] != [_own(one) for one in new.parapets]:
        facts.add((PROJECT, ("field", "parapets")))
    was_at = {one.name: one for one in old.parapets}
    for now in new.parapets:
        was = was_at.get(now.name)
        if was is not None and was is not now:
            facts |= set(_parapet_facts(was, now))
    return facts


def _parapet_facts(old: Parapet, new: Parapet) -> Iterator[Fact]:
    base = address_of(new.name)
    if _own(old) != _own(new):
        yield base, OWN
    yield from _named_facts(dict(records_at(old)), dict(records_at(new)))
    yield from ((base, ("field", name)) for name in OTHER_LISTS if _other(old, new, name))
    lists = [name for name in ("build_up", "top") if _other(old, new, name)]
    yield from ((base, ("field", name)) for name in lists)
    if lists:
        both = [*old.components(), *new.components()]
        for role in {part.role for part in both}:
            if shape(old.all_of(role)) != shape(new.all_of(role)):
                yield base, role
        for known in {part.id for part in both}:
            if shape(old.by_id(known)) != shape(new.by_id(known)):
                yield base, ("id", known)


def _named_facts(old: Mapping[str, Record], new: Mapping[str, Record]) -> Iterator[Fact]:
    """What differs of what records hold by name; a record that one project alone has is told by its list."""
    for at, now in new.items():
        was = old.get(at, now)
        if was is now:
            continue
        for name, held in vars(now).items():
            if not isinstance(held, Named) or held is vars(was)[name]:
                continue
            one, other = dict(vars(was)[name]), dict(held)
            differ = [
                key for key in {**one, **other} if not same(one.get(key, ABSENT), other.get(key, ABSENT))
            ]
            yield from ((f"{at}.{name}", key) for key in differ)
            if differ or list(one) != list(other):
                yield f"{at}.{name}", WHOLE


def same(one: object, other: object) -> bool:
    """Whether two values are the same to every reader: of one type, and written as the same number.

    >>> same(1, 1), same(1, True), same("a", "b")
    (True, False, False)
    """
    if one is other:
        return True
    if isinstance(one, Quantity) and isinstance(other, Quantity):
        return one == other and one.typed == other.typed and same(one.condition, other.condition)
    return type(one) is type(other) and one == other


def shape(one: object) -> object:
    """What a list says of its members by itself: all but their named values.

    A member's kind, its ends and its first line are told by the list that it is found in.
    """
    if isinstance(one, tuple):
        return tuple(shape(each) for each in one)
    if not isinstance(one, Record):
        return one
    own = (
        held for name, held in vars(one).items() if not isinstance(held, Named) and not name.startswith("_")
    )
    return type(one), tuple(shape(held) for held in own)


def _own(parapet: Parapet) -> object:
    return parapet.name, parapet.what, parapet.mark


def _other(old: object, new: object, name: str) -> bool:
    one, other = getattr(old, name), getattr(new, name)
    return one is not other and shape(one) != shape(other)


def _numbered(at: str, records: Iterable[Record]) -> Iterator[tuple[str, Record]]:
    return ((f"{at} {number}", record) for number, record in enumerate(records))
