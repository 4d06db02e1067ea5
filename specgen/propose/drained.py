"""Scuppers as choices: how many and how large, the overflows beside them, where they empty, what their sleeves are of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise, product
from typing import TYPE_CHECKING

from specgen.model.project import Parapet, Record, Value
from specgen.propose.choices import DRAINS, OVERFLOW, PARTS, PRIMARY, SCUPPER, Choice, Option
from specgen.units.compare import whole_steps
from specgen.units.quantity import Quantity, quantity, to_unit
from specgen.wall.change import TRIED
from specgen.wall.plausible import doubt

if TYPE_CHECKING:
    from specgen.propose.offers import Offers

SCUPPERS, OVERFLOWS = "scuppers", "overflow scuppers"
OUTLET, SLEEVE = "outlet of the scuppers", "sleeve of the scuppers"
FLANGED = ("flange_inside", "flange_outside", "stripped_inside", "stripped_outside")
INLET, BESIDE = "scupper.overflow_inlet", "scupper.beside"
_LETTERS = {PRIMARY: "S", OVERFLOW: "O"}  # that names begin with
_STEP = {"ft": 0.5, "m": 0.1}  # of places along the parapet
Size = tuple[Quantity, Quantity]  # width and height
Numbers = tuple[tuple[str, int], ...]


def draining(offers: Offers) -> tuple[Parapet, ...]:
    """The parapets through which some of the roof drains, and whose scuppers the facts leave open."""
    return tuple(
        one
        for one in offers.project.parapets
        if (area := one.quantity("drained_area")) is not None
        and area.exact > 0
        and not one.scuppers
        and _expected(offers, area, 1)
    )


def drains(offers: Offers) -> Iterator[Choice]:
    """The choices of the scuppers; one size for all parapets, as one shop makes them.

    The sleeve, which touches what others choose, comes first: the rest then stands apart from all other choices.
    """
    parapets = draining(offers)
    if not parapets:
        return
    primary = tuple(
        Option(
            f"{_counted(numbers)} of {_by(size)}",
            f"{because}; the smallest opening that the design rainfall passes below its upper edge",
            numbers=numbers,
            of_scuppers=_sized(PRIMARY, size),
        )
        for numbers, because in _numbers(offers, parapets)
        for size in _sizes(offers)
    )
    inlet = offers.in_units(offers.practice.quantity(INLET))
    overflow = tuple(
        Option(
            f"one beside each, {_by(size)}, its inlet {inlet.text} above the low point of the roof",
            "it runs where people see it, before the water reaches the upper edge of the base flashing",
            of_scuppers=(
                *_sized(OVERFLOW, size),
                (OVERFLOW, "inlet_height", inlet),
                (OVERFLOW, "outlet", "open air"),
            ),
        )
        for size in _sizes(offers)
    )
    yield Choice(SLEEVE, DRAINS, tuple(_sleeves(offers)), offers.practice.table(PARTS).source)
    yield Choice(SCUPPERS, DRAINS, primary, offers.source)
    yield Choice(OVERFLOWS, DRAINS, overflow, offers.source)
    yield Choice(OUTLET, DRAINS, tuple(_outlets(offers)), offers.source)


def _numbers(offers: Offers, parapets: Sequence[Parapet]) -> Iterator[tuple[Numbers, str]]:
    """How many scuppers each parapet has, with the reason; each once."""
    seen: set[Numbers] = set()
    for row in offers.rows(SCUPPER, "area_served"):
        most = offers.value(SCUPPER, str(row["word"]), "area_served")
        assert isinstance(most, Quantity)
        areas = {one.name: one.quantity("drained_area") for one in parapets}
        numbers = tuple(
            (name, max(1, whole_steps(float(area.exact / most.exact))))
            for name, area in areas.items()
            if area
        )
        expected = all(
            _expected(offers, area, number)
            for (_, number), area in zip(numbers, areas.values(), strict=True)
            if area
        )
        if numbers not in seen and (expected or not seen):
            seen.add(numbers)
            yield numbers, str(row["because"])


def _expected(offers: Offers, area: Quantity, number: int) -> bool:
    """Whether one scupper is expected to serve its share of an area."""
    record = Record(SCUPPER, {}, {}, TRIED)
    return not any(
        doubt(offers.practice, record, "area_served", share) for share in dict.fromkeys(_shares(area, number))
    )


def _sizes(offers: Offers) -> list[Size]:
    """The openings that are offered, the smallest first; of equal ones the lower."""
    every = [
        (wide, high)
        for one, other in product(offers.rows(SCUPPER, "width"), offers.rows(SCUPPER, "height"))
        if isinstance(wide := offers.value(SCUPPER, str(one["word"]), "width"), Quantity)
        and isinstance(high := offers.value(SCUPPER, str(other["word"]), "height"), Quantity)
    ]
    return sorted(every, key=lambda size: (size[0].exact * size[1].exact, size[1].exact))


def _outlets(offers: Offers) -> Iterator[Option]:
    for row in offers.rows(SCUPPER, "outlet"):
        outlet, because = str(row["word"]), str(row["because"])
        empties: tuple[tuple[str, str, Value], ...] = ((PRIMARY, "outlet", outlet),)
        if outlet != "conductor head":
            yield Option(outlet, because, of_scuppers=empties)
            continue
        for one in offers.rows(SCUPPER, "head_overflow"):
            opening = str(one["word"]) == "yes"
            label = f"{outlet} {'with' if opening else 'without'} an overflow opening"
            why = f"{because}; {one['because']}"
            yield Option(label, why, of_scuppers=(*empties, (PRIMARY, "head_overflow", opening)))


def _sleeves(offers: Offers) -> Iterator[Option]:
    for row in offers.practice.table(PARTS).where(role=SCUPPER):
        because = str(row["because"])
        refused = "" if row["offered"] == "yes" else because
        family = str(row["family"])
        why = f"{because}; flanged and stripped in on both sides"
        yield Option(family, why, refused=refused, of_scuppers=(("", "sleeve_family", family),))


def _sized(use: str, size: Size) -> tuple[tuple[str, str, Value], ...]:
    return (use, "width", size[0]), (use, "height", size[1])


def _by(size: Size) -> str:
    return f"{size[0].text} by {size[1].text}"


def _counted(numbers: Numbers) -> str:
    if len(numbers) == 1:
        return str(numbers[0][1])
    return ", ".join(f"{number} at {name}" for name, number in numbers)


def scuppers(offers: Offers, parapet: Parapet, options: Sequence[Option]) -> tuple[Record, ...]:
    """The scuppers that options put into a parapet, each overflow behind the scupper that it backs up."""
    number = next((count for option in options for name, count in option.numbers if name == parapet.name), 0)
    area = parapet.quantity("drained_area")
    if not number or area is None or parapet.scuppers:
        return parapet.scuppers
    values: dict[str, dict[str, Value]] = {PRIMARY: {}, OVERFLOW: {}}
    for use, name, value in (one for option in options for one in option.of_scuppers):
        for mine in (use,) if use else values:
            values[mine][name] = value
    if "width" not in values[OVERFLOW]:
        del values[OVERFLOW]
    flanged = {
        name: offers.value(SCUPPER, str(offers.rows(SCUPPER, name)[0]["word"]), name) for name in FLANGED
    }
    widths = tuple(one for made in values.values() if isinstance(one := made.get("width"), Quantity))
    at = positions(offers, parapet, number, widths)
    found = []
    for place, share in enumerate(_shares(area, number)):
        for turn, (use, made) in enumerate(values.items()):
            every: dict[str, Value] = {"name": f"{_LETTERS[use]}-{place + 1}", "use": use, **made, **flanged}
            every["area_served"] = share
            if at:
                every["position"] = at[place][turn]
            found.append(_record(offers, every))
    return tuple(found)


def _record(offers: Offers, values: dict[str, Value]) -> Record:
    """A scupper, its values in the order of the vocabulary; a place that is not expected is left out."""
    order = list(offers.practice.vocabulary.records[SCUPPER].fields)
    kept = {name: values[name] for name in order if name in values}
    record = Record(SCUPPER, kept, dict.fromkeys(kept, TRIED), TRIED)
    if "position" in kept and doubt(offers.practice, record, "position", kept["position"]):
        del kept["position"]
    return Record(SCUPPER, kept, dict.fromkeys(kept, TRIED), TRIED)


def _shares(area: Quantity, number: int) -> list[Quantity]:
    """An area in so many parts, whole in its unit where that may be, that add up to it."""
    one = float(int(area.number / number)) or area.number / number
    last = float(f"{area.number - one * (number - 1):.9g}")
    return [quantity(part, area.unit) for part in (*(one for _ in range(number - 1)), last)]


def positions(
    offers: Offers, parapet: Parapet, number: int, widths: Sequence[Quantity]
) -> list[tuple[Quantity, ...]]:
    """The middle of each scupper and of what stands beside it, in as many bays of one length.

    A pair stands in the middle of its bay, or beside it where a corner, a step or a joint is near.

    Returns:
        One entry a bay; none where the length is not known, or a bay is too short for a pair.
    """
    length = parapet.quantity("length")
    if length is None or not widths:
        return []
    unit = "m" if offers.project.system == "SI" else "ft"
    clear = to_unit(offers.in_units(offers.practice.quantity(BESIDE)), unit)
    wide = [to_unit(one, unit) for one in widths]
    bay = to_unit(length, unit) / number
    ways = [0.0]  # of each from the first
    for one, other in pairwise(wide):
        ways.append(ways[-1] + whole_steps((one / 2 + clear + other / 2) / _STEP[unit]) * _STEP[unit])
    span = wide[0] / 2 + ways[-1] + wide[-1] / 2
    taken = [to_unit(at, unit) for one in parapet.along if (at := one.quantity("position")) is not None]
    found = []
    for place in range(number):
        first = _free(bay * place, bay, span, clear, taken, _STEP[unit])
        if first is None:
            return []
        found.append(tuple(_at(first + wide[0] / 2 + way, unit) for way in ways))
    return found


def _free(
    start: float, bay: float, span: float, clear: float, taken: list[float], step: float
) -> float | None:
    """Where a pair begins in its bay: the middle, or the nearest place clear of what stands there; None without room."""
    room = bay - span
    if room < 2 * step:
        return None
    middle = start + room / 2
    ways = (sign * step * turn for turn in range(int(room / 2 / step)) for sign in (1, -1))
    for way in ways:
        begins = middle + way
        if not any(begins - clear < one < begins + span + clear for one in taken):
            return begins
    return middle


def _at(place: float, unit: str) -> Quantity:
    step = _STEP[unit]
    return quantity(float(f"{round(place / step) * step:.9g}"), unit)
