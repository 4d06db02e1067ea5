"""Waivers, and answers to what no rule covers, added to and taken out of the text of a project file."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from specgen.files.foreign import refused
from specgen.files.yaml_edit import insert_item, remove_item, set_value
from specgen.files.yaml_places import NAME
from specgen.files.yaml_reader import MarkedList, MarkedMap, read_yaml_text
from specgen.intake.start import scalar
from specgen.practice.entries import Practice

WAIVER, ANSWER = "waiver", "answer"
LISTS = {WAIVER: "waivers", ANSWER: "answers"}
EVERYWHERE = "all"
LONGEST = 2000  # characters of one text


def with_decision(
    text: str, practice: Practice, what: str, values: Mapping[str, str], name: str = NAME
) -> str:
    """The text with one more waiver or answer behind those that stand there.

    Args:
        text: of the project file.
        practice: the vocabulary says what such a decision holds.
        what: ``waiver`` or ``answer``.
        values: by the names of the vocabulary; what is blank is left out.
        name: of the file, for messages.

    Raises:
        InputError: something is missing, is no date, or is too long.
    """
    fields = practice.vocabulary.records[what].fields
    lines = []
    for key, field in fields.items():
        words = " ".join(values.get(key, "").split())
        if not words:
            if field.required:
                raise refused(name, f"the {what} does not say: {field.title}", "fill it in")
            continue
        if len(words) > LONGEST:
            raise refused(name, f"{field.title}: longer than {LONGEST} characters", "shorten it")
        if key == "parapet" and words == EVERYWHERE:
            continue
        lines.append(f"{key}: {_day(words, field.title, name) if field.type == 'date' else scalar(words)}")
    held = _list(text, what, name)
    return insert_item(text, (LISTS[what],), len(held), "\n".join(lines), name)


def without_decision(text: str, what: str, number: int, rule: str, name: str = NAME) -> str:
    """The text without a waiver or an answer.

    Args:
        text: of the project file.
        what: ``waiver`` or ``answer``.
        number: its place in the list, counted from 0.
        rule: that it is on, to see that the list is still the one that was shown.
        name: of the file, for messages.

    Raises:
        InputError: another decision stands there, or none.
    """
    _at(text, what, number, rule, name)
    return remove_item(text, (LISTS[what],), number, name)


def ended(text: str, number: int, rule: str, until: str, name: str = NAME) -> str:
    """The text with another last day of a waiver; raises as :func:`without_decision`."""
    _at(text, WAIVER, number, rule, name)
    day = _day(" ".join(until.split()), "last day of the waiver", name)
    return set_value(text, (LISTS[WAIVER], number, "until"), day, name)


def _list(text: str, what: str, name: str) -> MarkedList | tuple[()]:
    held = read_yaml_text(text, name, want=dict).get(LISTS[what])
    return held if isinstance(held, MarkedList) else ()


def _at(text: str, what: str, number: int, rule: str, name: str) -> None:
    held = _list(text, what, name)
    one = held[number] if 0 <= number < len(held) else None
    if not isinstance(one, MarkedMap) or str(one.get("rule")) != rule:
        raise refused(name, f"another {what} stands at this place now", "look at the list again")


def _day(words: str, title: str, name: str) -> str:
    try:
        return date.fromisoformat(words).isoformat()
    except ValueError:
        raise refused(name, f"{title}: `{words[:40]}` is no date", "write 2027-03-01") from None
