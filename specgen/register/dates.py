"""Dates counted back from the order of work, in working days.

The counting is NumPy's business-day arithmetic (``numpy.busday_offset``): a day that is no working day rolls to the
earlier one where a date is a limit, and to the later one where work begins.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from specgen.arrays import np
from specgen.assessment import Assessment
from specgen.model.schedule import WEEK, Schedule
from specgen.practice.entries import Practice, cell

DAY = 86_400.0  # [s]


@dataclass(frozen=True)
class WorkCalendar:
    """Which days are worked."""

    week: tuple[str, ...]
    holidays: tuple[date, ...]

    def later(self, day: date, working_days: int) -> date:
        """The day so many working days after a day; with 0, the day itself or the next that is worked."""
        return self._offset(day, working_days, "forward")

    def earlier(self, day: date, working_days: int) -> date:
        """The day so many working days before a day; with 0, the day itself or the last that was worked."""
        return self._offset(day, -working_days, "backward")

    def worked(self, first: date, last: date) -> int:
        """The working days from one day to another, the first not counted; 0 where the other is not later."""
        if last <= first:
            return 0
        return int(np.busday_count(first, last, weekmask=self._mask, holidays=list(self.holidays)))

    @property
    def _mask(self) -> str:
        return "".join("1" if name in self.week else "0" for name in WEEK)

    def _offset(self, day: date, days: int, roll: Literal["forward", "backward"]) -> date:
        found: date = np.busday_offset(
            day, days, roll=roll, weekmask=self._mask, holidays=list(self.holidays)
        ).astype(object)
        return found


@dataclass(frozen=True)
class Due:
    """The dates of one submittal. None where no start of the work is stated."""

    step: str  # the part whose placing waits for it
    needed: date | None  # returned without exceptions by then
    submit: date | None  # received for review by then


@dataclass(frozen=True)
class WorkDates:
    """When each role begins, and what is counted back from it."""

    begins: Mapping[str, date]  # by role, the earliest over all parapets
    parts: Mapping[str, str]  # by role, the part placed first
    first: str  # the role that begins the work
    end: date | None
    calendar: WorkCalendar
    leads: Mapping[str, int]  # working days by role
    review: int
    resubmission: int
    closeout: int

    def due(self, roles: Sequence[str], closeout: bool = False) -> Due:
        """The dates of a submittal for these roles; for none of the wall, those of the first step.

        Args:
            roles: of the parts it is about.
            closeout: it is due after the work.
        """
        if closeout:
            after = self.calendar.later(self.end, self.closeout) if self.end else None
            return Due("", after, after)
        known = [role for role in roles if role in self.parts]
        if not self.begins:
            part = self.parts.get(known[0], "") if known else self.parts.get(self.first, "")
            return Due(part, None, None)
        wanted = known or [self.first]
        ready = {role: self.calendar.earlier(self.begins[role], self.leads.get(role, 0)) for role in wanted}
        role = min(wanted, key=lambda one: (ready[one], one))
        submit = self.calendar.earlier(ready[role], self.review + self.resubmission)
        return Due(self.parts[role], ready[role], submit)


def work_dates(assessment: Assessment, schedule: Schedule) -> WorkDates:
    """Lay the order of work of every parapet on the calendar, one step after the other from the start.

    The parapets begin together; a role's date is the earliest at which one of them needs it.

    Args:
        assessment: its walls with their order of work; its practice: lead times, durations and review times, in
            working days.
        schedule: what the user states; it goes before the practice values.
    """
    practice = assessment.practice
    calendar = WorkCalendar(schedule.work_week, schedule.holidays)
    begins: dict[str, date] = {}
    parts: dict[str, str] = {}
    first, end = "", None
    usual = _days(practice, "register.duration")
    for wall in assessment.walls:
        day = calendar.later(schedule.start, 0) if schedule.start else None
        roles = {part.id: part.role for part in wall.parapet.components()}
        for step in wall.order.steps:
            role = roles[step.component]
            first = first or role
            parts.setdefault(role, step.component)
            if day is not None:
                begins[role] = min(begins.get(role, day), day)
                day = calendar.later(day, schedule.durations.get(role, usual))
                end = max(end, day) if end else day
    leads = {
        str(row["role"]): round(cell(row, "lead").value / DAY) for row in practice.table("lead_times").rows
    }
    return WorkDates(
        begins,
        parts,
        first,
        end,
        calendar,
        {**leads, **schedule.lead_times},
        _days(practice, "submittal.review_time") if schedule.review is None else schedule.review,
        _days(practice, "register.resubmission") if schedule.resubmission is None else schedule.resubmission,
        _days(practice, "register.closeout"),
    )


def _days(practice: Practice, key: str) -> int:
    return round(practice.quantity(key).value / DAY)
