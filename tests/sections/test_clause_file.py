"""What a clause file may hold: known keys, known names, and no number of its own."""

from __future__ import annotations

import shutil

import pytest

from specgen.files.carried import carried
from specgen.files.marks import InputError
from specgen.sections.clause_file import load_clauses
from specgen.sections.clause_text import ClauseTextError, compile_condition, compile_text
from specgen.sections.numbers import without_names


@pytest.fixture
def with_clause(tmp_path, practice):
    """Loads a folder whose one section has these paragraphs."""

    def load(paragraphs: str):
        for name in ("titles.yaml", "evidence.yaml"):
            shutil.copy(carried("clauses") / name, tmp_path / name)
        head = "number: 07 99 00\ntitle: Sample\nroles: [coping]\ntrade: roofer\ngeneral:\n- article: One\n  key: one\n"
        (tmp_path / "07-99-00.yaml").write_text(
            head + f"  paragraphs:\n{paragraphs}\nproducts: []\nexecution: []\n"
        )
        return load_clauses(practice, tmp_path)

    return load


@pytest.mark.parametrize(
    ("paragraph", "message"),
    [
        (
            "  - {key: a, text: Lap it 3 inches.}",
            r":9:20: error: a: the number `3` is written into the clause",
        ),
        ("  - {key: a, text: \"{{ '3 in' }}\"}", "the number `3` is written"),
        ('  - {key: a, text: "{{ 3 }}"}', "the number `3` is written"),
        ("  - {key: a, text: \"{{ valeu('coping.drip') }}\"}", "did you mean `value`"),
        ("  - {key: a, text: \"{{ value('coping.drop') }}\"}", r"value\('coping.drop'\) is not known"),
        ("  - {key: a, text: \"{{ section('99 99 99') }}\"}", r"section\('99 99 99'\) is not known"),
        ("  - {key: a, text: \"{{ ref('b') }}\"}", "no paragraph `b`"),
        ('  - {key: a, text: "{{ limit }}"}', "prints a limit and states no requirement"),
        ("  - {key: a, text: Text., states: coping.slope}", "does not print its limit"),
        ('  - {key: a, text: "{{ limit }}", states: coping.slop}', "did you mean `coping.slope`"),
        ('  - {key: a, text: "{{ open }"}', "template"),
        ("  - {key: a, txt: Text.}", "did you mean `text`"),
        ('  - {key: a, text: "Text:", each: repair, item: "{{ what }}."}', "did you mean `repairs`"),
        ('  - {key: a, text: "Text:", each: repairs}', "goes with `item`"),
        ('  - {key: a, text: "Text: {{ what }}."}', "prints an entry and lists none"),
        ('  - {key: a, text: "{% if role %}Text{% endif %}."}', "`role` has no words here"),
        ("  - {key: a, text: \"{{ 'Text' if paragraph }}.\"}", "`paragraph` has no words here"),
        ('  - {key: a, text: "Text:", each: repairs, item: "{{ code }}."}', "`code` has no words here"),
        (
            '  - {key: a, text: "Text:", each: repairs, item: "{{ value(\'coping.drip\') }}."}',
            "`value` has no words here",
        ),
        ("  - {key: a, text: \"{{ ref('a') in true }}\"}", "`in` looks for words in words"),
        ("  - {key: a, text: Text., when: code in has('coping')}", "`in` looks for words in words"),
        ("  - {key: a, text: Text., when: has('coping') not in code}", "`in` looks for words in words"),
        ("  - {key: a, text: Text., when: repaired('rebuild topp')}", "did you mean `rebuild top`"),
        ("  - {key: a, text: Text., when: opened('no barier')}", "did you mean `no barrier`"),
        ("  - {key: a, text: Text., when: has('copping')}", "did you mean `coping`"),
        ("  - {key: a, text: Text.}\n  - {key: a, text: Text.}", "the key `a` is used twice"),
        ("  - just words", "a mapping is wanted"),
    ],
)
def test_a_faulty_clause_does_not_load_and_is_located(with_clause, paragraph, message):
    with pytest.raises(InputError, match=message) as caught:
        with_clause(paragraph)
    assert all(problem.mark.file.endswith("07-99-00.yaml") for problem in caught.value.problems)


def test_every_problem_is_reported_in_one_run(with_clause):
    with pytest.raises(InputError) as caught:
        with_clause("  - {key: a, text: Lap 3 inches.}\n  - {key: b, text: Lap 4 inches.}")
    assert len(caught.value.problems) == 2


def test_names_of_sections_and_standards_are_no_numbers(with_clause):
    book = with_clause("  - {key: a, text: 'Test by ASTM E1186; see Section 07 65 00 and Part 2.'}")
    assert book.sections[0].number == "07 99 00"


@pytest.mark.parametrize(
    "source",
    [
        "{{ limit.__class__ }}",
        "{{ limit['x'] }}",
        "{% for x in limit %}x{% endfor %}",
        "{{ limit | upper }}",
        "{{ limit * limit }}",
        "{{ limit ~ limit }}",
        "{% set x = limit %}",
        "{{ range('x') }}",
        "{{ value(limit) }}",
        "{% include 'x' %}",
        "{{ 'x' is string }}",
        "{% raw %}3 in{% endraw %}",
        "x" * 2001,
    ],
)
def test_what_a_clause_may_not_do(source):
    with pytest.raises(ClauseTextError):
        compile_text(source)


def test_a_condition_is_one_expression():
    with pytest.raises(ClauseTextError, match="not one condition"):
        compile_condition("code }} words {{ code")


@pytest.mark.parametrize(
    ("condition", "why"),
    [
        ("kind('coping') > has('coping')", "words have no order"),
        ("kind('coping') <= 'metal'", "words have no order"),
        ("(" * 200 + "has('coping')" + ")" * 200, "nested too deeply"),
    ],
)
def test_a_condition_that_would_fail_when_it_is_asked_is_refused_when_it_is_read(condition, why):
    with pytest.raises(ClauseTextError, match=why):
        compile_condition(condition)


def test_the_digit_rule_holds_for_every_clause(book):
    for section in book.sections:
        for clause in section.clauses():
            for text in (clause.text, clause.item):
                if text is None:
                    continue
                plain = text.source
                for call in text.calls:
                    for word in call.words:
                        plain = plain.replace(word, "")
                assert not [char for char in without_names(plain) if char.isdigit()], clause.key


def test_fourteen_sections_ship(book):
    assert [section.number for section in book.sections] == [
        "01 25 00", "01 33 00", "01 40 00", "01 73 29", "02 41 19", "06 10 00", "06 16 00", "07 27 00",
        "07 50 00", "07 65 00", "07 71 00", "07 71 23", "07 92 00", "09 24 00",
    ]  # fmt: skip
    assert all(len(tuple(section.clauses())) > 25 for section in book.sections)


def test_each_section_states_the_roles_that_the_vocabulary_gives_it(book, practice):
    written = {section.number for section in book.sections}
    for section in book.sections:
        owned = {practice.vocabulary.roles[role].section for role in section.roles}
        assert owned & written <= {section.number}  # a role whose own section is not written may stand here
