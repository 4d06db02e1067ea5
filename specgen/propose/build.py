"""A wall of a proposal: the facts with one option of each choice put in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import chain, count

from specgen.model.project import Component, Parapet, Project, Record, Transition, Value
from specgen.propose.choices import (
    BUILD_UP,
    TAPE,
    TO_THE_TOP,
    TOP_ORDER,
    Lap,
    Option,
    Part,
    component,
    is_open,
    undecided,
)
from specgen.propose.drained import scuppers
from specgen.propose.offers import Offers
from specgen.propose.plastered import (
    FACING,
    FACING_TAPE,
    clearance_of,
    mirrored,
    mirrored_laps,
    plastered_inside,
)
from specgen.wall.change import TRIED, put_in, with_parapets, with_parts, with_values

Wall = tuple[Option, ...]  # one option of each choice, in the order of the choices


class Builder:
    """Puts options into the parapets of a project; equal parts are the same objects, so that they compare fast."""

    def __init__(self, offers: Offers) -> None:
        self.offers, self.practice = offers, offers.practice
        self._made: dict[object, Component | Transition] = {}
        self._scuppers: dict[tuple[str, tuple[Option, ...]], tuple[Record, ...]] = {}
        self._base: dict[
            int, tuple[Parapet, Parapet]
        ] = {}  # by the parapet itself, which is kept beside its own

    def project(self, options: Iterable[Option]) -> Project:
        """The project with these options in each of its parapets."""
        every = tuple(options)
        here = self.offers.project
        made = with_parapets(
            here, lambda one: self.parapet(one, every), tuple(one.name for one in here.parapets)
        )
        barrier = made.parapets[0].part("barrier")
        stated = self.offers.of_project(barrier.kind if barrier else "")
        values = {name: value for name, value in stated.items() if is_open(here.info, name)}
        return replace(made, info=with_values(made.info, values, "")) if values else made

    def parapet(self, parapet: Parapet, options: tuple[Option, ...]) -> Parapet:
        """One parapet with these options."""
        wall = self._with_given(parapet)
        for option in options:
            values = {name: value for name, value in option.values if is_open(parapet, name)}
            wall = with_values(wall, values, "") if values else wall
            for part in option.parts:
                wall = self._with_part(wall, part)
        if inside := plastered_inside(parapet):
            clearance = self.offers.in_units(clearance_of(self.practice))
            wall = mirrored(wall, self._once_placed, clearance)
        laps = [option.lap for option in options if option.lap is not None and self._open(wall, option.lap)]
        names = tapes((lap for lap in laps if lap.first != FACING), wall)
        below = {lap.tape: FACING_TAPE for lap in laps if lap.first == FACING and lap.tape}
        for kind, name in (*names.items(), *below.items()):
            if wall.by_id(name) is None:
                wall = self._with_part(wall, Part(TAPE, name, kind, self.offers.of_tape))
        joints = tuple(self._joint(lap, below if lap.first == FACING else names) for lap in laps)
        wall = replace(wall, transitions=(*wall.transitions, *joints))
        wall = mirrored_laps(wall) if inside else wall
        for option in options:
            wall = self._completed(wall, option) if option.joints or option.of_others else wall
        return self.with_scuppers(self._up_to_the_top(wall), options)

    def with_scuppers(self, wall: Parapet, options: Sequence[Option]) -> Parapet:
        """The parapet with the scuppers of some options, equal ones the same records."""
        made = tuple(one for one in options if one.of_scuppers)
        if not any(name == wall.name for one in made for name, _ in one.numbers):
            return wall
        key = (wall.name, made)
        if key not in self._scuppers:
            self._scuppers[key] = scuppers(self.offers, wall, made)
        return replace(wall, scuppers=self._scuppers[key])

    def _up_to_the_top(self, wall: Parapet) -> Parapet:
        """The base flashing as high as the parapet where the top flashing laps it; what stands is as high as it is."""
        height, top = wall.values.get("height"), wall.part("top flashing")
        membrane = wall.word("inner_face") == "roof membrane" and wall.existing is None
        if height is None or top is None or not membrane or not self.offers.rows(*TO_THE_TOP):
            return wall
        for part in wall.all_of(TO_THE_TOP[0]):
            if is_open(part, "height") and wall.between(top, part):
                wall = _changed(wall, part, with_values(part, {"height": height}, ""))
        return wall

    def _completed(self, wall: Parapet, option: Option) -> Parapet:
        """The boards of an option joined where nobody has described it, and its values of parts of other choices."""
        for pair in option.joints:
            first, second = (wall.by_id(name) for name in pair)
            if first is not None and second is not None and not wall.between(first, second):
                wall = replace(wall, transitions=(*wall.transitions, self._joint(Lap(*pair, ""), {})))
        for role, name, value in option.of_others:
            for part in wall.all_of(role):
                if is_open(part, name):
                    wall = _changed(wall, part, with_values(part, {name: value}, ""))
        return wall

    def _open(self, wall: Parapet, lap: Lap) -> bool:
        """Whether both parts of a lap are there, and nobody has described how they meet.

        A primer belongs to the barrier that is chosen with it: one that another parapet states has its own.
        """
        first, second = wall.by_id(lap.first), wall.by_id(lap.second)
        if first is None or second is None or wall.between(first, second):
            return False
        own = wall.name == self.offers.pattern.name or first.mark == TRIED
        return own or lap.second not in ("sheathing", "framing")

    def _with_given(self, parapet: Parapet) -> Parapet:
        if id(parapet) not in self._base:
            given = {
                name: value
                for (what, name), (value, _) in self.offers.given.values.items()
                if what == "parapet" and is_open(parapet, name)
            }
            base = with_values(parapet, given, "") if given else parapet
            self._base[id(parapet)] = parapet, self._repaired(base)
        return self._base[id(parapet)][1]

    def _repaired(self, parapet: Parapet) -> Parapet:
        """A standing parapet with the repairs that put in what is proposed, where none are stated."""
        if parapet.existing is None or parapet.existing.repairs:
            return parapet
        repairs = tuple(
            with_values(Record("repair", {}, {}, TRIED), {"what": what}, "") for what in self.offers.repairs
        )
        return replace(parapet, existing=replace(parapet.existing, repairs=repairs))

    def _with_part(self, wall: Parapet, part: Part) -> Parapet:
        stated = wall.by_id(part.id) or (wall.part(part.role) if part.id == part.role else None)
        waiting = undecided(wall, part.role)
        if stated is None and waiting is not None and part.id in (part.role, waiting.id):
            chosen = with_values(replace(waiting, kind=part.kind), _open_values(waiting, part), "")
            left = tuple(one for one in wall.undecided if one is not waiting)
            return self._placed(replace(wall, undecided=left), chosen)
        if stated is None:
            return self._placed(wall, self._component(part))
        values = _open_values(stated, part)
        if not values or stated.kind != part.kind:
            return wall
        return _changed(wall, stated, with_values(stated, values, ""))

    def _component(self, part: Part) -> Component:
        made = self._made.get(part)
        if made is None:
            made = self._made[part] = component(part)
        assert isinstance(made, Component)
        return made

    def _once_placed(self, wall: Parapet, part: Component) -> Parapet:
        """The parapet with a part of the roof side in its place; equal parts are the same objects."""
        key = (part.id, part.kind, tuple(sorted((name, str(value)) for name, value in part.values.items())))
        made = self._made.setdefault(key, part)
        assert isinstance(made, Component)
        return self._placed(wall, made)

    def _placed(self, wall: Parapet, part: Component) -> Parapet:
        """The parapet with a part in its place in the order of the layers: in front of the first that lies behind it."""
        top = part.role in TOP_ORDER
        parts, own = wall.top if top else wall.build_up, rank(part.role, part.id)
        at = next((place for place, one in enumerate(parts) if rank(one.role, one.id) > own), len(parts))
        return put_in(wall, part, at, top)

    def _joint(self, lap: Lap, names: Mapping[str, str]) -> Transition:
        values: dict[str, Value] = {"upper": lap.upper} if lap.upper else {}
        least = self.least(lap)
        if least is not None:
            values["lap"] = least
        if lap.tape:
            values["tape"] = names[lap.tape]
        if lap.primer:
            values["primer_kind"] = lap.primer
        if lap.sealed:
            values["sealed"] = True
        key = (lap, values.get("tape"))
        made = self._made.get(key)
        if made is None:
            made = Transition(
                "transition", values, dict.fromkeys(values, TRIED), TRIED, first=lap.first, second=lap.second
            )
            self._made[key] = made
        assert isinstance(made, Transition)
        return made

    def least(self, lap: Lap) -> Value | None:
        """The lap that has to be stated: no requirement of the sections stands for one without the top flashing."""
        if "top flashing" in (lap.first, lap.second):
            return None
        if FACING in (lap.first, lap.second):
            return self.offers.in_units(self.practice.quantity("flashing.lap_turnup"))
        lower = lap.second if lap.upper == lap.first else lap.first
        rows = self.practice.table("control_laps").where(upper=lap.upper, lower=lower)
        key = rows[0]["lap"] if rows else None
        return None if key is None else self.offers.in_units(self.practice.quantity(str(key)))


def _changed(wall: Parapet, part: Component, other: Component) -> Parapet:
    """The parapet with another component in the place of one."""
    return with_parts(wall, lambda one: other if one is part else one)


def rank(role: str, component_id: str) -> int:
    """The place of a part in the order of its list; what is not proposed stays where it stands."""
    order = TOP_ORDER if role in TOP_ORDER else BUILD_UP
    name = component_id if component_id in order else role
    return order.index(name) if name in order else -1


def _open_values(stated: Component, part: Part) -> dict[str, Value]:
    """The values of an option that a stated component leaves open."""
    return {name: value for name, value in part.values if is_open(stated, name)}


def tapes(laps: Iterable[Lap], wall: Parapet) -> dict[str, str]:
    """The id of the tape of each kind that the laps name.

    A tape of a kind that is stated keeps its id, one whose kind nobody knows yet takes the first kind that is wanted;
    else the first has the name of its role, others of their kind.
    """
    taken = {part.kind: part.id for part in wall.all_of(TAPE)}
    waiting = [part.id for part in wall.undecided if part.role == TAPE]
    others = {part.id for part in (*wall.components(), *wall.undecided)}
    for kind in dict.fromkeys(lap.tape for lap in laps if lap.tape):
        if kind not in taken:
            numbered = (f"{kind} {number}" for number in count(2))
            new = chain((kind,) if taken else (TAPE, kind), numbered)
            taken[kind] = waiting.pop(0) if waiting else next(one for one in new if one not in others)
            others.add(taken[kind])
    return taken
