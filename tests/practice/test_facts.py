"""The page of facts is the one in ``docs``, and it leaves nothing out."""

from __future__ import annotations

import pytest

from specgen.model.source import Status
from specgen.practice.load import load_practice
from specgen.rules.book import load_book
from tests.practice import facts

PRACTICE = load_practice()
FOUND = facts.facts(PRACTICE)


def test_the_page_is_up_to_date() -> None:
    printed = "run python -m tests.practice.facts"
    assert facts.PAGE.read_text(encoding="utf-8") == facts.page(PRACTICE), printed


def test_every_entry_and_every_cell_is_counted_once() -> None:
    assert [one.key for one in FOUND if not one.of_table] == list(PRACTICE.entries)
    for name, table in PRACTICE.tables.items():
        label = facts._label(table)
        numbers = [key for key, kind in table.columns.items() if kind != "word" and key not in label]
        written = facts._content(table)["rows"]
        cells = sum(row.get(key) is not None for row in written for key in numbers)
        counted = sum(one.count for one in FOUND if one.key.split(",")[0] == f"table {name}")
        assert counted == (cells if numbers else len(table.rows)), name


def test_what_is_from_memory_stands_before_the_rest() -> None:
    page = facts.page(PRACTICE)
    memory, text = page.index("## From memory"), page.index("## From the text")
    for one in FOUND:
        at = page.index(f"`{one.key}` {one.title} | {one.value.replace('|', '/')}") if not one.of_table else 0
        assert not at or (memory < at < text) == (one.source.status is Status.MEMORY), one.key


def test_a_row_of_words_keeps_the_source_it_names() -> None:
    own = [one for one in FOUND if one.key == "table compatibility" and one.source.status is Status.MEMORY]
    assert [(one.count, one.source.place) for one in own] == [(3, "bitumen corrosion")]


def test_no_rule_but_that_of_values_as_meant_rests_on_a_table_that_only_asks() -> None:
    asking = {f"table {name}" for name in facts.ASKING}
    resting = {entry.rule.code for entry in load_book(PRACTICE) if asking & set(entry.rule.basis)}
    assert resting == {"MV01"}


def test_a_property_that_a_layer_takes_decides_and_one_that_nothing_takes_does_not() -> None:
    def named(words: str, column: str) -> set[facts.Use]:
        return {
            one.use
            for one in FOUND
            if one.key == f"table material_properties, {column}" and words in one.value
        }

    assert named("extruded polystyrene 0.026", "conductivity") == {facts.Use.DECIDES}
    assert named("portland cement plaster 33.3", "permeability_wet") == {facts.Use.DECIDES}  # drive study
    assert named("granite 2.8", "conductivity") == {facts.Use.NOTHING}
    assert named("plywood 2.86", "permeability_wet") == {facts.Use.DECIDES}  # hourly balance
    assert named("asphalt felt 15 lb 5.6", "permeance_wet") == {facts.Use.NOTHING}


@pytest.mark.parametrize(("of_table", "most"), [(False, 15), (True, 15)])
def test_what_decides_is_read_rather_than_remembered(of_table: bool, most: float) -> None:
    assert facts.from_memory(FOUND, of_table) < most
