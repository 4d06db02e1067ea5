"""Two copies of a register merged cell by cell and round by round: what stays, what is conflict, and in which order."""

from __future__ import annotations

from typing import Any

import pytest

from specgen.model.sheet import Cell
from specgen.register.columns import COLUMNS, ID, ITEM, OF_A_ROUND, REMARKS, ROUND, STATE
from specgen.register.merge import BETWEEN, Conflict, Register, Row, merge, unused


def row(name: str = "p", **cells: Cell) -> Row:
    return {ID: name, STATE: "open", ITEM: f"item {name}", **cells}


def register(*rows: Row, closed: tuple[Row, ...] = (), **more: Any) -> Register:
    return Register({str(one[ID]): one for one in rows}, closed, **more)


def only(merged: Register, name: str = "p") -> dict[str, Cell]:
    """The filled cells of a row."""
    kept = merged.rows[name]
    return {key: value for key, value in kept.items() if value is not None and key not in (ID, STATE, ITEM)}


@pytest.mark.parametrize(
    ("was", "mine", "theirs", "kept", "conflict"),
    [
        (None, None, None, None, False),
        ("a", "a", "a", "a", False),
        ("a", "b", "a", "b", False),
        ("a", "a", "b", "b", False),
        ("a", "b", "b", "b", False),
        (None, "a", None, "a", False),
        (None, None, "a", "a", False),
        ("a", None, "a", None, False),
        ("a", "a", None, None, False),
        ("", None, "a", "a", False),
        (None, "", "a", "a", False),
        ("a", "a", "", None, False),
        ("a", "b", "c", "b", True),
        (None, "b", "c", "b", True),
        ("a", None, "c", None, True),
        ("a", "b", None, "b", True),
    ],
)
@pytest.mark.parametrize("column", ["by", "agreed", ROUND])
def test_one_cell(column: str, was: Cell, mine: Cell, theirs: Cell, kept: Cell, conflict: bool) -> None:
    if column == ROUND and not (was and mine and theirs):
        return  # a round always has a name
    merged = merge(*(register(row(**{ROUND: "1", column: one})) for one in (was, mine, theirs)))
    assert merged.rows["p"][column] == kept
    titles = {one.key: one.title for one in COLUMNS}
    expected = Conflict("p", titles[column], was, kept, theirs)
    assert merged.conflicts == ((expected,) if conflict else ())
    assert merged.history == ()


def test_a_column_that_a_copy_lacks_is_unchanged_in_it() -> None:
    was, full = register(row(by="a", agreed="d")), register(row(by="b", agreed="e"))
    for mine, theirs in ((register(row()), full), (full, register(row()))):
        merged = merge(was, mine, theirs)
        assert only(merged) == {ROUND: "1", "by": "b", "agreed": "e"} and merged.conflicts == ()


@pytest.mark.parametrize(
    ("was", "mine", "theirs", "kept", "conflict"),
    [
        (None, "mine", "theirs", f"mine{BETWEEN}theirs", 0),
        ("was", "mine", "theirs", f"mine{BETWEEN}theirs", 0),
        (None, f"a{BETWEEN}b", f"b{BETWEEN}c", f"a{BETWEEN}b{BETWEEN}c", 0),
        ("was", None, "theirs", None, 1),
        ("was", "mine", None, "mine", 1),
        (None, 7, "theirs", f"7{BETWEEN}theirs", 0),
    ],
)
def test_remarks_stand_side_by_side(was: Cell, mine: Cell, theirs: Cell, kept: Cell, conflict: int) -> None:
    merged = merge(*(register(row(remarks=one)) for one in (was, mine, theirs)))
    assert (merged.rows["p"][REMARKS], len(merged.conflicts)) == (kept, conflict)


def test_a_row_that_one_copy_has_is_kept() -> None:
    a, b, c = row("a", by="x"), row("b", by="y"), row("c", by="z")
    merged = merge(register(c), register(a), register(b))
    assert list(merged.rows) == ["a", "b", "c"]
    assert [merged.rows[name]["by"] for name in "abc"] == ["x", "y", "z"] and merged.conflicts == ()
    assert {merged.rows[name][STATE] for name in "abc"} == {"open"}
    assert [merged.rows[name][ID] for name in "abc"] == ["a", "b", "c"]
    assert [merged.rows[name][ITEM] for name in "abc"] == ["item a", "item b", "item c"]


def test_the_computed_cells_and_earlier_conflicts_are_of_the_copy_that_stays() -> None:
    before, made = Conflict("q", "Remarks", None, "a", "b"), {"p": row()}
    mine = register(row(by="m", state="ours", item="i"), conflicts=(before,), made=made)
    theirs = register(
        row(by="t", state="theirs", item="i"), conflicts=(Conflict("r", "x", 1, 2, 3),), made={}
    )
    merged = merge(register(row(item="i")), mine, theirs)
    assert merged.made is made
    assert merged.conflicts == (before, Conflict("p", "Reviewed by", None, "m", "t"))
    assert merged.rows["p"][STATE] == "ours"


