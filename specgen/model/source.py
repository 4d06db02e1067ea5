"""Where a number or a statement comes from, and how far it may be trusted."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Status(Enum):
    """How a practice entry is known. Printed wherever the entry is used."""

    CODE = "C"
    STANDARD = "S"
    PRACTICE = "P"
    MEMORY = "M"
    CHOICE = "project"  # the project's own choice; never the status of a practice entry
    CALCULATED = "calculated"  # from a calculation whose inputs carry their own status

    @property
    def words(self) -> str:
        """The status as a reader sees it."""
        return _STATUS_WORDS[self]


_STATUS_WORDS = {
    Status.CODE: "adopted model code",
    Status.STANDARD: "published standard",
    Status.PRACTICE: "common practice",
    Status.MEMORY: "from memory, confirm against the source",
    Status.CHOICE: "choice of the project",
    Status.CALCULATED: "calculated, see its inputs",
}


@dataclass(frozen=True, slots=True)
class Source:
    """A citation: the document, its edition, the place in it, and the status of what is taken from it."""

    document: str
    edition: str
    place: str
    status: Status

    def __str__(self) -> str:
        named = " ".join(part for part in (self.document, self.edition, self.place) if part)
        if self.status in (Status.CHOICE, Status.CALCULATED):
            return f"{named} [{self.status.words}]"
        return f"{named} [{self.status.value}: {self.status.words}]"

    def as_json(self) -> dict[str, str]:
        """The citation as plain data."""
        return {
            "document": self.document,
            "edition": self.edition,
            "place": self.place,
            "status": self.status.value,
            "status_words": self.status.words,
        }
