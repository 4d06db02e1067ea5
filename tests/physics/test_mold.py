"""The mold growth index: bounds, monotony, decline, what stops it, blocks of hours, and both forms of the loop."""

from __future__ import annotations

import math

import numpy as np
import pytest

from specgen.physics import mold
from specgen.physics.errors import NotFinite, OutOfRange, PhysicsError
from specgen.physics.mold import DECLINES, SENSITIVITIES, critical_humidity, greatest_index, mold_index

NAMES = list(SENSITIVITIES)
YEAR = 8760
# Index at the start of hours 8760, 13140, 16258 and 17519 of the climate of `test_as_a_university_computes_it`, by class,
# as that source code gave it when it was run once.
THEIRS = (
    (2.587579, 0.836672, 3.89134, 3.545764),
    (0.85916, 0.000913, 1.078271, 0.859493),
    (0.0, 0.0, 0.095098, 0.0),
    (0.0, 0.0, 0.040869, 0.0),
)


def constant(
    hours: int, temp_c: float, humidity: float, name: str = "very sensitive", **more: float
) -> np.ndarray:
    ones = np.ones((hours, 1))
    return mold_index(
        temp_c * ones, humidity * ones, [name], more.get("decline", 1.0), more.get("start", 0.0)
    )[:, 0]


def climate(hours: int, places: int, seed: int = 7) -> tuple[np.ndarray, np.ndarray]:
    rng = np.random.default_rng(seed)
    at = np.arange(hours)[:, None]
    temp = 9.0 - 12.0 * np.cos(2 * np.pi * at / YEAR) + rng.normal(0.0, 4.0, (hours, places))
    humidity = 0.84 + 0.1 * np.cos(2 * np.pi * at / YEAR) + rng.normal(0.0, 0.06, (hours, places))
    return temp, np.clip(humidity, 0.0, 1.0)


@pytest.mark.parametrize("name", NAMES)
def test_it_stays_between_nothing_and_what_its_class_carries(name: str) -> None:
    best = constant(10 * YEAR, 30.0, 1.0, name)
    one = SENSITIVITIES[name]
    assert best[0] > 0.0 and (np.diff(best) >= 0.0).all()
    assert best[-1] <= one.least + one.rise - one.bend <= 6.0
    temp, humidity = climate(3 * YEAR, 4)
    index = mold_index(temp, humidity, [name] * 4, 0.1)
    assert index.min() >= 0.0 and index.max() <= 6.0


def test_warmer_more_humid_and_more_sensitive_grows_no_slower() -> None:
    grown = [constant(2000, temp, 0.95)[-1] for temp in (1.0, 5.0, 10.0, 20.0, 30.0, 49.0)]
    assert grown == sorted(grown) and grown[0] < grown[-1]
    grown = [constant(2000, 20.0, rh)[-1] for rh in (0.79, 0.82, 0.9, 0.95, 1.0)]
    assert grown == sorted(grown) and grown[0] == 0.0
    grown = [constant(5000, 20.0, 0.97, name)[-1] for name in NAMES]
    assert grown == sorted(grown, reverse=True)


@pytest.mark.parametrize(
    ("temp_c", "humidity"), [(0.0, 1.0), (-10.0, 1.0), (50.0, 1.0), (60.0, 1.0), (20.0, 0.79), (5.0, 0.87)]
)
def test_too_cold_too_hot_or_too_dry_grows_nothing(temp_c: float, humidity: float) -> None:
    assert (constant(1000, temp_c, humidity) == 0.0).all()
    assert greatest_index(temp_c, humidity, SENSITIVITIES["very sensitive"]) == 0.0


def test_decline_stands_still_from_the_sixth_hour_to_the_twenty_fourth() -> None:
    index = constant(240, 20.0, 0.5, start=4.0)
    lost = -np.diff(np.r_[4.0, index])
    assert lost[:6] == pytest.approx(0.032 / 24)
    assert (lost[6:24] == 0.0).all()
    assert lost[24:] == pytest.approx(0.016 / 24)
    half = constant(240, 20.0, 0.5, start=4.0, decline=DECLINES["marked"])
    assert 4.0 - half == pytest.approx(0.5 * (4.0 - index))
    assert (constant(240, 20.0, 0.5, start=4.0, decline=0.0) == 4.0).all()


def test_one_humid_hour_begins_the_hours_of_decline_anew() -> None:
    humidity = np.full((49, 1), 0.5)
    humidity[24] = 0.99
    index = mold_index(np.full((49, 1), 20.0), humidity, ["resistant"], 1.0, 2.9)[:, 0]
    lost = -np.diff(np.r_[2.9, index])
    assert lost[24] <= 0.0
    assert lost[25:31] == pytest.approx(0.032 / 24) and (lost[31:] == 0.0).all()