def test_a_column_of_a_persons_own_is_of_the_first_copy_that_has_the_row() -> None:
    merged = merge(register(row(own="b")), register(row(own="m")), register(row(own="t")))
    assert merged.rows["p"]["own"] == "m"
    assert merge(register(row(own="b")), register(), register(row(own="t"))).rows["p"]["own"] == "t"


def test_a_row_that_both_deleted_stays_as_it_was() -> None:
    base = register(row(by="z", remarks="r", round="2"), closed=(closed("1"),))
    merged = merge(base, register(closed=base.history), register(closed=base.history))
    assert only(merged) == {"by": "z", "remarks": "r", ROUND: "2"} and merged.conflicts == ()


def test_an_empty_register_has_nothing() -> None:
    assert (Register().rows, Register().made, Register().history, Register().conflicts) == ({}, {}, (), ())
    assert BETWEEN == " // ", "two remarks of old copies are parted by it"


# Rounds


def closed(label: str, name: str = "p", **cells: Cell) -> Row:
    return {ID: name, ROUND: label, ITEM: f"item {name}", **cells}


def rounds(merged: Register) -> list[tuple[Cell, Cell, Cell]]:
    return [(one[ID], one[ROUND], one["by"]) for one in merged.history]


@pytest.mark.parametrize("turned", [False, True])
def test_what_is_filled_into_a_round_that_the_other_copy_has_closed_goes_to_that_round(turned: bool) -> None:
    base = register(row(round="1"))
    ours = register(row(round="2"), closed=(closed("1", result="rejected"),))
    older = register(row(round="1", by="A. B.", remarks="late", agreed="d"))
    merged = merge(base, *((older, ours) if turned else (ours, older)))
    assert only(merged) == {ROUND: "2", "remarks": "late", "agreed": "d"}
    (first,) = merged.history
    assert first == {**dict.fromkeys(OF_A_ROUND), **closed("1", by="A. B.", result="rejected")}
    assert merged.conflicts == ()


def test_a_difference_in_a_closed_round_names_the_round() -> None:
    base = register(row(round="1"))
    ours = register(row(round="2"), closed=(closed("1", by="A. B."),))
    merged = merge(base, ours, register(row(round="1", by="C. D.")))
    assert merged.conflicts == (Conflict("p", "Reviewed by, 1", None, "A. B.", "C. D."),)
    assert rounds(merged) == [("p", "1", "A. B.")]


def test_a_closed_round_that_one_copy_has_is_kept_in_its_place() -> None:
    first, second, third = closed("1", by="a"), closed("2", by="b"), closed("1", "q", by="c")
    mine = register(row(round="3"), row("q", round="2"), closed=(first, third, second))
    merged = merge(register(), mine, register(row(round="1"), row("q", round="1")))
    assert rounds(merged) == [("p", "1", "a"), ("q", "1", "c"), ("p", "2", "b")]
    theirs = register(row(round="3"), closed=(second, first))
    merged = merge(register(), register(row(round="1")), theirs)
    assert rounds(merged) == [("p", "2", "b"), ("p", "1", "a")]
    gone = merge(register(closed=(first,)), register(row(round="2")), register(row(round="2")))
    assert rounds(gone) == [("p", "1", "a")] and only(gone) == {ROUND: "2"}
    both = merge(
        register(closed=(first,)), register(row(), closed=(second,)), register(row(), closed=(third,))
    )
    assert sorted(map(str, rounds(both))) == sorted(
        map(str, [("p", "1", "a"), ("p", "2", "b"), ("q", "1", "c")])
    )
    assert rounds(both)[-1] == ("p", "1", "a"), "what only the base has stands behind what a copy shows"


def test_a_closed_round_of_no_row_at_all() -> None:
    nameless = {**closed("1", by="a"), ID: None}
    merged = merge(register(), register(row(), closed=(nameless,)), register())
    assert rounds(merged) == [("", "1", "a")]


def test_closed_rounds_without_their_row() -> None:
    merged = merge(register(), register(closed=(closed("1", by="a"),)), register())
    assert rounds(merged) == [("p", "1", "a")] and merged.rows == {}
    of_base = merge(register(closed=(closed("1", by="a"),)), register(), register())
    assert rounds(of_base) == [("p", "1", "a")] and of_base.rows == {}


def test_a_round_that_the_other_copy_has_closed_and_whose_row_it_deleted() -> None:
    merged = merge(register(), register(row(round="1", by="m")), register(closed=(closed("1"),)))
    assert only(merged) == {ROUND: "1 (2)"} and rounds(merged) == [("p", "1", "m")]


def test_a_row_bears_the_id_that_it_stands_under() -> None:
    assert merge(Register(), Register({"p": {"by": "a"}}), Register()).rows["p"][ID] == "p"


