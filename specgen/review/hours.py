"""What a change of the wall does to the kept hourly results: which hold no longer, and what the hours do in it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from specgen.assessment import Assessment
from specgen.design.hourly_kept import standing
from specgen.model.hourly import CutHours, HourlyResult
from specgen.review.compare import TextChange

NO_LONGER = "the kept hourly result no longer holds"


@dataclass(frozen=True)
class HoursChange:
    """A parapet whose kept result is of the wall as specified alone.

    ``after`` is that of the wall as proposed, None where nobody ran it; ``why``, why it has none although it was run.
    """

    parapet: str
    before: HourlyResult
    after: HourlyResult | None = None
    why: str = ""
    ALSO_PLAIN: ClassVar = ("failed", "open")

    @property
    def failed(self) -> bool:
        """Whether the criterion fails in a cut in which it held."""
        held = {cut.cut for cut in self.before.cuts if cut.holds}
        return self.after is not None and any(cut.cut in held and not cut.holds for cut in self.after.cuts)

    @property
    def open(self) -> bool:
        """Whether it is not known what the hours do in the wall as proposed."""
        return self.after is None

    @property
    def words(self) -> str:
        """What became of the kept result, in a line."""
        if self.after is None:
            return f"{self.parapet}: {NO_LONGER}" + (f": {self.why}" if self.why else "")
        fails = [cut.cut for cut in self.after.cuts if not cut.holds]
        criterion = (
            f"the criterion fails in {', '.join(fails)}" if fails else "the criterion holds in every cut"
        )
        return f"{self.parapet}: {NO_LONGER}; with the proposal {criterion}"


def lost_hours(before: Assessment, after: Assessment) -> tuple[HoursChange, ...]:
    """The parapets whose kept result held before a change and does not after it.

    Args:
        before: the project as specified.
        after: the same with the change, and with the same kept results.
    """
    if not before.project.hourly:
        return ()
    found = []
    for parapet in before.project.parapets:
        was = before.stages[-1].memo.at(standing, parapet.name).held
        if was is not None and after.stages[-1].memo.at(standing, parapet.name).held is None:
            found.append(HoursChange(parapet.name, was))
    return tuple(found)


def hours_texts(changes: tuple[HoursChange, ...]) -> Iterator[TextChange]:
    """What the hours do in the wall as specified and as proposed, cut by cut; of what was not run, that it was not."""
    for one in changes:
        after = {cut.cut: cut for cut in one.after.cuts} if one.after else {}
        for cut in one.before.cuts:
            other = after.get(cut.cut)
            words = cut_words(other) if other else (one.why or "not calculated")
            yield TextChange(f"parapet {one.parapet}, {cut.cut}", cut_words(cut), words)


def cut_words(cut: CutHours) -> str:
    """One cut in a line: the criterion, the greatest mold index, and the leakage forgiven."""
    run = cut.at(0.0)
    if run is None:
        return "no run at the leak of the criterion"
    share = "nothing" if cut.forgiven is None else f"{100.0 * cut.forgiven:.3g} %"
    more = " or more" if cut.forgiven_all else ""
    criterion = "holds" if run.holds else "fails"
    return f"criterion {criterion}; mold index {run.mold_peak:.2f}; forgives {share}{more} of the rain"