def test_it_never_falls_below_nothing() -> None:
    assert constant(YEAR, 20.0, 0.3, start=0.5).min() == 0.0


def test_a_humidity_that_carries_less_holds_the_index_without_growth_or_decline() -> None:
    index = constant(500, 20.0, 0.82, start=5.0)
    assert (index == 5.0).all()  # above what 82 % carries, yet humid enough for it not to dry


@pytest.mark.parametrize("name", NAMES)
def test_critical_humidity_falls_with_warmth_to_that_of_the_class(name: str) -> None:
    least = SENSITIVITIES[name].driest
    curve = critical_humidity(np.linspace(-10.0, 60.0, 701), least)
    assert (curve - np.minimum.accumulate(curve)).max() < 5e-4  # the polynomial rises a little before 20 °C
    assert curve[0] == 1.0 and curve[-1] == least and curve.min() >= least


def test_both_forms_of_the_loop_give_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    temp, humidity = climate(2 * YEAR + 11, 4)  # more than two blocks
    asked = (temp, humidity, NAMES, [1.0, 0.5, 0.25, 0.1], [0.0, 0.5, 0.2, 0.0])
    results = []
    for form in (mold._row_by_row, mold._hour_by_hour):
        monkeypatch.setattr(mold, "_advance", lambda form=form: form)
        results.append(mold_index(*asked))
    monkeypatch.undo()
    assert np.abs(results[0] - results[1]).max() < 1e-12
    assert np.abs(results[0] - mold_index(*asked)).max() < 1e-12


def test_places_do_not_see_each_other() -> None:
    temp, humidity = climate(3000, 4)
    together = mold_index(temp, humidity, NAMES, 0.5)
    for p, name in enumerate(NAMES):
        alone = mold_index(temp[:, [p]], humidity[:, [p]], [name], 0.5)
        assert (alone[:, 0] == together[:, p]).all()


def test_as_a_university_computes_it() -> None:
    """The same published model written by others: public source code of a university's building physicists."""
    at = np.arange(2 * YEAR)
    temp = 9.5 - 10.0 * np.cos(2 * np.pi * at / YEAR)
    humidity = 0.86 + 0.09 * np.cos(2 * np.pi * at / YEAR + 0.6) + 0.04 * np.cos(2 * np.pi * at / 24)
    index = mold_index(
        *(np.column_stack([one] * 4) for one in (temp, humidity)), NAMES, [1.0, 0.5, 0.25, 0.1]
    )
    for p, values in enumerate(THEIRS):  # their index stands at the start of an hour, ours at its end
        assert index[[8759, 13139, 16257, 17518], p] == pytest.approx(values, abs=6e-7)


@pytest.mark.parametrize(
    ("temp_c", "humidity", "name", "error", "words"),
    [
        (math.nan, 0.9, "sensitive", NotFinite, "temperature of the surface"),
        (200.0, 0.9, "sensitive", OutOfRange, "outside -80 to 120"),
        (20.0, 90.0, "sensitive", OutOfRange, "relative humidity at the surface"),
        (20.0, -0.1, "sensitive", OutOfRange, "relative humidity at the surface"),
        (20.0, 0.9, "spruce", PhysicsError, "one of very sensitive, sensitive"),
    ],
)
def test_what_cannot_be_is_named(temp_c: float, humidity: float, name: str, error: type, words: str) -> None:
    with pytest.raises(error, match=words):
        mold_index([[temp_c]], [[humidity]], [name], 1.0)


def test_shapes_that_do_not_go_together_are_named() -> None:
    ones = np.ones((5, 2))
    for temp, humidity, names, decline in (
        (ones[:, 0], ones[:, 0], ["sensitive"], 1.0),
        (ones, ones[:4], ["sensitive"] * 2, 1.0),
        (ones, ones, ["sensitive"], 1.0),
        (ones, ones, ["sensitive"] * 2, [1.0, 0.5, 0.1]),
    ):
        with pytest.raises(PhysicsError):
            mold_index(temp, humidity, names, decline)
    with pytest.raises(OutOfRange, match="relative decline"):
        mold_index(ones, ones, ["sensitive"] * 2, 1.5)
    with pytest.raises(OutOfRange, match="index at the start"):
        mold_index(ones, ones, ["sensitive"] * 2, 1.0, 7.0)
