"""What `check` tells of a project file in which one value slipped, and the reasons why it may tell nothing."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cached_property, lru_cache
from pathlib import Path

from specgen.assessment import Assessment, assess
from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.model.finding import Finding
from specgen.practice.load import load_practice
from tests import plain_yaml
from tests.chain.runs import REPO
from tests.chain.sweep.values import KINDS, VOCABULARY, Scalar, Slip, scalars, slips

REASONS = Path(__file__).parent / "reasons.yaml"
ERROR, UNKNOWN, FINDING, ELSEWHERE, SILENT = (
    "input error",
    "unknown",
    "finding",
    "finding elsewhere",
    "silent",
)
ANSWERS = (ERROR, UNKNOWN, FINDING, ELSEWHERE, SILENT)


@dataclass(frozen=True)
class Example:
    """A worked example or the file that a new project starts with, assessed once."""

    file: Path
    scratch: Path

    @property
    def name(self) -> str:
        return self.file.parent.name

    @property
    def stated(self) -> bool:
        """Whether it is the fully stated copy that tests change."""
        return "stated" in self.file.parts

    @cached_property
    def text(self) -> str:
        return self.file.read_text("utf-8")

    @cached_property
    def scalars(self) -> tuple[Scalar, ...]:
        return scalars(self.text)

    @cached_property
    def before(self) -> Assessment:
        self.write(self.text)
        return assess(load_project(self.scratch, load_practice()), load_practice())

    def answer_to(self, slip: Slip) -> str:
        """How a slip is told.

        Returns:
            An input error; an unknown or a finding that names the value or its line; a new finding that does not
            name it; silent, where nothing is new, or no more than the wording of a finding about something else.
        """
        before = self.before
        self.write(slip.of(self.text))
        try:
            after = before.again(load_project(self.scratch, before.shipped))
        except InputError:
            return ERROR
        words = {(_key(one), one.message) for one in before.findings if one.counts}
        new = [one for one in after.findings if one.counts and (_key(one), one.message) not in words]
        named = [one for one in new if _names(one, slip)]
        if named:
            return UNKNOWN if any(one.open for one in named) else FINDING
        known = {key for key, _ in words}
        return ELSEWHERE if any(_key(one) not in known for one in new) else SILENT

    def write(self, text: str) -> None:
        (self.scratch / "project.yaml").write_text(text, "utf-8")


def _key(finding: Finding) -> tuple[str, ...]:
    return finding.code, finding.parapet, finding.layer, finding.outcome.value


def _names(finding: Finding, slip: Slip) -> bool:
    """Whether a finding names the changed line or the changed value."""
    scalar = slip.scalar
    known = (VOCABULARY.roles.get(scalar.what), VOCABULARY.records.get(scalar.what))
    titles = {one.fields[scalar.name].title for one in known if one and scalar.name in one.fields}
    words = f"{finding.message} {finding.missing}"
    return (
        finding.mark.line == scalar.line
        or finding.attribute == scalar.name
        or any(word in words for word in {scalar.name, slip.text.strip("\"'"), *titles})
    )


@lru_cache(maxsize=1)
def examples() -> tuple[Example, ...]:
    """Every worked example, and the file that a new project starts with."""
    files = [
        *sorted((REPO / "tests" / "stated").glob("*/project.yaml")),
        REPO / "templates" / "new" / "project.yaml",
    ]
    return tuple(Example(file, Path(tempfile.mkdtemp())) for file in files)


@lru_cache(maxsize=1)
def every_slip() -> tuple[tuple[Example, Slip], ...]:
    """Every slip of every value of every example."""
    every = examples()
    found: list[tuple[Example, Slip]] = []
    for number, example in enumerate(every):
        others = tuple(one for other in (*every[number + 1 :], *every[:number]) for one in other.scalars)
        found += [(example, slip) for slip in slips(example.scalars, others)]
    return tuple(found)


# Why a slip may be silent


@dataclass(frozen=True)
class Reason:
    """Slips of some fields that nothing needs to tell, and why."""

    field: str  # pattern of `role.attribute`
    change: str
    reason: str
    examples: tuple[str, ...] = ()  # empty: all of them

    def fits(self, example: Example, slip: Slip) -> bool:
        return self.fits_at(example, slip.scalar.field, slip.change)

    def fits_at(self, example: Example, field: str, change: str) -> bool:
        """Whether the reason holds for this change of a field of an example."""
        named = not self.examples or example.name in self.examples
        return change == self.change and fnmatchcase(field, self.field) and named


@lru_cache(maxsize=1)
def reasons() -> tuple[Reason, ...]:
    """The table of reasons, a row for each field and change."""
    return read_reasons(REASONS, KINDS)


def read_reasons(file: Path, kinds: tuple[str, ...]) -> tuple[Reason, ...]:
    """A table of reasons for changes of these kinds."""
    rows = plain_yaml.load(file.read_text("utf-8")) or ()
    strange = {change for row in rows for change in row["changes"] if change not in kinds}
    if strange:
        raise ValueError(f"{file.name}: {sorted(strange)} is no change; choose: {', '.join(kinds)}")
    return tuple(
        Reason(field, change, row["reason"], tuple(row.get("examples", ())))
        for row in rows
        for field in row["fields"]
        for change in row["changes"]
    )
