"""Random changes of a project, as a person at the keyboard or a trial makes them; any may make it a poor wall."""

from __future__ import annotations

import pickle
import random
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any, TypeVar

from specgen.files.marks import Mark
from specgen.model.project import PLACES, Component, Parapet, Project, Record, Transition, Value
from specgen.practice.entries import Field, Practice
from specgen.units.quantity import Quantity, from_si
from specgen.wall.change import of_kind, with_values

R = TypeVar("R", bound=Record)
LISTS = ("transitions", *PLACES)


class Changes:
    """Draws changes of a project; the same seed draws the same."""

    def __init__(self, practice: Practice, seed: int) -> None:
        self.practice, self.random = practice, random.Random(seed)
        self.vocabulary = practice.vocabulary

    def changed(self, project: Project) -> tuple[str, Project]:
        """What was done, and the project with one change or a few."""
        done, count = [], self.random.choice((1, 1, 1, 2, 3))
        for _ in range(count):
            change = self.random.choice(self._kinds)
            done.append(change.__name__)
            project = change(self, project)
        return ", ".join(done), project

    # Values

    def value(self, project: Project) -> Project:
        """A value of some record changed, added or taken away."""
        pick = self.random.random()
        if pick < 0.15:
            name = self.random.choice(("site", "building"))
            return replace(project, **{name: self._valued(getattr(project, name), name)})
        if pick < 0.2 and project.letters:
            return replace(project, letters=self._one(project.letters, lambda one: self._valued(one, "")))
        return self._in_parapet(project, self._value_at)

    def _value_at(self, parapet: Parapet) -> Parapet:
        pick = self.random.random()
        if pick < 0.15:
            return self._valued(parapet, "parapet")
        if pick < 0.7:
            return self._part(parapet, lambda part: self._valued(part, part.role))
        if pick < 0.8 and parapet.existing is not None:
            return replace(parapet, existing=self._valued(parapet.existing, ""))
        lists = [name for name in LISTS if getattr(parapet, name)]
        if not lists:
            return parapet
        name = self.random.choice(lists)
        found = self._one(getattr(parapet, name), lambda one: self._valued(one, one.what))
        return replace(parapet, **{name: found})

    def _valued(self, record: R, kind: str) -> R:
        fields: Mapping[str, Field] = {}
        if kind in self.vocabulary.roles:
            fields = self.vocabulary.roles[kind].fields
        elif kind in self.vocabulary.records:
            fields = self.vocabulary.records[kind].fields
        values, marks = dict(record.values), dict(record.marks)
        if values and (not fields or self.random.random() < 0.6):
            name = self.random.choice(list(values))
            if self.random.random() < 0.3:
                del values[name]
                if (
                    self.random.random() < 0.5
                ):  # a mark without a value is poor, and must be read as a new file's
                    marks.pop(name, None)
                return replace(record, values=values, marks=marks)
            values[name] = self._other(values[name], fields.get(name))
        elif fields:
            name = self.random.choice(list(fields))
            made = self._fitting(fields[name])
            if made is not None:
                values[name] = made
        if self.random.random() < 0.2:
            values = dict(self.random.sample(list(values.items()), len(values)))
        return replace(record, values=values, marks={**marks, name: self._mark()} if fields else marks)

    def _other(self, value: Value, field: Field | None) -> Value:
        if isinstance(value, bool):
            return not value
        if isinstance(value, Quantity):
            return from_si(
                value.value * self.random.choice((0.5, 0.9, 1.1, 2.0)), value.dimension, value.unit
            )
        if isinstance(value, int):
            return value + 1
        fitting = self._fitting(field) if field is not None else None
        return value if fitting is None else fitting

    def _fitting(self, field: Field) -> Value | None:
        if field.type == "words":
            return tuple(self.random.sample(field.choices, 2))
        if field.choices:
            return self.random.choice(field.choices)
        match field.type:
            case "yes or no":
                return self.random.choice((True, False))
            case "count":
                return self.random.choice((1, 2, 3))
            case "length":
                return from_si(
                    self.random.choice((0.01, 0.1, 0.3)), "length", self.random.choice(("in", "mm"))
                )
            case "family":
                return self.random.choice(self.vocabulary.families)
            case "families":
                return tuple(sorted(self.random.sample(self.vocabulary.families, 2)))
            case _:
                return None

    # The wall

    def kind(self, project: Project) -> Project:
        """A component of another kind."""

        def other(part: Component) -> Component:
            to = self.random.choice(list(self.vocabulary.roles[part.role].kinds))
            return of_kind(part, to, self.practice) if self.random.random() < 0.5 else replace(part, kind=to)

        return self._in_parapet(project, lambda parapet: self._part(parapet, other))

    def tried(self, project: Project) -> Project:
        """A value of a component set by a trial: it stands as meant, and has no place in the file."""

        def tried(part: Component) -> Component:
            fields = self.vocabulary.roles[part.role].fields
            made = {name: self._fitting(fields[name]) for name in self.random.sample(list(fields), 1)}
            return with_values(part, {name: value for name, value in made.items() if value is not None})

        return self._in_parapet(project, lambda parapet: self._part(parapet, tried))

    def add(self, project: Project) -> Project:
        """One more component."""

        def added(parapet: Parapet) -> Parapet:
            role = self.random.choice(list(self.vocabulary.roles.values()))
            kind = self.random.choice(list(role.kinds) or [""])
            mark = self._mark()
            new = Component(role.name, {}, {}, mark, f"new {self.random.randrange(10**6)}", kind)
            at = self.random.randrange(len(parapet.build_up) + 1)
            return replace(parapet, build_up=(*parapet.build_up[:at], new, *parapet.build_up[at:]))

        return self._in_parapet(project, added)

    def remove(self, project: Project) -> Project:
        """One component less, or one transition, corner, scupper less."""

        def removed(parapet: Parapet) -> Parapet:
            names = [name for name in ("build_up", "build_up", "top", *LISTS) if getattr(parapet, name)]
            if not names:
                return parapet
            name = self.random.choice(names)
            kept = list(getattr(parapet, name))
            del kept[self.random.randrange(len(kept))]
            return replace(parapet, **{name: tuple(kept)})

        return self._in_parapet(project, removed)

    def move(self, project: Project) -> Project:
        """The members of a list in another order."""

        def moved(parapet: Parapet) -> Parapet:
            name = self.random.choice(("build_up", "build_up", "top", *LISTS))
            found = getattr(parapet, name)
            return replace(parapet, **{name: tuple(self.random.sample(found, len(found)))})

        return self._in_parapet(project, moved)

    def turn(self, project: Project) -> Project:
        """A transition with its ends exchanged."""

        def turned(parapet: Parapet) -> Parapet:
            found: tuple[Transition, ...] = self._one(
                parapet.transitions, lambda one: replace(one, first=one.second, second=one.first)
            )
            return replace(parapet, transitions=found)

        return self._in_parapet(project, turned)

    def parapets(self, project: Project) -> Project:
        """The parapets in another order, one of them as another, or one of them gone."""
        found = list(project.parapets)
        match self.random.randrange(4):
            case 0:
                self.random.shuffle(found)
            case 1 if len(found) > 1:
                found.pop(self.random.randrange(len(found)))
            case 2 if len(found) < 4:
                found.append(replace(self.random.choice(found), name=f"N-{self.random.randrange(10**6)}"))
            case _:
                at = self.random.randrange(len(found))  # what another says, under this one's name
                found[at] = replace(self.random.choice(found), name=found[at].name)
        return replace(project, parapets=tuple(found))

    # The file

    def units(self, project: Project) -> Project:
        """Another language of units."""
        values = {**project.info.values, "units": self.random.choice(("SI", "inch-pound", "both"))}
        return replace(project, info=replace(project.info, values=values))

    def lines(self, project: Project) -> Project:
        """Everything below some line moved by an edit above it."""
        after, by = self.random.randrange(200), self.random.choice((-1, 1, 3))
        return moved_lines(project, after, by)

    def again(self, project: Project) -> Project:
        """The same file read once more: equal, and none of it the same object."""
        weather = project.weather
        return replace(pickle.loads(pickle.dumps(replace(project, weather=None))), weather=weather)

    def waivers(self, project: Project) -> Project:
        """A waiver less, or of another rule."""
        if not project.waivers or self.random.random() < 0.3:
            return replace(project, waivers=project.waivers[1:])
        return replace(project, waivers=self._one(project.waivers, lambda one: replace(one, parapet="all")))

    _kinds: tuple[Callable[[Changes, Project], Project], ...] = (
        *(value,) * 10, kind, kind, tried, tried, add, remove, move, turn, parapets, units, lines, again, waivers,
    )  # fmt: skip

    def _in_parapet(self, project: Project, change: Callable[[Parapet], Parapet]) -> Project:
        return replace(project, parapets=self._one(project.parapets, change))

    def _part(self, parapet: Parapet, change: Callable[[Component], Component]) -> Parapet:
        name = self.random.choice([name for name in ("build_up", "top") if getattr(parapet, name)] or ["top"])
        return replace(parapet, **{name: self._one(getattr(parapet, name), change)})

    def _one(self, found: tuple[R, ...], change: Callable[[R], R]) -> tuple[R, ...]:
        if not found:
            return found
        at = self.random.randrange(len(found))
        return (*found[:at], change(found[at]), *found[at + 1 :])

    def _mark(self) -> Mark:
        return Mark("project.yaml", self.random.randrange(1, 300), self.random.randrange(1, 20))


def moved_lines(one: Any, after: int, by: int) -> Any:
    """A project, a record or a list with the marks below a line moved."""
    if type(one) is Mark:
        return replace(one, line=one.line + by) if one.line > after else one
    if isinstance(one, tuple):
        return tuple(moved_lines(each, after, by) for each in one)
    if isinstance(one, Record):
        own = {
            name: moved_lines(getattr(one, name), after, by)
            for name in one.__dataclass_fields__
            if name != "marks"
        }
        return replace(
            one, **own, marks={name: moved_lines(mark, after, by) for name, mark in one.marks.items()}
        )
    if isinstance(one, Project):
        return replace(
            one,
            **{
                name: moved_lines(getattr(one, name), after, by)
                for name in ("info", "site", "building", "parapets", "waivers", "letters")
            },
        )
    return one
