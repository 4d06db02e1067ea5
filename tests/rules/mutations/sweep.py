"""Every change of one value of a demo: taken out, each other legal word, half and double of each number."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from specgen.practice.entries import Field
from specgen.practice.load import load_practice
from specgen.units.quantity import NUMBER, QuantityError, parse
from tests.rules.mutations.document import REMOVE, name_of

VOCABULARY = load_practice().vocabulary
RECORDS = {
    "corners": "corner",
    "ends": "end",
    "steps": "step",
    "joints": "joint",
    "scuppers": "scupper",
    "penetrations": "penetration",
    "transitions": "transition",
    "observations": "observation",
    "repairs": "repair",
    "openings": "opening",
    "maker_letters": "manufacturer letter",
    "waivers": "waiver",
    "types": "parapet",
    "parapets": "parapet",
}
WORDS = ("text", "word", "words", "yes or no", "date", "family", "families")
FACTORS = {"halved": 0.5, "doubled": 2.0}
_NUMBER = re.compile(rf"\s*({NUMBER})")


@dataclass(frozen=True)
class Change:
    """One change of the sweep. ``what`` is how it is called: removed, halved, doubled, or ``to`` and the word."""

    path: str
    what: str
    value: Any

    @property
    def id(self) -> str:
        return f"{self.path}: {self.what}"


def changes(document: Mapping[str, Any]) -> Iterator[Change]:
    """Every change to every value of a project file, in the order of the file."""
    for section in ("project", "site", "building"):
        yield from _record(document.get(section, {}), section, section)
    for name, node in document.get("types", {}).items():
        yield from _record(node, f"types/{name}", "parapet")
    for key in ("parapets", "maker_letters", "waivers"):
        yield from _items(document.get(key, []), key, RECORDS[key])


def _items(items: list[Any], path: str, kind: str) -> Iterator[Change]:
    for number, item in enumerate(items):
        at = f"{path}/{name_of(item, number)}"
        if len(items) > 1 or kind != "parapet":
            yield Change(at, "removed", REMOVE)
        yield from _record(item, at, kind)


def _record(node: Mapping[str, Any], path: str, kind: str) -> Iterator[Change]:
    fields = VOCABULARY.records[kind].fields if kind else {}
    for key, value in node.items():
        at = f"{path}/{key}"
        if key in ("build_up", "top"):
            yield from _parts(value, at)
        elif key in RECORDS:
            yield from _items(value, at, RECORDS[key])
        elif key == "existing":
            yield Change(at, "removed", REMOVE)
            yield from _record(value, at, "existing")
        elif key == "changes":
            for part, own in value.items():
                yield from _record(own, f"{at}/{part}", "")
        elif key == "upper":
            yield Change(at, "removed", REMOVE)
            other = next(end for end in node["between"] if end != value)
            yield Change(at, f"to {other}", other)
        else:
            yield from _leaf(value, at, fields.get(key))


def _parts(items: list[Any], path: str) -> Iterator[Change]:
    for number, item in enumerate(items):
        at = f"{path}/{name_of(item, number)}"
        role = VOCABULARY.roles[item["role"]]
        yield Change(at, "removed", REMOVE)
        for kind in role.kinds:
            if kind != item.get("kind"):
                yield Change(f"{at}/kind", f"to {kind}", kind)
        for key, value in item.items():
            if key not in ("role", "id"):
                yield from _leaf(value, f"{at}/{key}", role.fields.get(key))


def _leaf(value: Any, path: str, field: Field | None) -> Iterator[Change]:
    yield Change(path, "removed", REMOVE)
    kind = field.type if field else ""
    if isinstance(value, bool):
        yield Change(path, f"to {'no' if value else 'yes'}", not value)
    elif field and kind != "words" and (field.choices or kind == "family"):
        for word in field.choices or sorted(VOCABULARY.families):
            if word != value:
                yield Change(path, f"to {word}", word)
    elif kind in ("words", "families"):
        for number, word in enumerate(value):
            rest = [*value[:number], *value[number + 1 :]]
            yield Change(path, f"without {word}", rest or REMOVE)
    elif kind not in WORDS:
        yield from _numbers(value, path)


def _numbers(value: Any, path: str) -> Iterator[Change]:
    for what, factor in FACTORS.items():
        if isinstance(value, int | float):
            scaled = value * factor
            yield Change(path, what, int(scaled) if isinstance(value, int) else scaled)
        elif isinstance(value, str) and (found := _NUMBER.match(value)):
            try:
                number = parse(f"{found[1]} in", ("length",)).number
            except QuantityError:
                continue
            yield Change(path, what, f"{number * factor:.12g}{value[found.end() :]}")
