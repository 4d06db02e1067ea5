"""Why each choice of a wall stands: its reason and source, what is as good, what comes next and what is worse of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from specgen.model.source import Source
from specgen.propose.build import tapes
from specgen.propose.choices import OVERFLOW, PRIMARY, SCUPPER, Choice, Option
from specgen.propose.drained import OVERFLOWS, SCUPPERS, SLEEVE
from specgen.propose.plastered import FACING, FACING_TAPE, ROOF_SIDE
from specgen.propose.proposals import Beside, Found
from specgen.propose.trial import Tried


@dataclass(frozen=True)
class Reason:
    """One choice of a wall, with what stands beside it."""

    choice: str
    option: str
    because: str
    source: Source
    equal: tuple[str, ...]
    next_best: str
    worse: str

    @property
    def lines(self) -> tuple[str, ...]:
        """The choice in sentences."""
        found = [f"{self.because[:1].upper()}{self.because[1:]} ({self.source})."]
        if self.equal:
            found.append(f"As good in all that is compared: {'; '.join(self.equal)}.")
        if self.next_best:
            found.append(f"Next best: {self.next_best}; worse: {self.worse}.")
        elif not self.equal:
            found.append("Nothing else that is offered fits here.")
        return tuple(found)


def reasons(found: Found, one: Tried) -> tuple[Reason, ...]:
    """Each choice of a wall, in the order of the choices."""
    beside = found.beside(one)
    return tuple(
        _reason(
            choice.name,
            choice.source,
            option,
            _or_larger(choice, option, beside.get(choice.name, Beside(()))),
        )
        for choice, option in zip(found.choices, one.wall, strict=True)
    )


def _or_larger(choice: Choice, option: Option, beside: Beside) -> Beside:
    """Behind an opening that fits, the next larger one, which is not tried; behind the largest, the one before it."""
    if choice.name not in (SCUPPERS, OVERFLOWS) or beside.equal or beside.next_best:
        return beside
    later = choice.options[choice.options.index(option) + 1 :]
    larger = next((one.label for one in later if one.numbers == option.numbers), "")
    if larger:
        return Beside((), larger, "a larger opening than the rain asks for")
    smaller = choice.options[: choice.options.index(option)]
    if smaller and choice.name == OVERFLOWS:
        return Beside((), smaller[-1].label, "deeper water over blocked drains")
    return beside


def _reason(name: str, source: Source, option: Option, beside: Beside) -> Reason:
    return Reason(
        name, option.label, option.because or "stated", source, beside.equal, beside.next_best, beside.worse
    )


def notes(found: Found, one: Tried) -> Mapping[tuple[str, ...], tuple[str, ...]]:
    """The lines above each choice in the file of a wall: by id of a part, by the two ends of a lap, by value."""
    lines = {reason.choice: reason.lines for reason in reasons(found, one)}
    out: dict[tuple[str, ...], tuple[str, ...]] = {}
    for choice, option in zip(found.choices, one.wall, strict=True):
        if option.lap is not None:
            out[option.lap.first, option.lap.second] = lines[choice.name]
        for part in option.parts[:1]:
            out[(part.id,)] = lines[choice.name]
    for name in ROOF_SIDE.values():
        out[(name,)] = ("The roof side is plastered: as on the outer face.",)
    for use in (PRIMARY, OVERFLOW):
        out[SCUPPER, use] = tuple(
            line
            for choice, option in zip(found.choices, one.wall, strict=True)
            if use == next((use for use, _, _ in option.of_scuppers), "none")
            or (use == PRIMARY and choice.name == SLEEVE)
            for line in (f"{choice.name[:1].upper()}{choice.name[1:]}: {option.label}.", *lines[choice.name])
        )
    laps = [option.lap for option in one.wall if option.lap is not None]
    upper = tapes((lap for lap in laps if lap.first != FACING), found.offers.pattern)
    for name in (*upper.values(), FACING_TAPE):
        out.setdefault(
            (name,), ("Bridges the laps that name it; its manufacturer approves both sides in writing.",)
        )
    given = found.offers.given
    for (what, name), (_, because) in given.values.items():
        out[what, name] = (f"{because[:1].upper()}{because[1:]} ({given.source}).",)
    return {key: value for key, value in out.items() if value}
