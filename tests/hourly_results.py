"""Kept hourly results as tests make them: sound, with any field in another way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from specgen.model.hourly import MID_HEIGHT, WOOD, CutHours, HourlyResult, LeakRun, PlaceHours

SOUND = PlaceHours(
    name="back of the sheathing",
    layer="sheathing",
    sort=WOOD,
    moisture_peak=0.14,
    moisture_end=0.11,
    hours_20=0,
    hours_28=0,
    humidity_peak=0.78,
    mold=(0.2, 0.3, 0.3),
    mold_class="sensitive",
    corrosion_hours=120,
    freeze_hours=4,
    freeze_cycles=2,
    worst_month=2,
    peaks=(0.15, 0.141, 0.14),
)


def run_of(share: float, *places: PlaceHours, **fields: Any) -> LeakRun:
    """A closed run of three years."""
    sound = LeakRun(
        share=share,
        years=3,
        growing=False,
        places=places or (SOUND,),
        taken=1.5,
        drained=4.0,
        mass_error=2e-9,
        heat_error=3e-8,
        holds=True,
    )
    return replace(sound, **fields)


def cut_of(runs: Sequence[LeakRun] = (), **fields: Any) -> CutHours:
    """A cut with runs, without and with a leak past the barrier where none are given."""
    sound = CutHours(
        cut=MID_HEIGHT,
        always=0.01,
        leak="of the rain driven onto the plaster, past the barrier into the sheathing",
        runs=tuple(runs) or (run_of(0.0), run_of(0.01)),
        forgiven=0.032,
        forgiven_all=False,
        half_days=21.0,
        uncertainty={"mold": 0.1},
    )
    return replace(sound, **fields)


def result_of(parapet: str, *cuts: CutHours, key: str = "0" * 32, **fields: Any) -> HourlyResult:
    """A result with one sound cut where none are given."""
    made = HourlyResult(parapet, key, 10, "weather.epw", "as the file has it", cuts or (cut_of(),))
    return replace(made, **fields)
