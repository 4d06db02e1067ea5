"""A substitution request file to a :class:`Request`: products as in a submittal, changes as values of the project."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from specgen.files.marks import Mark, refuse
from specgen.files.yaml_reader import MarkedList, MarkedMap, read_yaml_text
from specgen.intake.formats import brought_up, read_file
from specgen.intake.records import with_defaults
from specgen.intake.submittal import SubmittalReader
from specgen.intake.values import described
from specgen.model.project import Record
from specgen.model.substitution import AssemblyChange, Request
from specgen.practice.entries import Practice
from specgen.practice.shapes import shape

FILE = shape("request file")
CHANGE = shape("change of a request")
CHANGE_KEYS = CHANGE.needed
MEANT = "meant"
MOST_CHANGES = FILE["changes"].most


def load_request(path: Path, practice: Practice) -> Request:
    """Read and check a substitution request.

    Args:
        path: the YAML file.
        practice: holds the vocabulary the file is checked against.

    Raises:
        InputError: carries every problem found.
    """
    return _read(read_file(path, "request"), path, practice)


def request_of(text: str, path: Path, practice: Practice) -> Request:
    """As :func:`load_request`, of a text that is to stand in a file."""
    root = read_yaml_text(text, str(path), want=dict)
    brought_up(root, "request")
    return _read(root, path, practice)


def _read(root: MarkedMap, path: Path, practice: Practice) -> Request:
    reader = RequestReader(practice, root, str(path))
    request = reader.request()
    refuse(reader.problems)
    return request


class RequestReader(SubmittalReader):
    """Reads one request file; its products are read as those of a submittal are."""

    def __init__(self, practice: Practice, root: MarkedMap, path: str) -> None:
        super().__init__(practice, root, path)

    def request(self) -> Request:
        """The request; problems are collected, not raised."""
        meant = self.strange_keys(self.root, FILE)
        mark = self.root.values_at.get("request", self.root.mark)
        info = Record("request", {}, {}, mark)
        if "request" in self.root:
            fields = self.vocabulary.records["request"].fields
            info = with_defaults(self.record(self.root["request"], mark, "request"), fields)
        elif "request" not in meant:
            self.problem(self.root.mark, "`request` is missing", "add a section `request:` with its `number`")
        products, changes = self._products(), tuple(self._changes())
        if not products and not changes and not self.problems:
            self.problem(mark, "the request proposes nothing", "add `products:` or `changes:`")
        return Request(info, products, changes, self.path)

    def _changes(self) -> Iterator[AssemblyChange]:
        if "changes" not in self.root:
            return
        items, where = self.root["changes"], self.root.values_at["changes"]
        if not isinstance(items, MarkedList) or not items:
            self.problem(
                where,
                f"`changes`: {described(items)} stands where changes are wanted",
                "write below it lines like `- {set: P-1.drainage layer.kind, to: mesh}`",
            )
            return
        if len(items) > MOST_CHANGES:
            self.problem(where, f"{len(items)} changes, at most {MOST_CHANGES}", "split the request")
            return
        for node, mark in zip(items, items.items_at, strict=True):
            change = self._change(node, mark)
            if change is not None:
                yield change

    def _change(self, node: Any, mark: Mark) -> AssemblyChange | None:
        if not isinstance(node, MarkedMap):
            self.problem(
                mark, f"{described(node)} stands where a change is wanted", "write `{set: …, to: …}`"
            )
            return None
        self.strange_keys(node, CHANGE)
        missing = [key for key in CHANGE_KEYS if node.get(key) in (None, "")]
        for key in missing:
            self.problem(mark, f"the change does not say `{key}`", f"add `{key}: …`")
        if missing:
            return None
        for key in CHANGE_KEYS:
            if isinstance(node[key], MarkedMap | MarkedList):
                self.problem(
                    node.values_at[key], f"`{key}`: {described(node[key])} is no value", "write one value"
                )
                return None
        written = node["to"]
        words = ("yes" if written else "no") if isinstance(written, bool) else str(written)
        return AssemblyChange(str(node["set"]).strip(), words, node.values_at["to"], self.words(node, MEANT))