def test_each_copy_has_closed_the_others_round() -> None:
    mine = register(row(round="B", by="m", remarks="r"), closed=(closed("A", by="x"),))
    theirs = register(row(round="A", by="t", submittal="1"), closed=(closed("B", by="y"),))
    merged = merge(register(), mine, theirs)
    assert only(merged) == {ROUND: "1", "remarks": "r"} and merged.rows["p"][ITEM] == "item p"
    assert [one["by"] for one in merged.history] == ["x", "m"]
    assert {(one.column, one.kept, one.other) for one in merged.conflicts} == {
        ("Reviewed by, A", "x", "t"), ("Reviewed by, B", "m", "y"),
    }  # fmt: skip
    assert merged.history[0]["submittal"] == "1"


def test_the_item_of_a_round_is_that_of_the_first_copy_that_names_it() -> None:
    nameless, named = {**closed("1"), ITEM: ""}, {**closed("1"), ITEM: "theirs"}
    base = register(closed=({**closed("1"), ITEM: "base"},))
    merged = merge(base, register(row(), closed=(nameless,)), register(row(), closed=(named,)))
    assert [one[ITEM] for one in merged.history] == ["theirs"]
    ours = register(row(), closed=({**closed("1"), ITEM: "ours"},))
    theirs = register(row(), closed=(named,))
    assert [[one[ITEM] for one in merge(base, *two).history] for two in ((ours, theirs), (theirs, ours))] == [
        ["ours"],
        ["theirs"],
    ]
    later = register(row(round="2"))
    assert [one[ITEM] for one in merge(base, later, later).history] == ["base"]
    assert [one[ITEM] for one in merge(register(closed=(nameless,)), later, later).history] == [None]


@pytest.mark.parametrize("turned", [False, True])
def test_another_name_of_the_open_round(turned: bool) -> None:
    base, mine = register(row(round="1")), register(row(round="1", by="A. B."))
    theirs = register(row(round="A", submittal="1"))
    merged = merge(base, *((theirs, mine) if turned else (mine, theirs)))
    assert only(merged) == {ROUND: "A", "by": "A. B.", "submittal": "1"}
    assert (merged.history, merged.conflicts) == ((), ())


def test_two_other_names_of_the_open_round() -> None:
    merged = merge(register(row(round="1")), register(row(round="A")), register(row(round="B")))
    assert only(merged) == {ROUND: "A"}
    assert merged.conflicts == (Conflict("p", "Round", "1", "A", "B"),)


def test_the_next_round_is_no_other_name_of_the_closed_one() -> None:
    """A copy that has closed the round and opened the next one has not renamed it."""
    base = register(row(round="1", by="a"))
    ours = register(row(round="2"), closed=(closed("1", by="a"),))
    merged = merge(base, ours, register(row(round="1", by="b")))
    assert rounds(merged) == [("p", "1", "b")] and only(merged) == {ROUND: "2"}
    both = merge(base, ours, register(row(round="2", by="c"), closed=(closed("1", by="a"),)))
    assert rounds(both) == [("p", "1", "a")] and only(both) == {ROUND: "2", "by": "c"}


def test_the_open_round_starts_from_what_it_was_in_the_base_and_from_nothing_else() -> None:
    first = (closed("1"),)
    base, later = register(row(round="1", by="a")), register(row(round="2", by="a"), closed=first)
    assert merge(base, later, base).rows["p"]["by"] == "a", "the next round has a reviewer of its own"
    cleared = register(row(round="1", by=None))
    assert merge(base, base, cleared).rows["p"]["by"] is None
    merged = merge(
        register(row(round="2", by="a"), closed=first), later, register(row(round="2"), closed=first)
    )
    assert merged.rows["p"]["by"] == "a"


def test_a_base_without_the_row_has_no_name_for_its_round() -> None:
    merged = merge(register(), register(row(round="A")), register(row(round="B")))
    assert merged.conflicts == (Conflict("p", "Round", None, "A", "B"),)
    assert merge(register(), register(row(round="A")), register(row(round="A"))).conflicts == ()
    assert merge(register(), register(row(round="A")), register()).rows["p"][ROUND] == "A"


def test_an_open_round_that_bears_the_name_of_a_closed_one() -> None:
    mine = register(row(round="1", by="b"), closed=(closed("1", by="a"),))
    merged = merge(register(), mine, register())
    assert rounds(merged) == [("p", "1", "a")]
    assert only(merged) == {ROUND: "1 (2)", "by": "b"}


def test_two_closed_rounds_of_one_name() -> None:
    twice = (closed("1", by="a"), closed("1", by="b"))
    merged = merge(register(), register(row(round="2"), closed=twice), register())
    assert rounds(merged) == [("p", "1", "a"), ("p", "1 (2)", "b")]


def test_a_round_without_a_name_is_the_first() -> None:
    merged = merge(
        register(), register(row(by="b"), closed=({**closed("1", by="a"), ROUND: None},)), register()
    )
    assert rounds(merged) == [("p", "1", "a")]


@pytest.mark.parametrize(
    ("label", "taken", "free"),
    [
        ("1", [], "1"),
        ("1", ["1"], "1 (2)"),
        ("1", ["1", "1 (2)"], "1 (3)"),
        ("1", ["1 (2)"], "1"),
    ],
)
def test_a_name_that_no_round_has(label: str, taken: list[str], free: str) -> None:
    assert unused(label, taken) == unused(label, iter(taken)) == free
