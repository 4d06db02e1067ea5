"""What reviews say of the rows of a register: received when, with what recommended, and how many comments are open.

A cell that a person filled is never changed: what a review says stands where nothing stood.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from specgen.model.sheet import Cell
from specgen.register.columns import ID, ITEM, REVIEWED, ROUND, STATE, TITLES
from specgen.register.merge import Register, Row
from specgen.register.rounds import FIRST_ROUND

BY_REVIEW = "submittal "  # how the id of a row begins that no paragraph asks for by itself
_DATA = "product data"


@dataclass(frozen=True)
class Review:
    """One round of one submittal as it was reviewed."""

    number: str
    round: int
    received: date | None
    returned: date | None
    recommended: str  # the strictest of its products
    comments: int  # open
    products: tuple[str, ...]
    sections: tuple[str, ...]  # of its products

    @property
    def label(self) -> str:
        """Its round as the register names it: the one that the submittal states."""
        return str(self.round)


def with_reviews(
    register: Register, reviews: Iterable[Review], new_state: str
) -> tuple[Register, tuple[str, ...]]:
    """The register with the reviews in its rows, and what of them does not fit.

    A submittal belongs to the row that has its number, or else to the row for product data of the section of its
    products; where that row has another submittal already, it gets a row of its own.

    Args:
        register: brought up to date.
        reviews: in any order.
        new_state: of a row that is made for a submittal.
    """
    rows: dict[str, dict[str, Cell]] = {
        name: {**row, **dict.fromkeys(REVIEWED)} for name, row in register.rows.items()
    }
    lines: list[str] = []
    for one in sorted(reviews, key=lambda each: (each.number, each.round)):
        if _closed(one, register.history):
            continue
        name = _row_of(one, rows, register.history)
        row = rows.setdefault(name, _new_row(one, name, new_state))
        if _unbegun(row, register.history):
            row[ROUND] = one.label
        open_round = str(row.get(ROUND) or FIRST_ROUND)
        if open_round != one.label:
            lines.append(
                f"submittal {one.number}, round {one.round} is not entered: its row is in round {open_round}; "
                "enter the result and the date of return of the round before"
            )
            continue
        lines += _filled(row, one)
    return replace(register, rows=rows), tuple(lines)


def _filled(row: dict[str, Cell], one: Review) -> Iterable[str]:
    entries: dict[str, Cell] = {"submittal": one.number, "received": one.received, "returned": one.returned}
    for key, value in entries.items():
        shown = row.get(key)
        if shown is None:
            row[key] = value
        elif value is not None and str(shown) != str(value):
            yield (
                f"submittal {one.number}: `{TITLES[key]}` is {shown} in the register and {value} in the submittal; "
                "the register stands"
            )
    row["recommended"], row["open_comments"] = one.recommended, one.comments


def _row_of(one: Review, rows: dict[str, dict[str, Cell]], history: Sequence[Row]) -> str:
    closed = {str(row[ID]) for row in history if row.get("submittal") == one.number}
    own = [name for name, row in rows.items() if row.get("submittal") == one.number or name in closed]
    if own:
        return own[0]
    free = [
        name
        for name, row in rows.items()
        if row.get("section") in one.sections
        and str(row.get(ITEM) or "").casefold().startswith(_DATA)
        and row.get("submittal") is None
        and (_unbegun(row, history) or row.get(ROUND) == one.label)
    ]
    first = one.sections[0] if one.sections else ""
    best = [name for name in free if rows[name].get("section") == first] or free
    return best[0] if best else f"{BY_REVIEW}{one.number}"


def _unbegun(row: Row, history: Sequence[Row]) -> bool:
    """Whether nothing came in for a row yet, so that its first round is whichever the submittal states."""
    began = any(row.get(key) is not None for key in ("received", "returned", "result", "recommended"))
    before = any(closed.get(ID) == row.get(ID) for closed in history)
    return row.get(ROUND) in (None, FIRST_ROUND) and not began and not before


def _new_row(one: Review, name: str, state: str) -> dict[str, Cell]:
    section = one.sections[0] if one.sections else None
    item = ", ".join(one.products)
    return {ID: name, STATE: state, ITEM: item, "section": section, ROUND: one.label}


def _closed(one: Review, history: Sequence[Row]) -> bool:
    return any(row.get("submittal") == one.number and row.get(ROUND) == one.label for row in history)


def due_letters(register: Register) -> tuple[str, ...]:
    """What the register calls for: reviews that wait for a result, and results that wait for their return."""
    waiting: dict[str, list[str]] = {"to decide": [], "to return": []}
    for row in register.rows.values():
        number = row.get("submittal")
        if number and row.get("received") and not row.get("returned"):
            waiting["to return" if row.get("result") else "to decide"].append(str(number))
    return tuple(
        f"{what}: {', '.join(dict.fromkeys(numbers))}" + (" (specgen letters)" if what == "to return" else "")
        for what, numbers in waiting.items()
        if numbers
    )
