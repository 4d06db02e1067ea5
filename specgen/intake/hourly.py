"""The file ``hourly-moisture.json`` beside a project: what the hours of its walls did, as a run kept it.

A program writes it; whoever could change it since is not trusted: every key, word and number is held against its record.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Hashable, Mapping
from dataclasses import MISSING, dataclass, fields, is_dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path
from types import NoneType, UnionType
from typing import Any, NoReturn, Union, get_args, get_origin, get_type_hints

from specgen.files.foreign import present_bytes
from specgen.files.marks import InputError, InputProblem, Mark, shown
from specgen.model.hourly import CUTS, SORTS, CutHours, HourlyResult, LeakRun, PlaceHours

FILE_NAME = "hourly-moisture.json"
FORMAT, KIND = 1, "hourly moisture"
MOST_BYTES = 100_000_000
MOST_ITEMS = 5_000  # of one list; a project has at most 2,000 parapets
MOST_LETTERS = 4_000  # of one text
YEAR = 8_784.0  # hours
AGAIN = "delete it, and run `specgen hourly` for the project again"
RANGES: Mapping[str, tuple[float, float]] = {  # by the name of the field, whole numbers and others
    "format": (FORMAT, FORMAT),
    "moisture_peak": (0.0, 20.0),
    "moisture_end": (0.0, 20.0),
    "hours_20": (0.0, YEAR),
    "hours_28": (0.0, YEAR),
    "humidity_peak": (0.0, 1.001),
    "mold": (0.0, 6.0),
    "corrosion_hours": (0.0, YEAR),
    "freeze_hours": (0.0, YEAR),
    "freeze_cycles": (0.0, YEAR),
    "worst_month": (1.0, 12.0),
    "peaks": (0.0, 20.0),
    "share": (0.0, 1.0),
    "always": (0.0, 1.0),
    "years": (1.0, 200.0),
    "taken": (-1e6, 1e6),
    "drained": (-1e6, 1e6),
    "mass_error": (-1.0, 1.0),
    "heat_error": (-1.0, 1.0),
    "forgiven": (0.0, 1.0),
    "half_days": (0.0, 1e6),
    "uncertainty": (-1e6, 1e6),
    "course": (0.0, 20.0),
    "thickness": (0.0, 5.0),
    "rows": (0.0, 5.0),
    "profile": (0.0, 1.001),
    "drying": (-100.0, 100.0),
}
WORDS: Mapping[str, tuple[str, ...]] = {"sort": SORTS, "cut": CUTS}
NAMES: Mapping[type, str] = {
    HourlyResult: "parapet",
    CutHours: "cut",
    PlaceHours: "name",
}  # each once in a list

NEEDED = (CutHours, LeakRun, PlaceHours)  # of which a list is never empty


@dataclass(frozen=True)
class Kept:
    """The file as a record: the number and kind of its format, and the results in the order of their parapets."""

    results: tuple[HourlyResult, ...]
    format: int = FORMAT
    kind: str = KIND


def load_hourly(folder: Path) -> Mapping[str, HourlyResult]:
    """The kept results beside a project by the names of their parapets; none where no file is there.

    Args:
        folder: of the project file.

    Raises:
        InputError: the file is not what a run wrote; the message says where, and what to do.
    """
    path = folder / FILE_NAME
    data = present_bytes(path, MOST_BYTES)
    if data is None:
        return {}
    return {one.parapet: one for one in _Reader(str(path)).kept(data).results}


class _Wrong(Exception):  # noqa: N818 - the name reads as the statement it makes
    """Where in the file something is wrong, and what."""


class _Reader:
    def __init__(self, path: str) -> None:
        self.path = path

    def kept(self, data: bytes) -> Kept:
        """The record of the file's bytes."""
        try:
            root = json.loads(data.decode("utf-8"), object_pairs_hook=_each_once, parse_constant=_no_number)
            _refuse_format(root)
            found: Kept = _record(Kept, root, "")
            return found
        except json.JSONDecodeError as error:
            self._refuse(f"it is no JSON: {error.msg}", Mark(self.path, error.lineno, error.colno))
        except (UnicodeDecodeError, RecursionError):
            self._refuse("it is no JSON")
        except ValueError as error:  # a number of thousands of digits
            self._refuse(f"it is no JSON: {str(error)[:200]}")
        except _Wrong as error:
            self._refuse(str(error))

    def _refuse(self, what: str, mark: Mark | None = None) -> NoReturn:
        message = f"the file is not what `specgen hourly` keeps: {what}"
        raise InputError([InputProblem(mark or Mark(self.path, 1, 1), message, AGAIN)]) from None


def _each_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        twice = next(key for key, _ in pairs if sum(key == other for other, _ in pairs) > 1)
        raise _Wrong(f"the key {shown(twice)} stands twice in one record")
    return found


def _no_number(word: str) -> NoReturn:
    raise _Wrong(f"{word} is no number")


