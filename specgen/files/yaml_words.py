"""A YAML parser's syntax error in plain words, at the place where the writer has to act."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

import yaml

from specgen.files.marks import InputProblem, Mark, shown

_LINE_BREAK = re.compile("\r\n|[\r\n\x85\u2028\u2029]")
_CLOSING = {"[": "]", "{": "}"}
_CANNOT_START = {
    "\t": ("a tab stands where spaces are wanted", "use spaces"),
    "%": ("a value cannot start with '%'", "put the value in quotes"),
    "@": ("a value cannot start with '@'", "put the value in quotes"),
    "`": ("a value cannot start with a backtick", "put the value in quotes"),
}


@dataclass(frozen=True, slots=True)
class _Place:
    """A place in the text by line and column, both from 0, with the words of its line."""

    line: int
    column: int
    words: str
    before: str


@dataclass(frozen=True, slots=True)
class _Fault:
    """A parser's error: where the construct began, where it failed, and the parser's own phrase."""

    began: _Place
    failed: _Place
    context: str
    phrase: str


_Answer = tuple[_Place, str, str]


def mark_at(text: str, index: int, name: str) -> Mark:
    """The mark of the character `index` of `text`; lines end where YAML ends them."""
    breaks = list(_LINE_BREAK.finditer(text, 0, index))
    return Mark(name, len(breaks) + 1, index - (breaks[-1].end() if breaks else 0) + 1)


def plain_words(error: yaml.MarkedYAMLError, text: str, name: str) -> InputProblem:
    """The problem to show for a syntax error that the parser written in Python raised on `text`."""
    lines = _LINE_BREAK.split(text)
    failed = _place(error.problem_mark, lines)
    began = _place(error.context_mark, lines) if error.context_mark else failed
    fault = _Fault(began, failed, error.context or "", error.problem or "")
    for phrase, answer in _ANSWERS:
        if phrase in fault.phrase:
            place, message, fix = answer(fault)
            break
    else:
        place, message, fix = (
            failed,
            f"this is not YAML: {fault.phrase}",
            "put the value in quotes if it is text",
        )
    return InputProblem(Mark(name, place.line + 1, place.column + 1), message, fix)


def _place(mark: yaml.Mark | None, lines: list[str]) -> _Place:
    if mark is None:
        return _Place(0, 0, lines[0], "")
    before = next((line for line in reversed(lines[: mark.line]) if line.strip()), "")
    return _Place(mark.line, mark.column, lines[mark.line] if mark.line < len(lines) else "", before)


def _glued(line: str) -> str:
    """The key of a line such as `height:30` that has no space after its colon, or ""."""
    found = re.match(r"\s*(?:- +)*([^\s:#'\"\[{]+):[^\s:/]", line)
    return found[1] if found else ""


def _cannot_start(fault: _Fault) -> _Answer:
    place = fault.failed
    character = place.words[place.column : place.column + 1]
    message = (f"a value cannot start with {shown(character)}", "put the value in quotes")
    return (place, *_CANNOT_START.get(character, message))


def _no_colon(fault: _Fault) -> _Answer:
    place = fault.began
    key = _glued(place.words)
    if key:
        return place, f"no space after the colon of {shown(key)}", "put a space after the colon"
    word = place.words[place.column :].strip()
    return (
        place,
        f"no colon after {shown(word)}",
        "write 'key: value', or line the text up with the value it belongs to",
    )


def _unexpected_colon(fault: _Fault) -> _Answer:
    place = fault.failed
    head = place.words[: place.column]
    if re.search(r":\s", head):
        return (
            place,
            "a colon and a space stand inside a value without quotes",
            "put the whole value in quotes",
        )
    key = _glued(place.before)
    if key:
        return place, f"no space after the colon of {shown(key)} above", "put a space after that colon"
    return (
        place,
        f"the key {shown(head.strip())} stands under a line that already has its value",
        "line it up with the keys above, or check the indentation",
    )


def _open_quote(fault: _Fault) -> _Answer:
    return fault.began, "the quote opened here is not closed", "add the closing quote"


def _escape(fault: _Fault) -> _Answer:
    return (
        fault.failed,
        "unknown escape after a backslash inside double quotes",
        "use single quotes, or write the backslash twice",
    )


def _open_bracket(fault: _Fault) -> _Answer:
    if fault.phrase.endswith("'?'"):
        return (
            fault.failed,
            "a question mark stands inside brackets without quotes",
            "put the value in quotes",
        )
    place = fault.began
    bracket = place.words[place.column : place.column + 1]
    closing = _CLOSING.get(bracket, "closing bracket")
    where = f"line {fault.failed.line + 1} column {fault.failed.column + 1}"
    return (
        place,
        f"the {shown(bracket)} opened here is not closed, or a comma is missing before {where}",
        f"add {shown(closing)} or the comma",
    )


def _indentation(fault: _Fault) -> _Answer:
    place = fault.failed
    head = place.words[: place.column].rstrip()
    if head.endswith(("'", '"')):
        return place, "there is text after the closing quote", "put the whole value inside one pair of quotes"
    if fault.phrase.endswith(("']'", "'}'", "','")):
        sign = place.words[place.column : place.column + 1]
        return (
            place,
            f"{shown(sign)} stands here without an opening bracket",
            "remove it, or put the value in quotes",
        )
    if not head and place.words[place.column :].startswith(":"):
        return place, "a key is missing before the colon", "write the key before the colon"
    if head.strip(" -"):
        return place, "there is text after the end of a value", "put the whole value in quotes"
    return (
        place,
        "the indentation fits no line above",
        f"line it up with line {fault.began.line + 1}, column {fault.began.column + 1}, or its neighbours",
    )


def _list_item(fault: _Fault) -> _Answer:
    return fault.failed, "a list item '- ' cannot stand here", "put it on its own line, under its key"


def _question(fault: _Fault) -> _Answer:
    return fault.failed, "a '? ' key cannot stand here", "put text with a question mark in quotes"


def _after_end(fault: _Fault) -> _Answer:
    if fault.failed.before.startswith("%"):
        return fault.failed, "the line above starts with '%'", "put the value in quotes, or remove the line"
    return fault.failed, "there is text after the end of the data", "indent it, or remove it"


def _no_content(fault: _Fault) -> _Answer:
    if fault.phrase.endswith("'<stream end>'"):
        return fault.failed, "the file ends inside a '[' or '{' that is not closed", "add the closing bracket"
    sign = fault.failed.words[fault.failed.column : fault.failed.column + 1]
    what = f"before {shown(sign)}" if sign else "here"
    return fault.failed, f"a value is missing {what}", "write the value, or put text in quotes"


def _tag(fault: _Fault) -> _Answer:
    return fault.began, "tags, words that start with '!', are not accepted", "put the value in quotes"


def _character(fault: _Fault) -> _Answer:
    """The phrase "expected X but found Y" says little by itself: the construct that was begun decides."""
    if "block scalar" in fault.context:
        return (
            fault.failed,
            "only a line break can follow '|' or '>'",
            "put a value that begins with > or | in quotes, or start the text on the next line, indented",
        )
    if "anchor" in fault.context or "alias" in fault.context:
        return fault.began, "a value cannot start with '&' or '*'", "put the value in quotes"
    if "double-quoted" in fault.context:
        return _escape(fault)
    if "directive" in fault.context:
        return fault.began, "a line cannot start with '%'", "put the value in quotes, or remove the line"
    return _tag(fault)


# The first phrase found in the parser's own decides, so the narrow ones stand first.
_ANSWERS: tuple[tuple[str, Callable[[_Fault], _Answer]], ...] = (
    ("that cannot start any token", _cannot_start),
    ("could not find expected ':'", _no_colon),
    ("mapping values are not allowed", _unexpected_colon),
    ("found unexpected end of stream", _open_quote),
    ("found unexpected document separator", _open_quote),
    ("found unknown escape character", _escape),
    ("expected ',' or", _open_bracket),
    ("expected <block end>", _indentation),
    ("sequence entries are not allowed", _list_item),
    ("mapping keys are not allowed", _question),
    ("expected '<document start>'", _after_end),
    ("expected the node content", _no_content),
    ("tag handle", _tag),
    ("indentation indicator", _character),
    ("expected", _character),
)
