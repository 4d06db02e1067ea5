"""Where the control layers pass the parapet, as choices: over its top, or across at the level of the roof."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import TYPE_CHECKING

from specgen.model.project import Component, Parapet, Value
from specgen.practice.entries import Row
from specgen.propose.choices import (
    ACROSS,
    AIR,
    CARRIER,
    FRAMED,
    HEAT,
    LATH,
    MEMBRANES,
    OVER,
    PATHS,
    ROOF_SIDE_INSULATION,
    Choice,
    Option,
    Part,
    is_open,
    text,
)
from specgen.wall.order import outer_side, roof_side

if TYPE_CHECKING:
    from specgen.propose.offers import Offers

LAYERS = ("air_path", "vapor_path")
SEAL, INSULATION, TOP_INSULATION = "base seal", "insulation", "top insulation"
NO_SEAL = "no seal to meet"
SEALED = ("roof turn-up", "barrier")  # what laps the seal


def air_path(offers: Offers) -> Choice | None:
    """Where air and vapor pass; across, with the seal that carries them and its laps."""
    here = offers.pattern
    open_ = [name for name in LAYERS if is_open(here, name)]
    stated = {str(here.values[name]) for name in LAYERS if here.has(name)}
    if (not open_ and ACROSS not in stated) or here.part(SEAL) is not None:
        return None
    options: list[Option] = []
    for row in offers.rows("parapet", "air_path"):
        route = str(row["word"])
        values: tuple[tuple[str, Value], ...] = tuple((name, route) for name in open_)
        if route not in (stated or {route}):
            continue  # what is open follows what is stated
        if route == OVER and ACROSS not in stated:
            options.append(Option(route, str(row["because"]), values=values))
        if route == ACROSS:
            options += _with_seal(offers, values, str(row["because"]))
    return Choice(AIR, MEMBRANES, tuple(options), offers.source)


def _with_seal(offers: Offers, values: tuple[tuple[str, Value], ...], because: str) -> Iterator[Option]:
    for row in offers.parts(SEAL):
        kind, family = str(row["kind"]), str(row["family"] or "")
        part = Part(SEAL, SEAL, kind, (("family", family),) if family else ())
        label = f"{ACROSS}, {', '.join(filter(None, (kind, family)))}"
        yield Option(label, f"{because}; {row['because']}", (part,), values=values)


def heat_path(offers: Offers) -> Choice | None:
    """Where heat is held, and what holds it; nothing is chosen where what is stated carries the insulation already."""
    here, framing = offers.pattern, offers.pattern.part("framing")
    open_ = is_open(here, "heat_path")
    stated = None if open_ else here.word("heat_path")
    carried = len(_of_boards(here)) == len(_boards(here)) and _carriers(offers) == (None,)
    if framing is None or (offers.across and stated != OVER) or (carried and stated == OVER):
        return None
    options: list[Option] = []
    for row in offers.rows("parapet", "heat_path"):
        route, because = str(row["word"]), str(row["because"])
        if route not in (stated or route):
            continue
        values: tuple[tuple[str, Value], ...] = (("heat_path", route),) if open_ else ()
        if route == OVER:
            options += _over_the_top(offers, values, because)
            continue
        if here.existing is None and is_open(here, "thermal_break"):
            for one in offers.rows("parapet", "thermal_break"):
                height = offers.value("parapet", str(one["word"]), "thermal_break")
                label = f"{route}, thermal break of {text(height)}"
                why = f"{because}; {one['because']}"
                options.append(Option(label, why, values=(*values, ("thermal_break", height))))
        if offers.backing in FRAMED and is_open(framing, "cavity"):
            for one in offers.rows("framing", "cavity"):
                part = Part("framing", framing.id, framing.kind, (("cavity", str(one["word"])),))
                label = f"{route}, studs filled with {one['word']}"
                options.append(Option(label, f"{because}; {one['because']}", (part,), values=values))
    return Choice(HEAT, PATHS, tuple(options), offers.source) if options else None


def _over_the_top(offers: Offers, values: tuple[tuple[str, Value], ...], because: str) -> Iterator[Option]:
    """One kind of board on both faces and over the top, where it is offered for that; with what carries the lath.

    Where some of the boards are stated, the others are of the same kind, if that is offered.
    """
    tops = {str(row["kind"]) for row in offers.parts(TOP_INSULATION)}
    outer, inner, top = names = _boards(offers.pattern)
    kinds = {part.kind for part in _of_boards(offers.pattern)}
    every = [row for row in offers.parts(INSULATION) if row["kind"] in tops]
    rows = [row for row in every if row["kind"] in kinds] or every
    for row, carrier in product(rows, _carriers(offers)):
        kind = str(row["kind"])
        parts = [
            Part(role, name, kind, tuple(offers.stated(role, kind)))
            for role, name in zip((INSULATION, INSULATION, TOP_INSULATION), names, strict=True)
            if offers.pattern.by_id(name) is None
        ]
        word = str(carrier["word"]) if carrier else ""
        why = "; ".join(str(one["because"]) for one in (row, carrier) if one)
        yield Option(
            ", ".join(filter(None, (OVER, kind, word and f"lath on {word}"))),
            f"{because}; {why}",
            tuple(parts),
            values=values,
            joints=((outer, top), (inner, top)),
            of_others=((LATH, CARRIER, word),) if word else (),
        )


def _boards(parapet: Parapet) -> tuple[str, str, str]:
    """The ids of the boards of the outer face, of the roof side and of the top: as stated, else as proposed."""
    sides = outer_side(parapet, INSULATION), roof_side(parapet, INSULATION), parapet.all_of(TOP_INSULATION)
    names = INSULATION, ROOF_SIDE_INSULATION, TOP_INSULATION
    outer, inner, top = (side[0].id if side else name for side, name in zip(sides, names, strict=True))
    return outer, inner, top


def _of_boards(parapet: Parapet) -> tuple[Component, ...]:
    """The boards that are stated."""
    return tuple(part for name in _boards(parapet) if (part := parapet.by_id(name)) is not None)


def _carriers(offers: Offers) -> tuple[Row | None, ...]:
    """What may carry the lath over the insulation; nothing is chosen where it is stated, or no lath is there."""
    here = offers.pattern
    laths, gone = here.all_of(LATH), any(part.role == LATH for part in here.absent)
    if gone or (laths and not any(is_open(part, CARRIER) for part in laths)):
        return (None,)
    return tuple(offers.rows(LATH, CARRIER)) or (None,)
