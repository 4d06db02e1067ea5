"""A reading as a submittal file: values with their evidence, and a line `confirm:` where a person must look."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence

from specgen.intake.formats import FORMAT, current
from specgen.model.datasheet import Reading, ReadValue, SheetHead, Standing
from specgen.practice.entries import Role
from specgen.units.counted import many

LONGEST = 400
NOT_NUMBERED = "not numbered"
HEAD = """\
# Read from data sheets by specgen. A person compares every value with its evidence before it is used.
# A value with a line `confirm:` counts as not confirmed, and the review says so. Compare it with the sheet,
# correct value and method, then delete its line `confirm:`. A value left blank counts as not stated.
"""
NUMBERS = "# Give the submittal its number, project, date and sender.\n"


def product_yaml(reading: Reading, role: Role, number: str = NOT_NUMBERED) -> str:
    """The text of the file.

    Args:
        reading: what was read.
        role: its role, for the titles, methods and conditions of what was not found.
        number: of the submittal, to be corrected.
    """
    lines = [HEAD.rstrip("\n")]
    lines += [f"# {_comment(note)}" for note in reading.notes]
    if reading.unread:
        rows = many(len(reading.unread), "row")
        lines.append(f"# {rows} not understood or not asked for; the evidence page shows them.")
    lines += [
        f"{FORMAT}: {current('submittal')}",
        NUMBERS.rstrip("\n"),
        "submittal:",
        f"  number: {quoted(number)}",
        "products:",
    ]
    lines += [f"  - role: {reading.role}", f"    name: {quoted(reading.name)}  # compare it with the papers"]
    lines += list(_papers(reading.sheets))
    for value in reading.values:
        lines += list(_value(value, role))
    return "\n".join(lines) + "\n"


def _papers(heads: Sequence[SheetHead]) -> Iterator[str]:
    """What each paper says of itself; a notice stands until a person answers it."""
    if not heads:
        return
    yield "    papers:"
    for head in heads:
        yield f"      - file: {quoted(head.file)}"
        for key, text in (
            ("product", head.product),
            ("grade", head.grade),
            ("edition", head.edition),
            ("date", head.day),
        ):
            plain = text if key == "date" else quoted(text)
            yield f"        {key}: {plain}" if text else f"        # {key}: not found on the paper"
        if head.notices:
            yield "        notices:  # nothing on the paper counts before each has its `answer`"
        for notice in head.notices:
            yield f"          - notice: {quoted(f'{notice.words} ({notice.page}: {notice.title})')}"
            yield "            # answer: why the paper counts all the same, and by whose word"


def value_words(value: ReadValue, role: Role) -> str:
    """What was read of one attribute, as it stands below the attribute's key in a submittal file."""
    _key, *lines = _value(value, role)
    return "\n".join(line.removeprefix("      ") for line in lines)


def _value(value: ReadValue, role: Role) -> Iterator[str]:
    if value.standing is Standing.NOT_FOUND:
        if value.attribute == "kind":
            yield f"    # kind: not found in the files; choose: {', '.join(role.kinds)}"
            return
        field = role.fields[value.attribute]
        wanted = f"; {field.method}" if field.method else ""
        at = f" at {field.at}" if field.at else ""
        yield f"    {value.attribute}:  # {field.title}: not found in the files{wanted}{at}"
        return
    yield f"    {value.attribute}:"
    field_type = role.fields[value.attribute].type if value.attribute in role.fields else "word"
    yield f"      value: {scalar_of(value.value, field_type)}".rstrip()
    if value.method:
        yield f"      method: {quoted(value.method)}"
    if value.evidence:
        yield f"      evidence: {quoted('; '.join((*value.notes, str(value.evidence[0]))))}"
    if value.confirm:
        yield f"      confirm: {quoted(value.confirm)}"
    if value.question:
        yield f"      # {_comment(value.question)} The review will ask; `meant: {{{value.attribute}: reason}}` answers."
    for other in value.evidence[1:]:
        yield f"      # also: {_comment(str(other))}"


def scalar_of(value: str, field_type: str) -> str:
    """A value as YAML: yes, no and whole numbers plain, all else in quotes; blank where there is none."""
    if not value:
        return ""
    if field_type == "yes or no" or (field_type == "count" and value.isascii() and value.isdecimal()):
        return value
    return quoted(value)


def quoted(text: str) -> str:
    """A text in quotes, on one line and not too long."""
    flat = _flat(text)
    return json.dumps(flat if len(flat) <= LONGEST else flat[: LONGEST - 1] + "…", ensure_ascii=False)


def _comment(text: str) -> str:
    return _flat(text)[:LONGEST]


def _flat(text: str) -> str:
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())
