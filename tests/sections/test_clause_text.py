"""Clause text evaluated as it stands, against Jinja2's own compiled templates."""

from __future__ import annotations

import marshal
from itertools import product
from random import Random

import pytest
from jinja2 import StrictUndefined
from jinja2.sandbox import SandboxedEnvironment

from specgen.sections import clause_file, clause_text
from specgen.sections.clause_text import (
    TEXT_FUNCTIONS,
    TEXT_NAMES,
    WHEN_FUNCTIONS,
    WHEN_NAMES,
    ClauseTextError,
    compile_condition,
    compile_text,
)

JINJA = SandboxedEnvironment(undefined=StrictUndefined, autoescape=False)
FORMS = (
    "{{ 'a' if kinds('x') else 'b' }} and {{ limit }}",
    "{% if kinds('x') %}one{% elif kinds('y') %}two {{ limit }}{% else %}three{% endif %}.",
    "{% if not kinds('x') and (kinds('y') or code) %}one{% endif %} end",
    "{{ 'a' if limit == method else 'b' }}{{ 'c' if 'x' in kinds('x') else 'd' }}",
    "{{ 'a' if limit != method else 'b' }}{{ 'e' if 'q' not in title }}",
)


def context(turn: int) -> dict[str, object]:
    """Every name and function that a clause may use; what it answers changes with the turn."""

    def answer(name: str):
        def asked(*words: str) -> object:
            yes = Random(f"{turn} {name} {words}").random() < 0.5
            return yes if name in WHEN_FUNCTIONS else f"[{name} {' '.join(words)}]" * yes

        return asked

    names: dict[str, object] = {
        name: Random(f"{name} {turn}").choice("qrs") for name in sorted(TEXT_NAMES | WHEN_NAMES)
    }
    return names | {name: answer(name) for name in sorted(TEXT_FUNCTIONS | WHEN_FUNCTIONS)}


def read_by_jinja(source: str, turn: int) -> str:
    """A text as Jinja2's compiled template writes it, spaces at its ends taken off as clauses take them."""
    return " ".join(JINJA.from_string(source).render(**context(turn)).split(" ")).strip()


def test_every_shipped_text_and_condition_reads_as_jinja_writes_it(book):
    texts = {
        text.source
        for section in book.sections
        for clause in section.clauses()
        for text in (clause.text, clause.item)
        if text is not None
    }
    conditions = {
        clause.when.source for section in book.sections for clause in section.clauses() if clause.when
    }
    assert len(texts) > 500
    assert len(conditions) > 100
    for source, turn in product(texts, range(4)):
        assert compile_text(source).render(context(turn)) == read_by_jinja(source, turn)
    for source, turn in product(conditions, range(4)):
        expected = bool(JINJA.compile_expression(source, undefined_to_none=False)(**context(turn)))
        assert compile_condition(source).holds(context(turn)) is expected, source


@pytest.mark.parametrize("source", FORMS)
def test_every_form_that_a_clause_may_take_reads_as_jinja_writes_it(source):
    found = {compile_text(source).render(context(turn)) for turn in range(12)}
    assert found == {read_by_jinja(source, turn) for turn in range(12)}
    assert len(found) > 1


def test_a_value_that_is_missing_is_told():
    with pytest.raises(ClauseTextError, match="'limit' is undefined"):
        compile_text("Thickness: {{ limit }}.").render({})
    with pytest.raises(ClauseTextError, match="'code' is undefined"):
        compile_condition("code").holds({})


def test_what_is_kept_of_the_clauses_is_what_the_parser_makes_of_them(book):
    parsed = clause_file._parsed(book)
    assert len(parsed) > 300
    for source, tree in marshal.loads(marshal.dumps(parsed)).items():
        assert tree == clause_text._parser()(source)
