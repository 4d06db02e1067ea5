"""One value of a project as a form shows it: how it stands, what is asked of it, and what stands on it."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from specgen.model.finding import Finding

STATED, LEFT, OPEN, APART = "stated", "left", "unknown", "apart"
WAYS: Mapping[str, str] = {
    STATED: "stated",
    LEFT: "left to the sections",
    OPEN: "not known yet",
    APART: "does not apply",
}
NOT_STATED = "not stated"  # how the second way reads where no section asks for the value
KIND = "kind"
COMPONENT = "component"  # the record of an address, where the place is the id of a part
_ITS_KEY = re.compile(r"^`[a-z0-9_]+`(?:(: )| )")
_FOR_FILES = re.compile(r",(?: in lower case and)? without quotes$")
_QUOTED = re.compile("`([^`]*)`")
_FEW = 7  # choices that stand side by side; more of them are a list to open


@dataclass(frozen=True)
class FieldAddress:
    """Where a value stands, by names.

    ``record`` is a section of the file, ``component``, or a record of the vocabulary; ``place`` the id of the component,
    the two ids of a lap with " / " between them, or the name of a place along the parapet.
    """

    record: str
    key: str
    parapet: str = ""
    place: str = ""

    @property
    def id(self) -> str:
        """A name for the page: the same for the same value, and of letters that every browser takes."""
        parts = (self.record, self.parapet, self.place, self.key)
        mark = hashlib.sha256("\0".join(parts).encode("utf-8", "surrogatepass")).hexdigest()
        return f"field-{mark[:12]}"


@dataclass(frozen=True)
class FieldChoice:
    """One of the words that a value may be; ``breaks`` says what it would break, "" where nothing is known of it."""

    value: str
    label: str
    chosen: bool = False
    breaks: str = ""


@dataclass(frozen=True)
class FieldLimit:
    """What the sections ask of a value, with the paragraph that states it and the reason."""

    words: str
    paragraph: str  # "07 71 00 2.2.A"; "" where no section is written for it
    section: str  # the number behind which the page of the section is found
    key: str  # of the paragraph
    reason: str


@dataclass(frozen=True)
class FieldView:
    """One value as a form shows it."""

    address: FieldAddress
    label: str
    help: str
    input: str  # choice, several, flag, quantity, count, date or text
    way: str  # STATED, LEFT, OPEN or APART
    ways: Mapping[str, str]  # the ways it may stand in, each in words
    value: str = ""  # as it was typed; of several words with commas between them
    was: str = ""  # the value and the way that the file has, whatever was typed since
    was_way: str = ""
    choices: tuple[FieldChoice, ...] = ()
    units: tuple[str, ...] = ()  # the value, or an example, in each usual unit
    accepts: str = ""  # what may be written, in words
    echo: str = ""  # what was understood: 76 ft = 23.2 m
    limit: FieldLimit | None = None
    reason: str = ""  # why it does not apply, or why it is meant
    problem: str = ""  # why what was just typed cannot be used
    doubt: str = ""  # why a value that stands there is set aside
    findings: tuple[Finding, ...] = ()  # that somebody must act on, and that stand on this value
    checks: int = 0  # that read it
    comments: int = 0
    # For how much a change holds, where that can be chosen.
    scopes: Mapping[str, str] = field(default_factory=dict)

    @property
    def id(self) -> str:
        """The name of the field on the page."""
        return self.address.id

    @property
    def long(self) -> bool:
        """Whether its choices are a list to open, and not side by side."""
        return len(self.choices) > (_FEW if self.address.key != KIND else len(self.choices))

    @property
    def grouped(self) -> bool:
        """Whether it is a group of choices, each with a label, below the label of the field."""
        return self.input in ("choice", "flag", "several") and not self.long

    @property
    def offered(self) -> tuple[str, ...]:
        """What a line of text offers to take: the value in other units, or the words of a long list."""
        return self.units or (tuple(one.value for one in self.choices) if self.input == "several" else ())

    def refused(self, way: str, typed: str, reason: str, problem: str) -> FieldView:
        """The field with what somebody typed, which cannot be used, so that nothing of it is lost."""
        held = tuple(replace(one, chosen=one.value in several(typed)) for one in self.choices)
        return replace(self, way=way, value=typed, reason=reason, problem=problem, choices=held, echo="")


def several(typed: str) -> tuple[str, ...]:
    """The words of a list as it was typed, and the whole of it where it is one word with a comma in it."""
    return (typed, *(one.strip() for one in typed.strip("[]").split(",")))


def at_its_field(problem: str) -> str:
    """A problem of a file as it is read beside the field: without its key, and without what a text file alone wants.

    >>> at_its_field("`height`: `76 fet`: unit `fet` is not known; did you mean `ft`?")
    '“76 fet”: unit “fet” is not known; did you mean “ft”?'
    >>> at_its_field("`issue_date` is `soon`, a date is wanted; write it as 2026-11-02, without quotes")
    'It is “soon”, a date is wanted; write it as 2026-11-02'
    """
    words = _ITS_KEY.sub(lambda match: "It " if match[1] is None else "", problem)
    return _QUOTED.sub("“\\1”", _FOR_FILES.sub("", words))


def decided(way: str, was_way: str, value: str, was: str) -> str:
    """The way that somebody means: who types a value and leaves the way as it was states the value.

    >>> decided("left", "left", "4 in", ""), decided("unknown", "stated", "4 in", "4 in")
    ('stated', 'unknown')
    """
    if way != was_way:
        return way
    if value.strip() != was.strip():
        return STATED if value.strip() else LEFT
    return way
