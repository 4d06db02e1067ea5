"""A schedule file to a :class:`Schedule`: start of the work, days without work, times in working days.

A time that is not expected is set aside, and the usual one counts, until ``meant`` gives the reason for it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from specgen.files.marks import InputProblem, Mark, near, refuse, suggestion
from specgen.files.yaml_reader import MarkedList, MarkedMap
from specgen.intake.formats import read_file
from specgen.intake.schema import unknown_keys
from specgen.intake.values import described, strange_year
from specgen.model.schedule import WEEK, WORK_WEEK, Schedule
from specgen.practice.entries import Practice
from specgen.practice.ranges import TIMES, Range
from specgen.practice.shapes import shape
from specgen.units.quantity import quantity

FILE = shape("schedule file")
LONGEST = 1000  # working days
MOST_HOLIDAYS = FILE["holidays"].most


def load_schedule(path: Path, practice: Practice) -> Schedule:
    """Read and check a schedule file.

    Args:
        path: the YAML file.
        practice: knows the roles whose times it may state.

    Raises:
        InputError: carries every problem found.
    """
    reader = _Reader(read_file(path, "schedule"), practice)
    schedule = reader.read()
    refuse(reader.problems)
    return schedule


class _Reader:
    def __init__(self, root: MarkedMap, practice: Practice) -> None:
        self.root = root
        self.roles = practice.vocabulary.roles
        self.times = practice.table(TIMES)
        self.problems: list[InputProblem] = []
        self.asked: list[InputProblem] = []
        self.stated: set[str] = set()  # every time, as `meant` names it
        self.meant: set[str] = set()

    def read(self) -> Schedule:
        self.problems += unknown_keys(self.root, [key for key in self.root if key not in FILE], FILE)[0]
        start = self._given("start")
        if start is not None and not isinstance(start, date):
            self._problem(
                self.root.values_at["start"], f"`start`: {described(start)} is no date", "write 2027-03-01"
            )
            start = None
        elif start is not None and (problem := strange_year(start)):
            self._problem(self.root.values_at["start"], f"`start`: {problem}", "correct the year")
        self.meant = self._meant()
        found = Schedule(
            start=start,
            work_week=self._week(),
            holidays=tuple(self._holidays()),
            durations=self._by_role("durations", 1),
            lead_times=self._by_role("lead_times", 0),
            review=self._count("review"),
            resubmission=self._count("resubmission"),
        )
        for name in sorted(self.meant - self.stated):
            mark = self.root["meant"].keys_at[name]
            self._problem(
                mark, f"`meant` names `{name}`, which is not stated here", "write `lead_times.coping`"
            )
        return replace(found, asked=tuple(self.asked))

    def _meant(self) -> set[str]:
        """The times that are meant although they are not expected."""
        given = self._given("meant")
        if given is None:
            return set()
        reasons = given.values() if isinstance(given, MarkedMap) else (None,)
        if not all(isinstance(reason, str) and reason.strip() for reason in reasons):
            wanted = "write `meant: {lead_times.coping: reason}`"
            self._problem(self.root.values_at["meant"], "`meant`: a reason is wanted for each time", wanted)
            return set()
        return set(given)

    def _expected(self, days: int, mark: Mark, what: str, role: str = "") -> bool:
        """Whether a time is expected, or meant; one that is neither is asked about."""
        name = f"{what}.{role}" if role else what
        self.stated.add(name)
        row = *self.times.where(what=what, role=role or None), *self.times.where(what=what, role=None)
        expected, stated = Range.of(row[0]), quantity(days, "day")
        if expected.holds(stated) or name in self.meant:
            return True
        words = f"expected: {expected.words()} ({expected.usual})"
        fix = f"correct it, or add `meant: {{{name}: reason}}`; until then the usual time counts"
        self.asked.append(InputProblem(mark, f"`{name}` is {stated.text}; {words}; is this meant?", fix))
        return False

    def _problem(self, mark: Mark, message: str, fix: str) -> None:
        self.problems.append(InputProblem(mark, message, fix))

    def _given(self, key: str) -> Any:
        return self.root.get(key)

    def _week(self) -> tuple[str, ...]:
        given = self._given("work_week")
        if given is None:
            return WORK_WEEK
        mark = self.root.values_at["work_week"]
        if not isinstance(given, MarkedList) or not given:
            self._problem(
                mark, f"`work_week`: {described(given)} is no list of days", f"choose from {', '.join(WEEK)}"
            )
            return WORK_WEEK
        strange = [str(day) for day in given if day not in WEEK]
        for day in strange:
            self._problem(mark, f"no day `{day}`", suggestion(day, WEEK, f"choose from {', '.join(WEEK)}"))
        return WORK_WEEK if strange else tuple(day for day in WEEK if day in given)

    def _holidays(self) -> list[date]:
        given = self._given("holidays")
        if given is None:
            return []
        mark = self.root.values_at["holidays"]
        if not isinstance(given, MarkedList) or len(given) > MOST_HOLIDAYS:
            self._problem(
                mark,
                f"`holidays`: {described(given)} is no list of at most {MOST_HOLIDAYS} dates",
                "write [2027-07-05]",
            )
            return []
        out = []
        for day, place in zip(given, given.items_at, strict=True):
            if not isinstance(day, date):
                self._problem(place, f"{described(day)} is no date", "write it as 2027-07-05")
            elif problem := strange_year(day):
                self._problem(place, problem, "correct the year")
            else:
                out.append(day)
        return out

    def _by_role(self, key: str, least: int) -> Mapping[str, int]:
        given = self._given(key)
        if given is None:
            return {}
        if not isinstance(given, MarkedMap):
            self._problem(
                self.root.values_at[key],
                f"`{key}`: {described(given)} gives no times by role",
                "write `coping: 30`",
            )
            return {}
        out = {}
        for role, days in given.items():
            if role not in self.roles:
                hint = near(role, self.roles)
                self._problem(
                    given.keys_at[role],
                    f"no role `{role}`",
                    f"did you mean `{hint}`?" if hint else "use a role of the project file",
                )
            elif not self._is_count(days, given.values_at[role], role, least):
                continue
            elif self._expected(days, given.values_at[role], key, role):
                out[role] = days
        return out

    def _count(self, key: str) -> int | None:
        given = self._given(key)
        mark = self.root.values_at.get(key, self.root.mark)
        if given is None or not self._is_count(given, mark, key, 0) or not self._expected(given, mark, key):
            return None
        return int(given)

    def _is_count(self, days: Any, mark: Mark, name: str, least: int) -> bool:
        if isinstance(days, bool) or not isinstance(days, int) or not least <= days <= LONGEST:
            self._problem(
                mark,
                f"`{name}`: {described(days)} is no number of working days from {least} to {LONGEST}",
                "write a whole number, as 10",
            )
            return False
        return True
