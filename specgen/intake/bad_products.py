"""A YAML list of products now known to be bad: by name, or by role, kind and attributes, each with its reason."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from specgen.files.marks import Mark, refuse
from specgen.files.yaml_reader import MarkedList, MarkedMap, read_yaml
from specgen.intake.records import RecordReader
from specgen.intake.values import UnusableValueError, convert, described
from specgen.model.bad import BadProduct, token
from specgen.practice.entries import Field, Practice
from specgen.practice.shapes import shape
from specgen.units.quantity import Quantity

FILE = shape("bad products file")
OWN_KEYS = tuple(shape("bad product"))
MOST_BAD = FILE["bad"].most
EXAMPLE = "write `- name: …` or `- role: …` with `kind: …`, and below it `reason: …`"


def load_bad(path: Path, practice: Practice) -> tuple[BadProduct, ...]:
    """Read and check a list of bad products.

    Args:
        path: the YAML file.
        practice: the vocabulary of roles, kinds and attributes.

    Raises:
        InputError: carries every problem found.
    """
    reader = _Reader(practice)
    found = reader.all(read_yaml(path, want=dict))
    refuse(reader.problems)
    return found


class _Reader(RecordReader):
    def all(self, root: MarkedMap) -> tuple[BadProduct, ...]:
        """The list; problems are collected, not raised."""
        self.strange_keys(root, FILE)
        items = root.get("bad")
        mark = root.values_at.get("bad", root.mark)
        if not isinstance(items, MarkedList) or not items:
            if not self.problems:
                self.problem(mark, f"`bad`: {described(items)} stands where a list is wanted", EXAMPLE)
            return ()
        if len(items) > MOST_BAD:
            self.problem(mark, f"{len(items)} bad products, at most {MOST_BAD}", "split the file")
            return ()
        found = (self._one(node, at) for node, at in zip(items, items.items_at, strict=True))
        return tuple(one for one in found if one is not None)

    def _one(self, node: Any, mark: Mark) -> BadProduct | None:
        if not isinstance(node, MarkedMap):
            self.problem(mark, f"{described(node)} stands where a bad product is wanted", EXAMPLE)
            return None
        before = len(self.problems)
        name, reason = self.words(node, "name"), self.words(node, "reason")
        if not reason:
            self.problem(mark, "a bad product needs a reason", "add `reason: …`")
        role = kind = ""
        values: Mapping[str, str] = {}
        if "role" in node:
            role = self.choice(node, "role", self.vocabulary.roles) or ""
            if role:
                definition = self.vocabulary.roles[role]
                kind = (self.choice(node, "kind", definition.kinds) or "") if "kind" in node else ""
                values = self._values(node, definition.fields)
        else:
            for key in node:
                if key not in ("name", "reason"):
                    self.problem(node.keys_at[key], f"`{key}` says nothing without a role", "add `role: …`")
            if not name:
                self.problem(mark, "the entry names no product", EXAMPLE)
        if len(self.problems) > before:
            return None
        parts = [name, kind, role, *(f"{key.replace('_', ' ')} {node[key]}" for key in values)]
        return BadProduct(
            name, role, kind, tuple(values.items()), ", ".join(part for part in parts if part), reason
        )

    def _values(self, node: MarkedMap, fields: Mapping[str, Field]) -> dict[str, str]:
        found: dict[str, str] = {}
        self.strange_keys(node, [*OWN_KEYS, *fields])
        for key, written in node.items():
            if key in OWN_KEYS or key not in fields:
                continue
            try:
                value = convert(fields[key], written, self.vocabulary)
            except UnusableValueError as error:
                self.problem(node.values_at[key], error.message, error.fix)
                continue
            # A gauge is a thickness only together with its metal; in the walls it stands as a length.
            if (
                isinstance(value, Quantity)
                and fields[key].type == "sheet thickness"
                and value.dimension != "length"
            ):
                self.problem(
                    node.values_at[key], f"`{key}` is a gauge or a weight", "write it as a length: 0.040 in"
                )
                continue
            found[key] = token(value)
        return found
