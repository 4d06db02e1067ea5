"""The comments of a YAML text, which no parser keeps: whatever stands behind a `#` between two tokens."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate

import yaml

_COMMENT = re.compile(r"#[^\n\r]*")


@dataclass(frozen=True)
class Comment:
    """A comment with its place; ``alone``: nothing else stands on its line."""

    line: int
    column: int
    text: str  # with its `#`
    alone: bool


def comments(text: str) -> tuple[Comment, ...]:
    """Every comment of a text that can be read as YAML, in its order.

    >>> [(one.line, one.text, one.alone) for one in comments('# of us\\na: "# no"  # yes\\n')]
    [(1, '# of us', True), (2, '# yes', False)]
    """
    text = text.removeprefix("\ufeff")
    starts = [0, *accumulate(map(len, text.splitlines(keepends=True)))]
    found = []
    for start, end in _between_tokens(text):
        for one in _COMMENT.finditer(text, start, end):
            number = bisect_right(starts, one.start())
            before = text[starts[number - 1] : one.start()]
            found.append(Comment(number, len(before) + 1, one[0].rstrip(), not before.strip()))
    return tuple(found)


def _between_tokens(text: str) -> Iterator[tuple[int, int]]:
    """The stretches of a text in which no token stands; the first line of a block scalar may end in a comment."""
    at = 0
    for token in yaml.scan(text, Loader=yaml.SafeLoader):
        start, end = token.start_mark.index, token.end_mark.index
        yield at, max(at, start)
        if isinstance(token, yaml.ScalarToken) and token.style in ("|", ">"):
            yield start, text.find("\n", start) if "\n" in text[start:end] else end
        at = max(at, end)
    yield at, len(text)
