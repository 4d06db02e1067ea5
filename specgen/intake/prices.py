"""A file of prices: what a unit of a part costs, for the comparison of proposals."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from specgen.files.marks import InputError, InputProblem, Mark
from specgen.files.yaml_reader import MarkedMap, read_yaml
from specgen.practice.entries import Practice
from specgen.practice.shapes import shape
from specgen.units.quantity import QuantityError, parse

FILE = shape("prices file")
UNITS = {"ft2": "ft2", "m2": "m2", "ft": "ft", "m": "m", "each": ""}
_PRICE = re.compile(r"(\d+(?:\.\d+)?) per (\S+)")
_FIX = "write it as `6.20 per ft2`; the unit is ft2, ft, m2, m or each"
OTHERS = ("sheet metal of the coping", "coping pieces", "conductor head", "laps made", "base flashing")


def load_prices(path: Path, practice: Practice) -> tuple[str, dict[str, tuple[float, str]]]:
    """The currency, and the price of a unit of each part with the unit.

    Raises:
        InputError: carries every problem of the file.
    """
    root = read_yaml(path, want=dict)
    problems: list[InputProblem] = []
    for key in root:
        if key not in FILE:
            known = f"known: {', '.join(FILE)}"
            problems.append(InputProblem(root.keys_at[key], f"unknown key `{key}`", known))
    currency, listed = root.get("currency"), root.get("prices")
    if not isinstance(currency, str) or not currency.strip():
        problems.append(InputProblem(root.mark, "`currency` is missing", "add `currency: USD`"))
    found: dict[str, tuple[float, str]] = {}
    if isinstance(listed, MarkedMap) and listed:
        for part, price in listed.items():
            found |= _price(str(part), price, listed.values_at[part], practice, problems)
    else:
        problems.append(
            InputProblem(root.mark, "`prices` is missing", "add `prices:`, below it `barrier: 6.20 per ft2`")
        )
    if problems:
        raise InputError(problems)
    return str(currency).strip(), found


def _price(
    part: str, price: Any, mark: Mark, practice: Practice, problems: list[InputProblem]
) -> dict[str, tuple[float, str]]:
    role = part.split(":")[0]
    if role not in practice.vocabulary.roles and role not in OTHERS:
        fix = f"write a role, as `barrier`, or `barrier: self-adhered, butyl`; or one of: {', '.join(OTHERS)}"
        problems.append(InputProblem(mark, f"`{part}` is no part that has a price", fix))
        return {}
    match = _PRICE.fullmatch(price.strip()) if isinstance(price, str) else None
    if match is None or match[2] not in UNITS:
        problems.append(InputProblem(mark, f"`{part}`: the price is not understood", _FIX))
        return {}
    try:
        unit = parse(f"1 {UNITS[match[2]]}").unit if UNITS[match[2]] else ""
    except QuantityError as error:
        problems.append(InputProblem(mark, f"`{part}`: {error.message}", _FIX))
        return {}
    return {part: (float(match[1]), unit)}
