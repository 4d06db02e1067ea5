"""Project, calculations and practice to requirements: the strictest origin governs, and is named."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache, partial
from pathlib import Path

from specgen.model.calculation import ByParapet, Calculation, calculations_at
from specgen.model.project import Component, Project, Value
from specgen.model.requirement import (
    Comparison,
    LayerAt,
    Limit,
    Origin,
    Requirement,
    RequirementSet,
    Weighing,
)
from specgen.model.source import Source, Status
from specgen.practice.entries import Practice
from specgen.practice.nominal import paired
from specgen.requirements.catalogue_file import CatalogueEntry, load_catalogue, title_of
from specgen.requirements.judge import meets
from specgen.requirements.lookups import LOOKUPS, lap
from specgen.requirements.weigh import calculated, merged, weighing
from specgen.units.quantity import Quantity, parse, quantity, row_of
from specgen.units.show import LIMIT_ROUNDING, Rounding, read_back, show
from specgen.wall.facts import CALCULATED, CONDITIONS
from specgen.wall.memo import Memo
from specgen.wall.place import Place, parts_of, stated_for

WHEN = {**CONDITIONS, **CALCULATED}  # what an entry of the catalogue may ask of a place


@dataclass(frozen=True)
class _Candidate:
    value: Value
    origin: Origin


@dataclass(frozen=True)
class _Held:
    """What governs at one parapet, its value as it will be printed, and how it was weighed."""

    governing: _Candidate
    limit: Limit
    floor: Limit | None  # the strictest but the project's own choices
    weighed: Weighing | None


_LimitAt = tuple[LayerAt, _Held | None]


def derive(
    project: Project,
    calculations: Iterable[Calculation] | ByParapet,
    practice: Practice,
    memo: Memo | None = None,
) -> RequirementSet:
    """All requirements of a project.

    Parapets and layers with the same limit share one requirement; where they differ there is one for each limit.
    A limit is printed in the project's language of units, rounded so that it becomes no weaker, and held against
    as it was set: the language of the documents changes no verdict.

    Args:
        project: the project.
        calculations: its calculations.
        practice: the trade's values.
        memo: keeps the limits at each parapet; None: nothing is kept.
    """
    found_at = calculations_at(calculations, project)
    places = [Place(project, parapet, practice, found_at[parapet.name]) for parapet in project.parapets]
    found: dict[str, Requirement] = {}
    memo = memo or Memo(project, practice)
    entries = load_catalogue()
    at_each = [
        memo.each("limits", at.parapet.name, {entry.name: partial(limits_at, entry, at) for entry in entries})
        for at in places
    ]
    for entry in entries:
        limits = tuple(one for at in at_each for one in at[entry.name])
        for requirement in memo.followed(entry.name, limits, partial(_of_entry, entry, practice, limits)):
            found[requirement.id] = requirement
    return RequirementSet(found)


def limits_at(entry: CatalogueEntry, place: Place) -> tuple[_LimitAt, ...]:
    """Each layer of the entry's role at a parapet, with the limit that holds for it."""
    return tuple(
        (LayerAt(place.parapet.name, part.id, part.kind), _limit_of(entry, place.at(part), part))
        for part in parts_of(place.parapet, entry.role)
    )


def _limit_of(entry: CatalogueEntry, place: Place, part: Component) -> _Held | None:
    return _held(entry, place, part) if all(WHEN[name](place) for name in entry.when) else None


def _of_entry(
    entry: CatalogueEntry, practice: Practice, limits: tuple[_LimitAt, ...]
) -> tuple[Requirement, ...]:
    """The requirements of an entry: parapets and layers with the same limit share one."""
    groups: dict[object, list[tuple[LayerAt, _Held]]] = {}
    for layer, held in limits:
        if held is not None:
            groups.setdefault(_comparable(held.limit.value), []).append((layer, held))
    return tuple(_shared(entry, practice, same, limits, len(groups) == 1) for same in groups.values())


def _shared(
    entry: CatalogueEntry,
    practice: Practice,
    same: list[tuple[LayerAt, _Held]],
    limits: tuple[_LimitAt, ...],
    alone: bool,
) -> Requirement:
    """The one requirement of layers with the same limit; ``alone`` where no layer has another."""
    first, held = same[0]
    layers, spared = _layers([one for one, _ in same], [one for one, _ in limits])
    suffix = f"@{first.parapet}" + (f" {first.id}" if layers else "")
    return replace(
        _requirement(entry, practice, held),
        id=entry.name if alone else entry.name + suffix,
        everywhere=alone and len(same) == len(limits),
        parapets=tuple(dict.fromkeys(one.parapet for one, _ in same)),
        layers=layers,
        spared=spared,
        weighings=merged(held.weighed for _, held in same),
    )


