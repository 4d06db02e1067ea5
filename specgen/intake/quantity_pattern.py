"""Regular expressions that accept what :func:`specgen.units.quantity.parse` accepts, made from its unit table.

They are for editors, which know patterns and not our grammar. A pattern knows form and unit, not size: it
cannot tell that 31/32 with a whole number before it is a mixed number and 33/32 is not. Written so that
Python and ECMAScript (with its ``u`` flag) read them alike: no flags, no look-behind.
"""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import permutations

from specgen.units.quantity import NUMBER
from specgen.units.spelling import units_of, words_of
from specgen.units.table import Unit

_SPECIAL = re.compile(r"[.*+?()\[\]{}^$|\\]")
_ATOM = re.compile(r"([A-Za-zµ%]+|1)([23]|0\.5)?")
_VULGAR = "[½¼¾⅛⅜⅝⅞⅓⅔]"
_UNSIGNED = rf"(?:{NUMBER.removeprefix('[+-]?').replace('/', '[/⁄∕]')}|(?:[0-9]+ ?)?{_VULGAR})"
_DEGREES = r"(?:[Dd][Ee][Gg](?:[Rr][Ee][Ee][Ss]?)?\.? ?|[°º˚] ?)?"
_DELTA = r"(?:(?:[Dd]elta|[Dd]iff)[ _]?|[Δ∆] ?)(?:[Dd]eg(?:rees?)?[ .]?)?°?"
_WHOLE: dict[str, str] = {
    "inH2O": r"[Ii][Nn](?:\.|[Cc][Hh](?:[Ee][Ss])?)? ?(?:of )?(?:H[2₂]O|water|w\.?c\.?|w\.?g\.?)",
    "inHg": r"[Ii][Nn](?:\.|[Cc][Hh](?:[Ee][Ss])?)? ?(?:of )?(?:Hg|mercury)",
    "degF": rf"(?:{_DEGREES}(?:[Ff](?:ahrenheit)?)|℉)",
    "degC": rf"(?:{_DEGREES}(?:[Cc](?:elsius)?)|℃)",
    "F": rf"(?:{_DEGREES}[Ff])",
    "deltaF": rf"(?:{_DELTA}[Ff]|F ?(?:deg|°))",
    "deltaC": rf"(?:{_DELTA}[Cc]|C ?(?:deg|°))",
    "deltaK": r"(?:(?:delta[ _]?|[Δ∆])K)",
    "%": r"(?:%|[Pp]er ?[Cc]ent|[Pp]ct)",
    "deg": r"(?:[Dd]eg(?:rees?)?|°)",
    "perm": r"(?:(?:U\.?S\.? )?[Pp]erms?)",
    "day": r"(?:[Dd](?:ays?)?|24[ -]?h(?:r|rs|ours?)?)",
    "µm": r"(?:[µμ]m|um|[Mm]icrons?|[Mm]icromet(?:er|ers|re))",
}
_FEET_AND_INCHES = (
    r"[0-9]+ ?(?:['′’]|[Ff][Tt]\.?|[Ff]eet|[Ff]oot)[ -]{0,3}"
    rf"(?:[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+\.?[0-9]*|[0-9]+ ?{_VULGAR})"
    r""" ?(?:["″”]|''|[Ii]nch(?:es)?|[Ii][Nn]\.?)"""
)
_MARKS = {"in": '["″”]', "ft": "['′’]"}
_SLASH = "(?: ?/ ?| per )"
_TIMES = "(?: ?[·⋅•×* -] ?)"


