"""Nothing is worked out twice: results are kept with what was read for them, and hold while none of it has changed.

A memo belongs to one project under one practice, and may come from the memo of another project. A result of before
holds again where no fact that was read for it differs (:mod:`specgen.wall.differing`) and no result that it asked for
does. There is one result for each function and parapet, and those of the memo it came from; nothing is kept elsewhere,
so that what no one holds any more is freed.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from functools import cached_property
from itertools import chain
from typing import TypeVar, cast

from specgen.model.project import Parapet, Project
from specgen.model.reading import READER, Read, Reader
from specgen.model.requirement import RequirementSet
from specgen.practice.entries import Practice
from specgen.wall.differing import (
    OWN,
    PROJECT,
    REQUIREMENTS,
    Fact,
    address_of,
    addresses,
    changed,
    own_records,
    records_at,
)

T = TypeVar("T")
Work = Callable[[Project, Parapet, Practice], T]
Key = tuple[Hashable, str]  # what is worked out, and at which parapet
Addresses = dict[int, tuple[str, ...]]  # by the identity of what tells


class _Map:
    """Where what tells stands in a project: outside the parapets, and in each. It holds no record."""

    def __init__(self, own: Addresses, parapets: Mapping[str, Addresses]) -> None:
        self.own, self.parapets = own, parapets

    def telling(self, facts: Iterable[Fact]) -> frozenset[Read]:
        """What would have told one of some facts, wherever it stands."""
        by_address: dict[str, list[object]] = {}
        for at, what in facts:
            by_address.setdefault(at, []).append(what)
        every = chain(self.own.items(), *(local.items() for local in self.parapets.values()))
        return frozenset(
            (held, what) for held, where in every for at in where for what in by_address.get(at, ())
        )

    def of(self, held: int, parapet: str) -> tuple[str, ...]:
        """The addresses of what told: those in the parapet that was worked on, else all."""
        return self.parapets[parapet].get(held) or self._anywhere.get(held, ())

    @cached_property
    def _anywhere(self) -> Addresses:
        found = dict(self.own)
        for local in self.parapets.values():
            for held, at in local.items():
                found[held] = (*found.get(held, ()), *at)
        return found


class _Entry(Reader):
    """A result with what was read and asked for it. While it is worked out it is the reader of its memo."""

    __slots__ = ("_facts", "_map", "memo", "result")

    def __init__(self, memo: Memo) -> None:
        self.reads, self.asked = set(), {}  # set here and not by Reader: there are many
        self.borrowed = set()
        self.memo: Memo | None = memo
        self.result: object = None
        self._facts: set[Fact] | None = None

    def close(self, result: object, where: _Map) -> None:
        """Note the result; the memo is let go, so that what no one holds is freed at once."""
        self.result, self.memo, self._map = result, None, where

    def clear_of(self, telling: frozenset[Read], where: _Map) -> bool:
        """Whether nothing that would have told was read; False where that cannot be seen from what told."""
        readable = self._facts is None and self._map is where
        return readable and self.reads.isdisjoint(telling) and self.borrowed.isdisjoint(telling)

    def facts(self, parapet: str) -> set[Fact]:
        """What was read, by addresses; found when another memo cannot see from what told that it holds."""
        if self._facts is None:
            every = self.reads | self.borrowed
            self._facts = {(at, what) for held, what in every for at in self._map.of(held, parapet)}
            self._facts.add((address_of(parapet), OWN))
            self.reads, self.borrowed, self._map = set(), set(), _NOWHERE
        return self._facts


_NOWHERE = _Map({}, {})


class _Group:
    """Results of one kind at one parapet, which hold at once where nothing that was read for any of them differs."""

    def __init__(self, entries: Mapping[Key, _Entry]) -> None:
        self.entries = entries
        self.results = {key: entry.result for (key, _), entry in entries.items()}

    @cached_property
    def asked(self) -> Mapping[Key, object]:
        """The results that one of them asked for."""
        return {key: was for entry in self.entries.values() for key, was in entry.asked.items()}


class Memo:
    """The results of one project under one practice.

    Args:
        project: what is read.
        practice: what it is read with.
        before: the memo whose results are taken over where they hold; one of another practice is not looked at.
    """

    def __init__(self, project: Project, practice: Practice, before: Memo | None = None) -> None:
        self.project: Project = project
        self.practice: Practice = practice
        facts = None
        if before is not None and before.practice is practice:
            facts = changed(before.project, project)
        known = before if facts is not None else None
        self._changed: set[Fact] = facts or set()
        self._map_before = known._map if known else _NOWHERE
        self._telling: frozenset[Read] | None = None  # of the memo before: what would have told a change
        self._before: Mapping[Key, _Entry] = known._kept if known else {}
        self._followed_before = known._followed if known else {}
        self._groups_before: Mapping[Key, _Group] = known._groups if known else {}
        self._kept: dict[Key, _Entry] = {}
        self._followed: dict[Hashable, tuple[object, object]] = {}
        self._groups: dict[Key, _Group] = {}
        self._lent: dict[Key, _Entry] = {}
        self._parapets = {one.name: one for one in project.parapets}
        own = addresses(own_records(project))
        own |= {id(one): (address_of(one.name),) for one in project.parapets}
        own[id(project)] = (PROJECT,)
        self._map: _Map = _Map(own, {name: self._addresses(name, known) for name in self._parapets})

    def _addresses(self, parapet: str, known: Memo | None) -> Addresses:
        here = self._parapets[parapet]
        if known and known._parapets.get(parapet) is here:
            return known._map.parapets[parapet]
        return addresses(records_at(here))

    @property
    def made(self) -> frozenset[Key]:
        """What has been asked for so far."""
        return frozenset(self._kept)

    def at(self, work: Work[T], parapet: str) -> T:
        """The result of a function of project, parapet and practice; who asks for it rests on it.

        Raises:
            KeyError: no such parapet.
        """
        key = (work, parapet)
        result = self._result(key)
        reader = READER.get()
        if reader is not None:
            reader.asked[key] = result
        return cast(T, result)

    def behind(self, work: Work[object], parapet: str) -> Iterator[object]:
        """The results that a result asked for, and those that they asked for, each once.

        Raises:
            KeyError: it has not been asked for.
        """
        todo, seen = [(work, parapet)], set[Key]()
        while todo:
            entry = self._kept[todo.pop()]
            for key, result in entry.asked.items():
                if key not in seen:
                    seen.add(key)
                    todo.append(cast(tuple[Work[object], str], key))
                    yield result

    def read_for(self, key: Hashable, parapet: str) -> frozenset[Fact]:
        """What was read for a result, and for the results that it asked for.

        Raises:
            KeyError: it is not kept.
        """
        todo: list[Key] = [(key, parapet)]
        seen, facts = set(todo), set[Fact]()
        while todo:
            at = todo.pop()
            entry = self._kept[at]
            facts |= entry.facts(at[1])
            more = [other for other in entry.asked if other not in seen]
            seen |= set(more)
            todo += more
        return frozenset(facts)

    def kept(self, key: Hashable, parapet: str, make: Callable[[], T]) -> T:
        """A result that no other result asks for, under a key of its own.

        Args:
            key: names it; together with the parapet it stands for one piece of work.
            parapet: name of the parapet that it is about.
            make: works it out.
        """
        return cast(T, self._entry((key, parapet), make).result)

    def each(
        self, kind: Hashable, parapet: str, works: Mapping[Hashable, Callable[[], T]]
    ) -> Mapping[Hashable, T]:
        """As :func:`kept` for many keys of one kind, in their order."""
        group = self._groups_before.get((kind, parapet))
        if group is not None and group.results.keys() == works.keys() and self._holds(parapet, group):
            self._kept |= group.entries
        else:
            group = _Group({(key, parapet): self._entry((key, parapet), make) for key, make in works.items()})
        self._groups[kind, parapet] = group
        return cast(Mapping[Hashable, T], group.results)

    def followed(self, key: Hashable, inputs: object, make: Callable[[], T]) -> T:
        """What follows from its inputs alone: taken over where they are equal to those of before."""
        known = self._followed_before.get(key)
        result = known[1] if known is not None and known[0] == inputs else make()
        self._followed[key] = (inputs, result)
        return cast(T, result)

    def lent(self, work: Work[T], parapet: str) -> T:
        """A result that holds records of this very project: made once for it and never taken over by another.

        Who asks for it rests on everything that was read for it.
        """
        key = (work, parapet)
        if key not in self._lent:
            here = self._parapets[parapet]
            self._lent[key] = self._made(key, lambda: work(self.project, here, self.practice), None)
        entry, reader = self._lent[key], READER.get()
        if reader is not None:
            reader.borrowed |= entry.reads | entry.borrowed
            reader.asked |= entry.asked
        return cast(T, entry.result)

    def settle(self, requirements: RequirementSet, before: RequirementSet | None) -> None:
        """From here on these are the requirements that are read; where others held before, results rest on the change."""
        self._map.own[id(requirements)] = (REQUIREMENTS,)
        if before is not None:
            self._telling = None
            self._changed |= {(REQUIREMENTS, what) for what in requirements.differing(before)}

    def _result(self, key: Key) -> object:
        work, parapet = key
        here = self._parapets[parapet]
        return self._entry(key, lambda: cast(Work[object], work)(self.project, here, self.practice)).result

    def _entry(self, key: Key, make: Callable[[], object]) -> _Entry:
        entry = self._kept.get(key)
        if entry is None:
            old = self._before.get(key) if self._before else None
            entry = old if old is not None and self._holds(key[1], old) else self._made(key, make, old)
            self._kept[key] = entry
        return entry

    def _holds(self, parapet: str, old: _Entry | _Group) -> bool:
        """Whether a result of before holds: asked in the order of asking, up to the first that differs."""
        entries = old.entries.values() if isinstance(old, _Group) else (old,)
        if not all(self._untouched(parapet, one) for one in entries):
            return False
        for other, was in old.asked.items():
            if other[1] not in self._parapets:
                return False
            try:
                now = self._result(other)
            except Exception:  # who asked is worked out again, and meets it in its own way
                return False
            if now is not was and now != was:
                return False
        return True

    def _untouched(self, parapet: str, old: _Entry) -> bool:
        """Whether nothing differs that was read for a result of before."""
        if self._telling is None:
            self._telling = self._map_before.telling(self._changed)
        if (address_of(parapet), OWN) not in self._changed and old.clear_of(self._telling, self._map_before):
            return True
        return old.facts(parapet).isdisjoint(self._changed)

    def _made(self, key: Key, make: Callable[[], object], old: _Entry | None) -> _Entry:
        entry = _Entry(self)
        token = READER.set(entry)
        try:
            result = make()
        finally:
            READER.reset(token)
        if old is not None and old.result == result:
            result = old.result  # who rests on it sees at once that it is the same
        entry.close(result, self._map)
        return entry


def once(work: Work[T], project: Project, parapet: Parapet, practice: Practice) -> T:
    """The result of a function; within work for a memo of this project and practice it is made once.

    Args:
        work: the function.
        project: its first argument.
        parapet: its second.
        practice: its third.
    """
    memo = _memo_of(project, parapet, practice)
    return work(project, parapet, practice) if memo is None else memo.at(work, parapet.name)


def lent(work: Work[T], project: Project, parapet: Parapet, practice: Practice) -> T:
    """As :func:`once`, for a result that holds records of the project."""
    memo = _memo_of(project, parapet, practice)
    return work(project, parapet, practice) if memo is None else memo.lent(work, parapet.name)


def _memo_of(project: Project, parapet: Parapet, practice: Practice) -> Memo | None:
    reader = READER.get()
    if not isinstance(reader, _Entry):
        return None
    memo = reader.memo
    if memo is None:
        return None
    same = memo.project is project and memo.practice is practice
    return memo if same and memo._parapets.get(parapet.name) is parapet else None
