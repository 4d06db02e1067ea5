"""What values can be and are expected to be: every measured attribute has both, and a slip of unit is named.

The ranges are common practice; the ends of the outdoor temperatures enclose the records of the World Meteorological
Organization: 56.7 degC of July 10, 1913 (read in a notice of the National Weather Service on the record's recognition)
and -89.2 degC of July 21, 1983.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from specgen.practice.entries import Field
from specgen.practice.load import load_practice
from specgen.practice.ranges import EXPECTED, Range, slip
from specgen.units.quantity import Quantity, parse

PRACTICE = load_practice()
KINDS = {
    **PRACTICE.vocabulary.records,
    **{f"role {name}": one for name, one in PRACTICE.vocabulary.roles.items()},
}
MEASURED = [(name, field) for name, kind in KINDS.items() for field in kind.fields.values() if field.possible]


def ends(one: Range | None) -> list[Quantity]:
    return [end for end in (one.least, one.most) if end] if one else []


def test_every_quantity_and_count_has_both_ranges() -> None:
    plain = {"text", "word", "words", "family", "families", "yes or no", "date"}
    without = [
        (name, field.name)
        for name, kind in KINDS.items()
        for field in kind.fields.values()
        if field.type not in plain and (field.possible is None or not expected_of(name, field))
    ]
    assert without == [] and len(MEASURED) >= 119


def expected_of(name: str, field: Field) -> bool:
    role = PRACTICE.vocabulary.roles.get(name.removeprefix("role "))
    rows = PRACTICE.table(EXPECTED).where(role=name.removeprefix("role "), attribute=field.name)
    kinds = {row["kind"] for row in rows}
    return None in kinds or (role is not None and kinds >= set(role.kinds))


def test_what_is_expected_can_be() -> None:
    for name, field in MEASURED:
        for end in ends(field.expected):
            assert field.possible and field.possible.holds(end), (name, field.name)


def test_the_records_of_the_weather_can_be() -> None:
    fields = PRACTICE.vocabulary.records["site"].fields
    for name, record, beyond in (
        ("temp_summer", "56.7 degC", "62 degC"),
        ("temp_winter", "-89.2 degC", "-95 degC"),
    ):
        possible = fields[name].possible
        assert possible and possible.holds(parse(record)) and not possible.holds(parse(beyond))


def test_a_size_that_cannot_be_absent_is_never_zero() -> None:
    fields = {(name, field.name): field for name, field in MEASURED}
    zero = {
        key for key, field in fields.items() if field.possible and field.possible.holds(parse_zero(field))
    }
    assert ("role coping", "outer_drip") in zero and ("transition", "lap") in zero  # told by a rule
    for owner, name in (
        ("building", "height"), ("role cleat", "fastener_spacing"), ("role plaster", "panel_area"),
        ("role weep screed", "screen_opening"), ("role plaster", "thickness"), ("role coping", "piece_length"),
    ):  # fmt: skip
        assert (owner, name) not in zero


def parse_zero(field: Field) -> Quantity:
    assert field.possible and field.possible.most
    most = field.possible.most
    return parse(f"0 {most.unit}" if most.unit else "0", {most.dimension})


@pytest.mark.parametrize(
    ("written", "least", "most", "words"),
    [
        ("9000 %", "0 %", "100 %", "9 % or 90 %"),
        ("93 degC", "10 degC", "50 degC", "93 degF"),
        ("4 ft", "0 in", "24 in", "4 in"),
        ("3.5 mm/h", "0.5 in/h", "12 in/h", "3.5 in/h"),
        ("1400 perm", "0 perm", "100 perm", "1400 ng/(Pa·s·m2)"),
        ("40 kPa", "30 psi", "60 psi", "40 psi"),
        ("120 mm", "3 ft", "3000 ft", "120 in"),
        ("17280 ft2", "10 ft2", "144 ft2", "17280 in2"),
        ("1 in", "2 in", "3 in", ""),
    ],
)
def test_the_slip_of_unit_is_named(written: str, least: str, most: str, words: str) -> None:
    found = slip(parse(written), Range(parse(least), parse(most)))
    assert words in found if words else found == ""
    for text in found.removeprefix("did you mean ").removesuffix("?").split(" or ") if found else ():
        assert Range(parse(least), parse(most)).holds(parse(text))


def test_ends_belong_to_their_range() -> None:
    one = Range(parse("1 in"), parse("25.4 mm"))
    assert one.holds(parse("1 in")) and not one.holds(parse("25.41 mm")) and not one.holds(parse("0.99 in"))
    assert Range(parse("1"), parse("3")).holds(3) and not Range(parse("1"), parse("3")).holds(4)
    assert one.holds("a word") and one.holds(True)
    assert parse("1 in").exact == Fraction("0.0254")
