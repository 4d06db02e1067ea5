"""What the tracing of a control layer returns: its path, and where and why it breaks."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import ClassVar, Literal

from specgen.files.marks import Mark
from specgen.model.source import Source

Layer = Literal["water", "air", "vapor", "heat"]
LAYERS: tuple[Layer, ...] = ("water", "air", "vapor", "heat")

Standing = Literal["broken", "not stated", "confirm"]
WEIGHT: dict[Standing, int] = {"broken": 9, "not stated": 3, "confirm": 1}

Cause = Literal[
    "route", "missing", "layer", "joint", "lap", "order", "chemistry", "tape", "primer", "sealed", "detail"
]
PLAIN_RUN = "plain run"


@dataclass(frozen=True)
class Break:
    """Where a control layer does not pass from one component to the next.

    ``broken`` is certain; ``not stated`` waits for data of the project; ``confirm`` waits for a manufacturer's letter
    or a person's decision. Each entry of ``least_changes`` alone would close this break.
    """

    first: str
    second: str
    condition: str  # the missing condition in plain words
    mark: Mark
    least_changes: tuple[str, ...]
    cause: Cause
    standing: Standing
    source: Source
    without: tuple[str, ...] = ()  # the roles whose absence makes the break


@dataclass(frozen=True)
class PathStep:
    """One component on the path, and the joint by which the path reached it."""

    id: str
    label: str
    joint: str = ""
    faults: tuple[str, ...] = ()  # causes of the breaks at this joint or in this component


@dataclass(frozen=True)
class LayerPath:
    """The path of one layer at one place of one parapet, with all its breaks."""

    layer: Layer
    parapet: str
    place: str
    steps: tuple[PathStep, ...]
    breaks: tuple[Break, ...]
    lifted: tuple[str, ...] = ()  # pairs on it that pass only by manufacturers' letters, with the letters
    on_limits: bool = False  # a joint on it is as the sections ask for, and not stated
    ALSO_PLAIN: ClassVar = ("unbroken", "chain")

    @property
    def unbroken(self) -> bool:
        """Whether nothing stands against the path."""
        return not self.breaks

    @property
    def failed(self) -> bool:
        """Whether the path is broken for certain."""
        return bool(self.standing("broken"))

    @property
    def open(self) -> bool:
        """Whether something that would tell is not stated."""
        return bool(self.standing("not stated"))

    @property
    def chain(self) -> str:
        """The path as one readable line, its faults marked where they stand.

        >>> steps = (PathStep("m", "roof membrane (TPO)"), PathStep("t", "roof turn-up"),
        ...          PathStep("f", "top flashing", "2 in lap", ("lap",)))
        >>> LayerPath("water", "P-1", "plain run", steps, ()).chain
        'roof membrane (TPO) > roof turn-up > [2 in lap; fault: lap] > top flashing'
        """
        parts: list[str] = []
        for step in self.steps:
            fault = "fault: " + ", ".join(step.faults) if step.faults else ""
            joint = "; ".join(words for words in (step.joint, fault) if words)
            parts += ([f"[{joint}]"] if joint else []) + [step.label]
        return " > ".join(parts) if parts else "no path declared"

    def standing(self, standing: Standing) -> tuple[Break, ...]:
        """The breaks of one standing."""
        return tuple(one for one in self.breaks if one.standing == standing)


def path_lines(path: LayerPath) -> list[str]:
    """The path as text: a head, the chain, and each break with its place in the file and what would close it."""
    counts = Counter(one.standing for one in path.breaks)
    verdict = ", ".join(f"{count} {standing}" for standing, count in sorted(counts.items())) or "unbroken"
    lines = [f"{path.layer} at {path.parapet}, {path.place}: {verdict}", f"    {path.chain}"]
    for one in path.breaks:
        lines.append(f"  {one.mark}: {one.standing}: {one.first} to {one.second}: {one.condition}")
        lines += [f"    to close it: {change}" for change in one.least_changes]
    return lines + [f"  by letter: {pair}" for pair in path.lifted]
