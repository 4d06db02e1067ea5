"""Every number in every section comes from a requirement or a practice value, and says which."""

from __future__ import annotations

import json

import pytest

from specgen.model.document import Span, numbered
from specgen.model.plain import plain
from specgen.model.requirement import Origin
from specgen.model.source import Source, Status
from specgen.sections.lines import SectionError
from specgen.sections.numbers import designations_in, numbers_in
from specgen.sections.trace import TracedNumber, traced


def test_every_number_of_every_section_is_traced(sections, practice, requirements):
    count = 0
    for section in sections:
        by_key = {item.key: item for item in section.trace}
        for one in numbered(section.document.blocks):
            words = " ".join(part.text for part in one.para.content if isinstance(part, Span))
            found = by_key[one.para.key].numbers
            assert [item.number for item in found] == list(numbers_in(words, ["P-1", "P-2"])), words
            for item in found:
                count += 1
                assert item.by in requirements.by_id or item.by in practice.entries
                assert item.origin.source.document
    assert count > 100


def test_a_chosen_number_leads_to_its_line(sections):
    trace = {item.key: item for section in sections for item in section.trace}
    number = trace["turnup_height"].numbers[0]
    assert (number.number, number.by, number.origin.kind) == ("12 in", "turnup.height", "choice")
    assert number.origin.key.rsplit(":", 2)[1].isdigit()
    calculated = trace["resistance_top"].numbers[0]
    assert (calculated.origin.kind, calculated.origin.key) == ("calculation", "coping wind.resistance_top")
    assert trace["pull_rate"].numbers[0].by == "field.pull_area"


def test_the_trace_is_plain_data(sections):
    content = json.loads(json.dumps(plain([item for section in sections for item in section.trace])))
    with_numbers = [item for item in content if item["numbers"]]
    source = with_numbers[0]["numbers"][0]["origin"]["source"]
    assert source["document"] and source["status_words"]


def test_a_number_without_origin_is_refused():
    origin = TracedNumber("3 in", "x", Origin("practice", "x", Source("d", "", "", Status.PRACTICE)))
    assert traced("Lap 3 in.", [origin], (), "1.1.A") == (origin,)
    with pytest.raises(SectionError, match=r"1\.1\.A: the number '4 in'"):
        traced("Lap 4 in.", [origin], (), "1.1.A")


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("see Section 07 65 00, Article 3.4 and Paragraph 2.2.A.3", ()),
        ("by ANSI/SPRI/FM 4435/ES-1 test RE-3, ASTM E2925 Annex A2, ASCE 7-22, IBC 2021", ()),
        ("not more than 0.004 cfm/ft² (0.02 L/(s·m²)) at 75 Pa", ("0.004 cfm/ft²", "0.02 L/(s·m²)", "75 Pa")),
        ("at least 3 1/2 in (89 mm) and 1/4 in/ft (2.1 %)", ("3 1/2 in", "89 mm", "1/4 in/ft", "2.1 %")),
        ("ratio 2.5, -10 °F, 10 ft 6 in, 60 days.", ("2.5", "-10 °F", "10 ft 6 in", "60 days")),
    ],
)
def test_numbers_in(text, found):
    assert numbers_in(text) == found


def test_designations_are_found_once():
    assert designations_in("ASTM E96 method A, ASTM E96/E96M, AAMA 501.2, NFPA 285") == (
        "ASTM E96", "ASTM E96/E96M", "AAMA 501.2", "NFPA 285",
    )  # fmt: skip