def _refuse_format(root: object) -> None:
    """A file of another kind or number is told as such, before any of its keys is."""
    if not isinstance(root, dict):
        raise _Wrong("it holds no record")
    if root.get("kind") != KIND:
        raise _Wrong(f"`kind` is not `{KIND}`")
    number = root.get("format")
    if type(number) is not int or number != FORMAT:
        raise _Wrong(f"`format` is {shown(str(number))}, this program reads {FORMAT}")


@cache
def _hints(kind: Hashable) -> Mapping[str, Any]:
    """The types of the fields of a record by their names."""
    return get_type_hints(kind)


def _record(kind: Any, node: object, at: str) -> Any:
    """A frozen record of plain data: every key known, none missing that has no default."""
    if not isinstance(node, dict):
        raise _Wrong(f"{_place(at)} is no record")
    own = {one.name: one for one in fields(kind)}
    if strange := sorted(set(node) - set(own)):
        raise _Wrong(f"{_place(at)} has an unknown key {shown(strange[0])}")
    needed = [name for name, one in own.items() if one.default is MISSING and one.default_factory is MISSING]
    if lacking := [name for name in needed if name not in node]:
        raise _Wrong(f"{_place(at)} has no `{lacking[0]}`")
    dot = f"{at}." if at else ""
    values = {
        name: _value(_hints(kind)[name], node[name], name, f"{dot}{name}") for name in own if name in node
    }
    return kind(**values)


def _value(hint: Any, node: object, name: str, at: str) -> Any:
    """A value of a field, by its type; lists and mappings take the range and the words of the field."""
    origin, inner = get_origin(hint), get_args(hint)
    if origin in (UnionType, Union):
        if node is None and NoneType in inner:
            return None
        (hint,) = (one for one in inner if one is not NoneType)
        return _value(hint, node, name, at)
    if origin is tuple:
        items = _listed(node, list, at)
        found = tuple(_value(inner[0], one, name, f"{at}[{number}]") for number, one in enumerate(items))
        _names_once(inner[0], found, at)
        return found
    if isinstance(origin, type) and issubclass(origin, Mapping):
        held = _listed(node, dict, at)
        return {_text(key, at): _value(inner[1], one, name, f"{at}.{key[:80]}") for key, one in held.items()}
    if is_dataclass(hint) and isinstance(hint, type):
        return _record(hint, node, at)
    return _PLAIN[hint](node, name, at)


def _listed(node: object, kind: type[Any], at: str) -> Any:
    if not isinstance(node, kind):
        raise _Wrong(f"{_place(at)} is no {'list' if kind is list else 'record'}")
    if len(node) > MOST_ITEMS:
        raise _Wrong(f"{_place(at)} has {len(node)} entries, at most {MOST_ITEMS}")
    return node


def _names_once(kind: object, found: tuple[Any, ...], at: str) -> None:
    """A list of records has one, each of them once; runs begin with the leak of the criterion and go upward."""
    if kind in NEEDED and not found:
        raise _Wrong(f"{_place(at)} is empty")
    name = NAMES.get(kind) if isinstance(kind, type) else None
    names = [getattr(one, name) for one in found] if name else []
    if len(set(names)) < len(names):
        twice = next(one for number, one in enumerate(names) if one in names[:number])
        raise _Wrong(f"{_place(at)} names {shown(twice)} twice")
    if kind is LeakRun:
        shares = [one.share for one in found]
        if shares[0]:
            raise _Wrong(f"{_place(at)} has no run with the share 0, at which the criterion is held")
        if any(one >= other for one, other in pairwise(shares)):
            raise _Wrong(f"{_place(at)} is not in the order of the shares")


def _word(node: object, name: str, at: str) -> str:
    text = _text(node, at)
    if name in WORDS and text not in WORDS[name]:
        raise _Wrong(f"{_place(at)} is {shown(text)}, none of: {', '.join(WORDS[name])}")
    return text


def _text(node: object, at: str) -> str:
    if not isinstance(node, str) or len(node) > MOST_LETTERS or not node.isprintable():
        raise _Wrong(f"{_place(at)} is no text of a line")
    return node


def _number(node: object, name: str, at: str) -> float:
    if isinstance(node, bool) or not isinstance(node, int | float):
        raise _Wrong(f"{_place(at)} is no number")
    low, high = RANGES[name]
    if not low <= node <= high:  # nor is what is no number
        raise _Wrong(f"{_place(at)} is {_short(node)}, which cannot be: {low:g} to {high:g}")
    return float(node)


def _whole(node: object, name: str, at: str) -> int:
    if isinstance(node, float):
        raise _Wrong(f"{_place(at)} is no whole number")
    return int(_number(node, name, at))


def _flag(node: object, name: str, at: str) -> bool:
    if not isinstance(node, bool):
        raise _Wrong(f"{_place(at)} is neither true nor false")
    return node


def _short(node: float) -> str:
    return f"{node:g}" if isinstance(node, float) and math.isfinite(node) else str(node)[:20]


def _place(at: str) -> str:
    return f"`{at}`" if at else "the record"


_PLAIN: Mapping[Any, Callable[[object, str, str], Any]] = {
    str: _word,
    float: _number,
    int: _whole,
    bool: _flag,
}
