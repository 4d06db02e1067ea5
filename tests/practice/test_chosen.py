"""What a project states under `quality` stands in place of a practice value, and says where it stands."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from specgen.sections.build import SectionText
from specgen.specification import specify
from specgen.work.inputs import read_inputs

EXAMPLE = Path("tests/stated/mixed-humid-midrise")
PRACTICE = load_practice()
FIELDS = PRACTICE.vocabulary.records["quality"].fields


def written(folder: Path, quality: str) -> tuple[SectionText, ...]:
    """The sections of the example with these lines under `quality`."""
    folder.joinpath("project.yaml").write_text(EXAMPLE.joinpath("project.yaml").read_text() + quality)
    return specify(read_inputs(folder, None, False).assessed()).sections


def printed(sections: tuple[SectionText, ...], section: str, key: str) -> tuple[str, str, str]:
    """The words of a paragraph, and the kind and document of the origin of its number."""
    found = next(one for one in sections if one.number == section)
    words = next(one.text for one in found.document.blocks if getattr(one, "key", "") == key)
    origin = next(one for one in found.trace if one.key == key).numbers[0].origin
    return words, origin.kind, origin.source.document


def test_a_stated_value_is_printed_and_leads_to_its_line(tmp_path: Path) -> None:
    sections = written(tmp_path, "\nquality: {review_time: 14 days, samples: 3}\n")
    words, kind, document = printed(sections, "01 33 00", "review_time")
    assert words == "Review time: 14 days for each round, counted from receipt by the Architect."
    assert kind == "choice" and re.fullmatch(r"project\.yaml line \d+", document)
    assert printed(sections, "01 33 00", "samples")[0].startswith("Samples: 3 of each")


def test_without_it_practice_stands(tmp_path: Path) -> None:
    words, kind, document = printed(written(tmp_path, ""), "01 33 00", "review_time")
    assert "10 days" in words and (kind, document) == ("practice", "common practice")


@pytest.mark.parametrize("name", FIELDS)
def test_each_takes_the_place_of_a_value_that_a_clause_prints(name: str) -> None:
    key = FIELDS[name].stands_for
    assert FIELDS[name].title == PRACTICE.entry(key).title
    assert any(f"('{key}')" in path.read_text() for path in Path("clauses").glob("*.yaml")), key
    expected = FIELDS[name].expected
    assert expected is not None and expected.holds(PRACTICE.quantity(key))


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("review_tme: 14 days", "review_tme"),
        ("review_time: 14", "review_time"),
        ("samples: 0", "samples"),
        ("warranty_roof: 20 ft", "warranty_roof"),
    ],
)
def test_what_cannot_be_is_refused_at_its_place(tmp_path: Path, line: str, message: str) -> None:
    file = tmp_path / "project.yaml"
    file.write_text(EXAMPLE.joinpath("project.yaml").read_text() + f"\nquality:\n  {line}\n")
    with pytest.raises(InputError, match=message) as caught:
        load_project(tmp_path, PRACTICE)
    assert caught.value.problems[0].mark.line == len(file.read_text().splitlines())


def test_an_odd_value_is_asked_about_and_not_printed(tmp_path: Path) -> None:
    sections = written(tmp_path, "\nquality: {review_time: 300 days}\n")
    asked = [one for one in read_inputs(tmp_path, None, False).assessed().findings if one.open]
    assert asked and {one.code for one in asked} == {"MV01"}
    assert "10 days" in printed(sections, "01 33 00", "review_time")[0]
