"""What counts as a whole number: characters that Python calls digits and cannot make a number of (`²`, `①`) never do."""

from __future__ import annotations

from pathlib import Path

import pytest

import specgen
from specgen.intake.datasheet.write import scalar_of
from specgen.practice.load import _value
from specgen.units.quantity import QuantityError, parse

ODD = ("²", "R²", "①", "12①", "٣", "½", "Ⅳ", "५", "3²")


def test_no_room_asks_whether_words_are_digits_in_the_way_that_int_does_not_know() -> None:
    asked = [
        f"{path.name}:{number}"
        for path in sorted(Path(specgen.__file__).parent.rglob("*.py"))
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if ".isdigit(" in line or ".isnumeric(" in line
    ]
    assert asked == []


@pytest.mark.parametrize("words", ODD)
def test_an_odd_digit_is_words(words: str) -> None:
    assert scalar_of(words, "count") == f'"{words}"'
    if words[0] not in "123":
        assert _value(words, "here") == words


@pytest.mark.parametrize(
    "written", ["² in", "3² in", "40² mil", "2³ psf", "10⁻5 m", "1₂ ft", "12¹ mil", "0.1 ² perm"]
)
def test_a_raised_digit_behind_a_number_makes_no_other_number(written: str) -> None:
    with pytest.raises(QuantityError, match="that no unit carries"):
        parse(written)


@pytest.mark.parametrize(
    "written", ["5 ft²", "0.004 cfm/ft² @ 75 Pa", "24 kg/m³", "8e-6 K⁻¹", "10 inH₂O", "0.02 L/(s·m²)"]
)
def test_a_raised_digit_of_a_unit_is_read(written: str) -> None:
    plain_text = written.translate(str.maketrans("²³⁻¹₂", "23-12"))
    try:
        wanted = parse(plain_text).value
    except QuantityError:
        pytest.skip(f"`{plain_text}` is no unit of ours")
    assert parse(written).value == wanted


def test_a_whole_number_stays_one() -> None:
    assert scalar_of("3", "count") == "3"