def _layers(held: list[LayerAt], every: list[LayerAt]) -> tuple[tuple[LayerAt, ...], tuple[LayerAt, ...]]:
    """The layers that a requirement holds for and those it spares; none where it holds for each at its parapets."""
    parapets, ids = {one.parapet for one in held}, {(one.parapet, one.id) for one in held}
    there = [one for one in every if one.parapet in parapets]
    spared = tuple(one for one in there if (one.parapet, one.id) not in ids)
    return (tuple(one for one in there if (one.parapet, one.id) in ids), spared) if spared else ((), ())


def _comparable(value: Value) -> object:
    return (value.dimension, float(f"{value.value:.9g}")) if isinstance(value, Quantity) else value


def _held(entry: CatalogueEntry, place: Place, part: Component) -> _Held | None:
    """The limit of one layer; None where no origin gives one."""
    found = {origin: one for origin in entry.origins if (one := _candidate(origin, entry, part, place))}
    if not set(found) - {
        "stricter"
    }:  # what makes a value stricter than another is no limit where none is asked
        return None
    candidates = list(found.values())
    governing = _governing(candidates, entry)
    others = [one for one in candidates if one.origin.kind != "choice"]
    codes = [one.value for one in others if one.origin.source.rests_on_code]
    floor: Limit | None
    limit = floor = _limit(governing, codes, entry, place.project)
    least = _governing(others, entry) if others else None
    if least is not governing:
        floor = _limit(least, codes, entry, place.project) if least else None
    weighed = weighing(entry, place, tuple((one.value, one.origin) for one in candidates), governing.origin)
    return _Held(governing, limit, floor, weighed)


def _requirement(entry: CatalogueEntry, practice: Practice, held: _Held) -> Requirement:
    role = practice.vocabulary.roles[entry.role]
    field = role.fields.get(entry.attribute)
    return Requirement(
        id=entry.name,
        name=entry.name,
        role=entry.role,
        attribute=entry.attribute,
        title=title_of(entry, practice),
        limit=held.limit,
        method=(entry.method or field.method) if field and entry.stage == "product" else "",
        condition=field.at if field else "",
        reason=entry.reason,
        stage=entry.stage,
        evidence=entry.evidence,
        section=role.section,
        parapets=(),
        everywhere=False,
        origin=held.governing.origin,
        because=entry.because,
        floor=held.floor,
        identity=entry.identity,
        measured_before=entry.measured_before,
    )


def _governing(candidates: list[_Candidate], entry: CatalogueEntry) -> _Candidate:
    """The strictest, unless the entry lets a calculation govern in place of a rule."""
    if entry.calculation_governs and any(one.origin.kind == "calculation" for one in candidates):
        candidates = [one for one in candidates if one.origin.kind != "practice"]
    return _strictest(candidates, entry.comparison)


def _strictest(candidates: list[_Candidate], comparison: str) -> _Candidate:
    """The first of the strictest: an origin named earlier wins a tie. A choice among words narrows them."""
    if comparison == "one of":
        allowed = candidates[0].value
        chosen = [one for one in candidates[1:] if isinstance(allowed, tuple) and _within(one.value, allowed)]
        return (chosen or candidates)[0]
    if not isinstance(candidates[0].value, Quantity):
        return candidates[0]
    sizes = [one.value.exact for one in candidates if isinstance(one.value, Quantity)]
    pick = min(sizes) if comparison == "at most" else max(sizes)
    return candidates[sizes.index(pick)]


def _within(chosen: Value, allowed: tuple[str, ...]) -> bool:
    """Whether a choice leaves less than what is allowed, and nothing else."""
    return isinstance(chosen, tuple) and set(chosen) < set(allowed)


def _candidate(origin: str, entry: CatalogueEntry, part: Component, place: Place) -> _Candidate | None:
    word, _, rest = origin.partition(" ")
    match word:
        case "choice" | "stricter":
            return _choice(rest or entry.attribute, entry.comparison, part, place)
        case "fact":
            return _choice(rest, entry.comparison, part, place)
        case "practice":
            known = place.practice.entry(rest)
            if known.value is None and entry.comparison in ("at least", "at most"):
                return None  # the model code states none; an amendment of a place may
            value = True if known.value is None else known.value
            return _Candidate(value, Origin("practice", rest, known.source))
        case "lookup":
            return _looked_up(rest, place)
        case "calculation":
            return _calculated(rest, entry, place)
        case _:
            return _lap(entry.role, rest, place)