def quantity_pattern(
    dimensions: frozenset[str], signed: bool, condition: str = "", must: bool = False
) -> str:
    """The pattern of a quantity of one of these dimensions.

    Args:
        dimensions: names of dimensions.
        signed: whether it may lie below zero.
        condition: dimension of the test condition it may carry; "" for none.
        must: whether the condition must be there.

    >>> bool(re.search(quantity_pattern(frozenset({"length"}), False), "1 1/2 inches"))
    True
    >>> bool(re.search(quantity_pattern(frozenset({"length"}), False), "3 perm"))
    False
    """
    forms = []
    if "length" in dimensions:
        forms.append(_FEET_AND_INCHES)
    if dimensions & {"slope", "ratio"}:
        forms.append(rf"{_UNSIGNED} ?[:∶] ?{_UNSIGNED}")
    if "thermal resistance" in dimensions:
        forms.append(r"R[ -]?[0-9]+\.?[0-9]*")
    for name in sorted(dimensions):
        forms.append(_with_unit(name, shared=True))
    sign = "[+−–‑-]?" if signed or "temperature" in dimensions else r"\+?"
    tail = rf"(?:(?: ?@ ?| [Aa][Tt] ){_with_unit(condition, shared=False)})" if condition else ""
    return rf"^\s*{sign}(?:{'|'.join(forms)}){tail}{'' if must or not condition else '?'}\s*$"


@lru_cache(maxsize=128)
def _with_unit(dimension: str, shared: bool) -> str:
    rows = units_of(dimension)
    spellings = dict.fromkeys(
        spelling for row in rows for spelling in (row.symbol, *row.also, *(row.shared if shared else ()))
    )
    written = [_unit(spelling) for spelling in spellings if spelling and not spelling.startswith(":")]
    bare = "?" if _takes_bare_number(rows) else ""
    return rf"{_UNSIGNED}(?: *-?(?:{'|'.join(dict.fromkeys(written))})){bare}" if written else _UNSIGNED


def _takes_bare_number(rows: tuple[Unit, ...]) -> bool:
    return any(not row.symbol for row in rows)


def takes_bare_number(dimension: str) -> bool:
    """Whether a number without a unit is a value of this dimension."""
    return _takes_bare_number(units_of(dimension))


def _unit(symbol: str) -> str:
    """The pattern of one unit: the factors above and below the line in any order."""
    if symbol in _WHOLE:
        return _WHOLE[symbol]
    above, _, below = symbol.partition("/")
    top = _product(above)
    if not below:
        return top
    factors = below.strip("()")
    bracketed = rf"\({_product(factors)}\)"
    open_ = _product(factors, rf"(?:{_TIMES}|{_SLASH})")
    return rf"{top}{_SLASH}(?:{bracketed}|{open_})"


def _product(factors: str, between: str = _TIMES) -> str:
    atoms = [_atom(factor) for factor in factors.split("·")]
    orders = [between.join(order) for order in permutations(atoms)]
    return orders[0] if len(orders) == 1 else f"(?:{'|'.join(orders)})"


def _atom(factor: str) -> str:
    if factor in _WHOLE:
        return _WHOLE[factor]
    match = _ATOM.fullmatch(factor)
    if match is None:
        return _literal(factor)
    name, power = match[1], match[2] or ""
    word = _word(name)
    match power:
        case "2" | "3":
            small = {"2": "²", "3": "³"}[power]
            named = {"2": "[Ss]q(?:uare)?", "3": "[Cc]u(?:bic)?"}[power]
            return rf"(?:{word}(?:\^?{power}|{small})|{named}\.? ?{word})"
        case "0.5":
            return rf"(?:{word}(?:\^?0\.5|\^?\(?1/2\)?)|(?:sqrt|√) ?\(?{word}\)?)"
        case _:
            return word


def _word(name: str) -> str:
    if name in _WHOLE:
        return _WHOLE[name]
    spellings = [_any_case(word) for word in words_of(name)]
    spellings += [_literal(name)] if name not in words_of(name) else []
    spellings += [_MARKS[name]] if name in _MARKS else []
    dot = r"\.?" if len(name) > 1 or spellings[1:] else ""
    return f"(?:{'|'.join(spellings)}){dot}" if spellings[1:] or dot else spellings[0]


def _any_case(word: str) -> str:
    return "".join(f"[{c.upper()}{c.lower()}]" if c.isascii() and c.isalpha() else _literal(c) for c in word)


def _literal(text: str) -> str:
    return _SPECIAL.sub(r"\\\g<0>", text)
