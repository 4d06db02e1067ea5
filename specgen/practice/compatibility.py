"""May two material families meet? A pair nobody listed is for the manufacturers to confirm, never fine."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from specgen.model.source import Source, Status
from specgen.practice.entries import Practice, PracticeError, PracticeTable, Row

Adjacency = Literal["contact", "runoff", "solvent", "heat"]
ANSWERS = ("allowed", "with separation", "not allowed", "confirm")


@dataclass(frozen=True)
class Judgement:
    """What is known of a pair: ``allowed``, ``with separation``, ``not allowed`` or ``confirm``, and why.

    Where manufacturers' letters changed the answer, ``listed`` keeps the answer of the table and ``letters`` says who
    wrote and when: a lifted "not allowed" is still told.
    """

    answer: str
    mechanism: str
    source: Source
    adjacency: Adjacency = "contact"
    listed: str = ""
    letters: str = ""

    @property
    def text(self) -> str:
        """The answer and its ground in one phrase."""
        if self.letters:
            return f"{self.answer}, {self.letters} (the table says {self.listed}: {self.mechanism})"
        return f"{self.answer}: {self.mechanism}"


@dataclass(frozen=True)
class Letter:
    """A manufacturer's word on two families; ``makes`` is the one its writer makes. No date: stated with a component."""

    one: str
    other: str
    makes: str
    allows: bool
    date: str
    maker: str = ""

    def covers(self, one: str, other: str) -> bool:
        """Whether the letter is about this pair, in either order."""
        return {self.one, self.other} == {one, other}

    @property
    def text(self) -> str:
        """Whose letter, of what date."""
        who = (
            f"{self.maker}, manufacturer of the {self.makes}"
            if self.maker
            else f"the manufacturer of the {self.makes}"
        )
        return f"{who} dated {self.date}" if self.date else f"{who}, stated with the component"


def may_touch(
    practice: Practice,
    one: str,
    other: str,
    letters: Iterable[Letter] = (),
    adjacency: Adjacency = "contact",
) -> Judgement:
    """What is known of two material families that meet.

    Args:
        practice: holds the table of pairs.
        one: a family; for runoff the one that stands above, for solvent and heat either of the two.
        other: the family it meets.
        letters: manufacturers' letters. One that allows lifts a "confirm"; a "not allowed" needs letters of both
            manufacturers; one that forbids makes any answer "not allowed".
        adjacency: how they meet. Only for runoff does the order count.

    Returns:
        The judgement with the source of its row. An unlisted pair: "confirm".
    """
    table = practice.table("compatibility")
    listed = _listed(table, one, other, adjacency)
    return _with_letters(listed, [letter for letter in letters if letter.covers(one, other)], {one, other})


def _listed(table: PracticeTable, one: str, other: str, adjacency: Adjacency) -> Judgement:
    orders = ((one, other),) if adjacency == "runoff" else ((one, other), (other, one))
    for first, second in orders:
        for row in table.where(adjacency=adjacency, one=first, other=second):
            return _of_row(row, table, adjacency)
    unlisted = f"no published judgment on {one} and {other}: ask both manufacturers in writing"
    return Judgement("confirm", unlisted, table.source, adjacency)


def _of_row(row: Row, table: PracticeTable, adjacency: Adjacency) -> Judgement:
    answer = str(row["judgement"])
    if answer not in ANSWERS:
        raise PracticeError(f"table {table.key!r}: judgement {answer!r} is not one of {ANSWERS}")
    source = table.source
    if row["document"]:
        source = Source(str(row["document"]), "", str(row["place"] or ""), Status(row["status"]))
    return Judgement(answer, str(row["mechanism"]), source, adjacency)


def _with_letters(listed: Judgement, letters: list[Letter], pair: set[str]) -> Judgement:
    refusing = [letter for letter in letters if not letter.allows]
    if refusing:
        return _changed(listed, "not allowed", "refused by letter of", refusing)
    makers = {letter.makes for letter in letters}
    if listed.answer == "confirm" and makers:
        return _changed(listed, "allowed", "confirmed by letter of", letters)
    if listed.answer in ("not allowed", "with separation") and makers == pair:
        return _changed(listed, "allowed", "lifted by letters of both manufacturers:", letters)
    return listed


def _changed(listed: Judgement, answer: str, words: str, letters: list[Letter]) -> Judgement:
    who = " and ".join(letter.text for letter in letters)
    return replace(listed, answer=answer, listed=listed.answer, letters=f"{words} {who}")
