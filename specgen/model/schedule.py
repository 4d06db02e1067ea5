"""When the work at the parapets happens, as the user states it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from specgen.files.marks import InputProblem

WEEK = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
WORK_WEEK = ("Mon", "Tue", "Wed", "Thu", "Fri")


@dataclass(frozen=True)
class Schedule:
    """Start of the work, the days on which people work, and the times that differ from the practice values.

    Times are counted in working days; ``durations`` and ``lead_times`` are by role.
    """

    start: date | None = None
    work_week: tuple[str, ...] = WORK_WEEK
    holidays: tuple[date, ...] = ()
    durations: Mapping[str, int] = field(default_factory=dict)
    lead_times: Mapping[str, int] = field(default_factory=dict)
    review: int | None = None
    resubmission: int | None = None
    asked: tuple[
        InputProblem, ...
    ] = ()  # times that are not expected, and do not count until they are confirmed
