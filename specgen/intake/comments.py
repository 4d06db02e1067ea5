"""The file ``comments.yaml`` beside a project: what people asked and answered on findings, paragraphs and values."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path
from typing import Any

from specgen.files.foreign import present_bytes
from specgen.files.marks import Mark, refuse
from specgen.files.yaml_reader import MarkedList, MarkedMap
from specgen.intake.formats import read_file, read_file_text
from specgen.intake.records import RecordReader
from specgen.intake.values import described, strange_year
from specgen.model.comment import About, Answer, Comment
from specgen.practice.entries import Practice
from specgen.practice.shapes import Shape, shape

FILE_NAME = "comments.yaml"
FILE, COMMENT, ANSWER, ABOUT = map(shape, ("comments file", "comment", "answer of a comment", "about"))
# What each kind of object is named by, and what may be left out of it.
HEADS = {
    "finding": ((), ("parapet", "layer")),
    "paragraph": (("section",), ()),
    "value": ((), ("of", "parapet")),
}
MOST_COMMENTS, MOST_ANSWERS = FILE["comments"].most, COMMENT["answers"].most
LARGEST = 5_000_000  # bytes
LONGEST_NAME, LONGEST_TEXT, LONGEST_WORD = 120, 4_000, 200
EXAMPLE = "write `- about: {finding: CP02, parapet: P-1}`, and below it `name`, `time` and `text`"
_TIME = "2026-11-30T09:15:00-05:00"


def load_comments(path: Path, practice: Practice) -> tuple[Comment, ...]:
    """Read and check the comments on a project.

    Args:
        path: the YAML file.
        practice: holds what every reader of files asks.

    Returns:
        The comments in the order of the file.

    Raises:
        InputError: carries every problem found.
    """
    return _checked(read_file(path, "comments"), practice)


def comments_beside(project: Path, practice: Practice) -> tuple[Comment, ...]:
    """The comments beside a project file; none where the file is not there.

    Raises:
        InputError: carries every problem of the file.
    """
    path = project.parent / FILE_NAME
    present = present_bytes(path, LARGEST) is not None  # whatever else stands there is refused
    return load_comments(path, practice) if present else ()


def comments_in(text: str, path: Path, practice: Practice) -> tuple[Comment, ...]:
    """The comments of a text before it is written.

    Args:
        text: of the whole file.
        path: where it is to stand.
        practice: as for :func:`load_comments`.

    Raises:
        InputError: carries every problem found.
    """
    return _checked(read_file_text(text, path, "comments"), practice)


def _checked(root: MarkedMap, practice: Practice) -> tuple[Comment, ...]:
    reader = _Reader(practice)
    found = tuple(reader.comments(root))
    refuse(reader.problems)
    return found


class _Reader(RecordReader):
    def comments(self, root: MarkedMap) -> Iterator[Comment]:
        """The comments; problems are collected, not raised."""
        self.strange_keys(root, FILE)
        if "comments" not in root:
            if not self.problems:
                self.problem(root.mark, "`comments` is missing", "add a line `comments:` and a list below it")
            return
        first: dict[str, Mark] = {}
        for node, mark in self._items(root, "comments", MOST_COMMENTS):
            one = self._comment(node, mark)
            if one is None:
                continue
            if one.key in first:
                self.problem(mark, f"the same comment stands in line {first[one.key].line}", "delete one")
            first.setdefault(one.key, mark)
            yield one

    def _items(self, node: MarkedMap, key: str, most: int) -> list[tuple[Any, Mark]]:
        """The entries of a list that may be empty."""
        items, mark = node[key], node.values_at[key]
        if items is None:
            return []
        if not isinstance(items, MarkedList):
            self.problem(mark, f"`{key}`: {described(items)} stands where a list is wanted", EXAMPLE)
            return []
        if len(items) > most:
            self.problem(mark, f"`{key}` has {len(items)} entries, at most {most}", "move old ones away")
            return []
        return list(zip(items, items.items_at, strict=True))

    def _comment(self, node: Any, mark: Mark) -> Comment | None:
        before = len(self.problems)
        if not self._map(node, mark, "a comment", COMMENT):
            return None
        about = self._about(node)
        name, time, text = self._signed(node)
        answers = [
            self._answer(each, at)
            for each, at in (self._items(node, "answers", MOST_ANSWERS) if "answers" in node else ())
        ]
        answered = node.get("answered", False)
        if not isinstance(answered, bool):
            message = f"`answered` is {described(answered)}, a yes or no is wanted"
            self.problem(node.values_at["answered"], message, "write yes or no, without quotes")
        if len(self.problems) > before or about is None:
            return None
        given = tuple(one for one in answers if one is not None)
        return Comment(about, name, time, text, given, bool(answered), mark)

    def _map(self, node: Any, mark: Mark, what: str, known: Shape) -> bool:
        if not isinstance(node, MarkedMap):
            self.problem(mark, f"{described(node)} stands where {what} is wanted", EXAMPLE)
            return False
        self.strange_keys(node, known)
        return True

    def _answer(self, node: Any, mark: Mark) -> Answer | None:
        if not self._map(node, mark, "an answer", ANSWER):
            return None
        return Answer(*self._signed(node))

    def _signed(self, node: MarkedMap) -> tuple[str, str, str]:
        """Name, time and text of a comment or an answer."""
        return (
            " ".join(self._word(node, "name", LONGEST_NAME).split()),
            self._time(node),
            self._word(node, "text", LONGEST_TEXT).strip(),
        )

    def _word(self, node: MarkedMap, key: str, longest: int) -> str:
        """The words at a key; a problem where they are missing, none, or too long."""
        if key not in node:
            self.problem(node.mark, f"`{key}` is missing", f"add `{key}: …`")
            return ""
        written, mark = node[key], node.values_at[key]
        number = not isinstance(written, bool) and isinstance(written, int)
        if not (isinstance(written, str) or number) or not str(written).strip():
            self.problem(mark, f"`{key}` is {described(written)}, words are wanted", "write it in quotes")
            return ""
        words = str(written)
        if len(words) > longest:
            self.problem(mark, f"`{key}` has {len(words):,} characters, at most {longest:,}", "shorten it")
        return words

    def _time(self, node: MarkedMap) -> str:
        if "time" not in node:
            self.problem(node.mark, "`time` is missing", f"add `time: {_TIME}`")
            return ""
        written, mark = node["time"], node.values_at["time"]
        try:
            moment = datetime.fromisoformat(written) if isinstance(written, str) else None
        except ValueError:
            moment = None
        if moment is None or moment.tzinfo is None:
            zone = ", no time with its zone" if isinstance(written, date) or moment else ""
            self.problem(mark, f"`time` is {described(written)}{zone}", f"write it as {_TIME}")
            return ""
        if wrong := strange_year(moment.date()):
            self.problem(mark, f"`time`: {wrong}", "correct the year")
        return str(written)

    def _about(self, node: MarkedMap) -> About | None:
        if "about" not in node:
            self.problem(node.mark, "`about` is missing", EXAMPLE)
            return None
        given, mark = node["about"], node.values_at["about"]
        if not isinstance(given, MarkedMap):
            self.problem(mark, f"`about`: {described(given)} stands where an object is wanted", EXAMPLE)
            return None
        if self.strange_keys(given, ABOUT):
            return None
        heads = [key for key in HEADS if key in given]
        if len(heads) != 1:
            what = "names no object" if not heads else f"names {' and '.join(heads)}"
            self.problem(mark, f"`about` {what}", f"name one of: {', '.join(HEADS)}")
            return None
        wanted, may = HEADS[heads[0]]
        for key in wanted:
            if key not in given:
                self.problem(given.mark, f"`{key}` of the {heads[0]} is missing", f"add `{key}: …`")
        for key in given:
            if key not in (heads[0], *wanted, *may) and key in ABOUT:
                self.problem(given.keys_at[key], f"a {heads[0]} has no `{key}`", "delete it")
        named = {key: self._word(given, key, LONGEST_WORD) for key in given if key in ABOUT}
        return About(**named)