def _choice(name: str, comparison: str, part: Component, place: Place) -> _Candidate | None:
    """What the project states exactly: a bound or a range of a product chooses nothing.

    Of several places that stand for a part, what holds at each of them.
    """
    places = stated_for(place.parapet, part)
    stated = [one for one in places if name == "kind" or (name in one.values and name not in one.specified)]
    values: list[Value] = [part.kind if name == "kind" else one.values[name] for one in stated]
    if not values:
        return None
    # A count is held against limits as a quantity, like every other number.
    values = [quantity(one, "") if type(one) is int else one for one in values]
    pick = 0
    if comparison == "one of":
        words = tuple(dict.fromkeys(str(one) for one in values))
        return _Candidate(words, _chosen(str(stated[0].at(name)), place))
    if comparison in ("at least", "at most"):
        sizes = [one.exact for one in values if isinstance(one, Quantity)]
        pick = sizes.index(min(sizes) if comparison == "at least" else max(sizes))
    elif any(one != values[0] for one in values):
        return None
    return _Candidate(values[pick], _chosen(str(stated[pick].at(name)), place))


def _chosen(where: str, place: Place) -> Origin:
    file = Path(place.project.path).name
    place_in_file = where.rsplit(":", 2)
    # A value that is only tried has no place in a file.
    document = f"{file} line {place_in_file[1]}" if len(place_in_file) == 3 else where
    return Origin("choice", where, Source(document, "", "", Status.CHOICE))


def _lap(upper: str, role: str, place: Place) -> _Candidate | None:
    found = lap(place, upper, role)
    return None if found is None else _Candidate(found[0], _chosen(found[1], place))


def _looked_up(name: str, place: Place) -> _Candidate | None:
    found = LOOKUPS[name](place)
    if found is None:
        return None
    return _Candidate(found[0], Origin("practice", found[1], place.practice.source(found[1])))


def _calculated(rest: str, entry: CatalogueEntry, place: Place) -> _Candidate | None:
    """What a calculation asks for, rounded in either language of units, the project's first: those two are one limit."""
    subject, name = rest.rsplit(".", 1)
    calculation = place.calculations.get(subject)
    if calculation is None or not calculation.done:
        return None
    value = calculation.results[name].value
    if isinstance(value, str):  # a calculation may say in words that it sets no limit
        return None
    own = place.project.info.word("units") == "SI"
    systems = ("SI", "inch-pound") if own else ("inch-pound", "SI")
    value, beside = (_rounded(value, entry, system) for system in systems)
    if row_of(value) != row_of(beside):
        value = replace(value, nominal=(beside,))
    return _Candidate(value, Origin("calculation", rest, calculated(calculation, rest)))


def _limit(governing: _Candidate, codes: list[Value], entry: CatalogueEntry, project: Project) -> Limit:
    """The limit as it was set, and as it will be printed: never weaker, but for a nominal value of the trade.

    Of the nominal values those count that keep what the code asks for. A calculated limit has no other than what it is
    rounded to in the other language of units.
    """
    value = governing.value
    if not isinstance(value, Quantity):
        return Limit(entry.comparison, value)
    system = "SI" if project.info.word("units") == "SI" else "inch-pound"
    rounded = governing.origin.kind == "calculation"
    typed = tuple(
        one.typed for each in (value, *codes) if isinstance(each, Quantity) for one in (each, *each.nominal)
    )
    return _printed(value, entry.comparison, system, rounded, tuple(codes), typed)


@lru_cache(maxsize=4096)  # the same practice values are asked for of every layer of every wall
def _printed(
    value: Quantity,
    comparison: Comparison,
    system: str,
    rounded: bool,
    codes: tuple[Value, ...],
    typed: tuple[Fraction | None, ...],  # tells quantities apart that compare as one
) -> Limit:
    trade = () if rounded else paired(value).nominal
    twins = dict.fromkeys((*value.nominal, *trade))
    kept = tuple(one for one in twins if all(meets(one, comparison, code) for code in codes))
    if kept != value.nominal:
        value = replace(value, nominal=kept)
    printed = read_back(show(value, system, _strict(comparison)), {value.dimension})
    own = row_of(value).system in (system, "either")
    if kept or not own:
        printed = replace(printed, nominal=kept if own else (replace(value, nominal=()),))
    return Limit(comparison, printed, value)


def _strict(comparison: str) -> Rounding:
    return LIMIT_ROUNDING.get(comparison, "up")


def _rounded(value: Quantity, entry: CatalogueEntry, system: str) -> Quantity:
    """A calculated limit as it will be printed: in the entry's step, rounded toward the strict side, and read back."""
    if not entry.step:
        return read_back(show(value, system, _strict(entry.comparison)), {value.dimension})
    step = parse(entry.step[system])
    count = value.exact / step.exact
    whole = math.floor(count) if _strict(entry.comparison) == "down" else math.ceil(count)
    return quantity(float(whole * Fraction(f"{step.number:.12g}")), step.unit)
