"""How a submittal stands today: what its state is, who is waited for, how long it has lain, and how late it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from specgen.model.sheet import Cell
from specgen.model.submission import Recommendation
from specgen.register.columns import ASKED, ROUND
from specgen.register.dates import WorkCalendar
from specgen.register.rounds import FIRST_ROUND

REVIEWER = "reviewer"
IN_REVIEW, AGAIN, NO_RESULT, TO_RETURN = (
    "in review",
    "to be resubmitted",
    "returned without result",
    "result not yet returned",
)
ENDED = {
    Recommendation.NO_EXCEPTIONS.value: "accepted",
    Recommendation.CORRECTIONS.value: "accepted as noted",
    Recommendation.NOT_REQUIRED.value: "not required",
}


@dataclass(frozen=True)
class Today:
    """The day a register is looked at, the days that are worked, and how many of them a review may take."""

    day: date
    calendar: WorkCalendar
    review: int

    def standing(self, row: Mapping[str, Cell]) -> dict[str, Cell]:
        """State, who is waited for, working days in review, working days late; None where there is nothing to say."""
        result, received, returned = (row.get(key) for key in ("result", "received", "returned"))
        submit = row.get("submit")
        if returned is not None:
            if str(result) in ENDED:
                return self._as(ENDED[str(result)])
            return self._as(
                AGAIN if result else NO_RESULT, str(row.get("trade") or "") if result else REVIEWER
            )
        if isinstance(received, date):
            days = self.calendar.worked(received, self.day)
            late = max(0, days - self.review)
            return self._as(TO_RETURN if result else IN_REVIEW, REVIEWER, days, late)
        if result:
            return self._as(TO_RETURN, REVIEWER)
        late = self.calendar.worked(submit, self.day) if isinstance(submit, date) else 0
        again = row.get(ROUND) not in (None, FIRST_ROUND)
        return self._as(AGAIN if again else ASKED, str(row.get("trade") or ""), None, late)

    def _as(self, state: str, waiting: str = "", days: int | None = None, late: int = 0) -> dict[str, Cell]:
        return {"state": state, "waiting": waiting or None, "days": days, "late": late or None}
