"""Where a number or a statement comes from, and how far it may be trusted."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from typing import ClassVar

from specgen.files.marks import Mark


class Status(Enum):
    """How a practice entry is known. Printed wherever the entry is used."""

    CODE = "C"
    STANDARD = "S"
    PRACTICE = "P"
    MEMORY = "M"
    CHOICE = "project"  # the project's own choice; never the status of a practice entry
    CALCULATED = "calculated"  # from a calculation whose inputs carry their own status
    OFFICE = "office"  # a standard of the office that writes the documents

    @property
    def words(self) -> str:
        """The status as a reader sees it."""
        return _STATUS_WORDS[self]


# Documents of law in the United States, whatever the status of a quote.
CODES = ("IBC", "IEBC", "IRC", "IECC", "IPC", "Florida Building Code, Building")

_STATUS_WORDS = {
    Status.CODE: "model code",
    Status.STANDARD: "published standard",
    Status.PRACTICE: "common practice",
    Status.MEMORY: "from memory, confirm against the source",
    Status.CHOICE: "choice of the project",
    Status.CALCULATED: "calculated, see its inputs",
    Status.OFFICE: "standard of the office",
}


@dataclass(frozen=True, slots=True)
class Source:
    """A citation: the document, its edition, the place in it, and the status of what is taken from it.

    ``office`` names the office that entered it; ``instead_of`` is the source whose value the office replaced.

    >>> code = Source("IBC", "2021", "2510.6.2", Status.CODE)
    >>> print(Source("Standards", "2026", "item 4", Status.OFFICE, "Hill Office", code))
    Standards 2026, item 4 [standard of the office Hill Office], in place of IBC 2021, 2510.6.2 [C: model code]
    """

    document: str
    edition: str
    place: str
    status: Status
    office: str = ""
    instead_of: Source | None = None
    ALSO_PLAIN: ClassVar = ("status_words",)

    @classmethod
    def of_project(cls, mark: Mark) -> Source:
        """The line of a project file in which a choice stands.

        >>> print(Source.of_project(Mark("job/project.yaml", 12, 5)))
        project.yaml line 12 [choice of the project]
        """
        return cls(f"{Path(mark.file).name} line {mark.line}", "", "", Status.CHOICE)

    @property
    def of_code(self) -> bool:
        """Whether a code is quoted, checked or from memory."""
        return self.status is Status.CODE or self.document in CODES

    @property
    def rests_on_code(self) -> bool:
        """Whether a code is quoted, or stands behind what the office put in its place."""
        return self.of_code or (self.instead_of is not None and self.instead_of.of_code)

    @property
    def named(self) -> str:
        """Document, edition, and place, without how they are known: for papers that leave the office."""
        document = " ".join(part for part in (self.document, self.edition) if part)
        return ", ".join(part for part in (document, self.place) if part)

    def __str__(self) -> str:
        words = self.status.words
        if self.status is Status.OFFICE:
            words = f"{words} {self.office}"
        elif self.status not in (Status.CHOICE, Status.CALCULATED):
            words = f"{self.status.value}: {words}" + (f"; entered by {self.office}" if self.office else "")
        original = f", in place of {self.instead_of}" if self.instead_of else ""
        return f"{self.named} [{words}]{original}"

    @property
    def status_words(self) -> str:
        """The status as a reader sees it."""
        return self.status.words
