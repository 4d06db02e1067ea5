"""Unit spellings: the many ways of writing one unit, brought to one key and looked up in the table."""

from __future__ import annotations

import difflib
import math
import re
from functools import lru_cache

from specgen.units.table import BASES, UNITS, Unit

# Characters that look alike or stand for the same thing on the trade's documents.
_CHARACTERS = str.maketrans(
    {
        "²": "2", "³": "3", "₂": "2", "⁻": "-", "¹": "1", "−": "-", "–": "-", "‑": "-",
        "⋅": "·", "•": "·", "×": "·", "*": "·",
        "μ": "µ", "º": "°", "˚": "°", "∆": "Δ", "″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "‘": "'",
        "⁄": "/", "∕": "/", "∶": ":",
        "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8",
        "⅓": " 1/3", "⅔": " 2/3", "℃": "°C", "℉": "°F",
    }
)  # fmt: skip

# Spellings of several words, replaced before the text is cut into atoms. Order matters.
_PHRASES: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern, re.IGNORECASE), replacement)
    for pattern, replacement in (
        (r"\bper ?cent\b|\bpct\b", "%"),
        (r"\bper\b", "/"),
        (r"\b(?:delta|diff)[ _]?(?:deg|degrees?)?[ .]?°?F\b|Δ ?(?:deg)?°?F\b|\bF ?(?:deg\b|°)", "deltaF"),
        (r"\b(?:delta|diff)[ _]?(?:deg|degrees?)?[ .]?°?C\b|Δ ?(?:deg)?°?C\b|\bC ?(?:deg\b|°)", "deltaC"),
        (r"\b(?:delta)[ _]?K\b|ΔK\b", "deltaK"),
        (r"(?:\bdeg(?:rees?)?\b\.? ?|\bdeg|°) ?(?:F\b|fahrenheit\b)", "degF"),
        (r"(?:\bdeg(?:rees?)?\b\.? ?|\bdeg|°) ?(?:C\b|celsius\b)", "degC"),
        (r"°", " deg"),
        (r"\b(?:in\.?|inch|inches) ?(?:of )?(?:H2O|water|w\.?c\.?|w\.?g\.?)(?=$|[^A-Za-z])", "inWater"),
        (r"\b(?:in\.?|inch|inches) ?(?:of )?(?:Hg|mercury)\b", "inMercury"),
        (r"\b(?:sq|square)\.? ?(in|ft|yd|m|mm|cm|feet|foot|inch|inches|yards?)\b", r"\g<1>2"),
        (r"\b(?:cu|cubic)\.? ?(in|ft|yd|m|feet|foot|inch|inches)\b", r"\g<1>3"),
        (r"(?:\bsqrt|√) ?\(?(hr|h|s)\)?", r"\g<1>^0.5"),
        (r"(?<![A-Za-z])(hr|h|s) ?\^?\(?1/2\)?", r"\g<1>^0.5"),
        (r"\b24[ -]?h(?:r|rs|ours?)?\b", "day"),
        (r"\bU\.?S\.? ?perm", "perm"),
    )
)

# Atom spellings in lower case. SI symbols are not here, because mPa and MPa differ by nine powers of ten.
_WORDS: dict[str, str] = {
    spelling: atom
    for atom, spellings in {
        "in": "in inch inches", "ft": "ft foot feet", "yd": "yd yard yards", "mil": "mil mils",
        "mi": "mi mile miles", "mm": "mm millimeter millimeters millimetre millimetres",
        "cm": "cm centimeter centimeters", "km": "km", "m": "meter meters metre metres",
        "µm": "micron microns micrometer micrometers micrometre", "thou": "thou",
        "s": "sec second seconds", "min": "min minute minutes", "h": "hr hrs hour hours",
        "day": "d day days", "week": "week weeks wk", "year": "year years yr yrs",
        "degF": "degf f fahrenheit", "degC": "degc c celsius", "deltaF": "deltaf", "deltaC": "deltac",
        "K": "kelvin", "deg": "deg degree degrees", "rad": "rad radian radians",
        "psf": "psf", "psi": "psi", "kPa": "kpa", "hPa": "hpa", "inH2O": "inwater", "inHg": "inmercury",
        "cfm": "cfm", "gpm": "gpm", "mph": "mph", "kph": "kph kmh", "knot": "knot knots kt kts",
        "perm": "perm perms", "lb": "lb lbs pound pounds", "lbf": "lbf", "plf": "plf", "pli": "pli",
        "pcf": "pcf", "oz": "oz ounce ounces", "gr": "gr grain grains", "g": "gram grams", "kg": "kg",
        "gal": "gal gallon gallons", "L": "l liter liters litre litres", "mL": "ml",
        "Btu": "btu", "ga": "ga gage gauge", "V": "volt volts", "ppm": "ppm",
    }.items()
    for spelling in spellings.split()
}  # fmt: skip


def words_of(atom: str) -> tuple[str, ...]:
    """The spellings of one atom of a unit that may be written in any case; empty where the case matters.

    >>> words_of("ft")
    ('ft', 'foot', 'feet')
    """
    return tuple(spelling for spelling, known in _WORDS.items() if known == atom)


# What parts a number from the condition it was found at.
AT = re.compile(r" ?@ ?| at ", re.IGNORECASE)

_NEAR_WORD = (
    0.8  # likeness by which a misspelt word is taken for that of a unit: inchs; lower takes stone for ounce
)

_ATOM = re.compile(r"(inH2O|[A-Za-zµ%]+)(?:\^?(-?[0-9](?:\.[0-9])?))?|([·/])|(1)(?=/)")


def plain(text: str) -> str:
    """Return the text with one kind of each look-alike character and single spaces."""
    return " ".join(text.translate(_CHARACTERS).split())


def _atoms(text: str) -> list[tuple[str | None, str, str | None]] | None:
    """Cut a unit text without brackets into (atom, exponent, operator); None where it does not cut."""
    found: list[tuple[str | None, str, str | None]] = []
    at = 0
    while at < len(text):
        match = _ATOM.match(text, at)
        if match is None:
            return None
        if match[4] is None:
            found.append((match[1], match[2] or "1", match[3]))
        at = match.end()
    return found


@lru_cache(maxsize=2048)
def key(text: str) -> str:
    """Return one key for all spellings of a unit; a text that is no unit gives a key found nowhere.

    Everything after the first ``/`` is below the line, so ``L/s·m2`` is ``L/(s·m2)``: the trade
    leaves the brackets out.
    """
    text = plain(text)
    if text.startswith(":"):
        return text.replace(" ", "")
    text = text.replace('"', "in").replace("'", "ft")
    for pattern, replacement in _PHRASES:
        text = pattern.sub(replacement, text)
    text = re.sub(r"(?<=[A-Za-z0-9])\.(?![0-9])", "", text)
    text = re.sub(r"-(?=[A-Za-z])", "·", text)
    if re.search(r"\([^)]*/|\)[^/]", text.replace(" ", "")):
        return f"?{text}"  # a bracket that the rule for "/" would read wrongly
    atoms = _atoms(text.replace("(", "").replace(")", "").replace(" ", "·"))
    if atoms is None:
        return f"?{text}"
    above: list[str] = []
    below: list[str] = []
    under = False
    for atom, exponent, operator in atoms:
        under = under or operator == "/"
        if atom:
            name = _WORDS.get(atom.lower(), atom)
            upside_down = exponent.startswith("-")
            side = below if under != upside_down else above
            side.append(name + exponent.lstrip("-").removesuffix("1"))
    return "·".join(sorted(above)) + ("/" + "·".join(sorted(below)) if below else "")


def _index() -> tuple[dict[str, tuple[Unit, ...]], dict[str, tuple[Unit, ...]]]:
    """Return the units by key: those a spelling means on its own, and those it can mean if asked for."""
    plainly: dict[str, tuple[Unit, ...]] = {}
    asked: dict[str, tuple[Unit, ...]] = {}
    for unit in UNITS:
        shared = {key(s) for s in unit.shared}
        for k in {key(s) for s in (unit.symbol, *unit.also, *unit.shared)}:
            into = asked if k in shared else plainly
            into[k] = (*into.get(k, ()), unit)
    return plainly, asked


_PLAINLY, _ASKED = _index()
_BY_DIMENSION: dict[str, tuple[Unit, ...]] = {d: tuple(u for u in UNITS if u.dimension == d) for d in BASES}


def units_of(dimension: str) -> tuple[Unit, ...]:
    """Return the rows of one dimension, inch-pound units first; raises ValueError on an unknown name."""
    if dimension not in _BY_DIMENSION:
        raise ValueError(f"no dimension is named {dimension!r}; the names are {', '.join(_BY_DIMENSION)}")
    return _BY_DIMENSION[dimension]


@lru_cache(maxsize=4096)
def candidates(text: str) -> tuple[Unit, ...]:
    """Return every unit that a spelling can mean, its meaning without a hint first; empty if unknown."""
    k = key(text)
    return _PLAINLY.get(k, ()) + _ASKED.get(k, ())


def nearest(text: str, accept: frozenset[str] | None) -> str | None:
    """Return the unit spelling nearest to a misspelt one, or None where nothing is near."""
    units = [unit for unit in UNITS if accept is None or unit.dimension in accept]
    known = [one for unit in units for one in (unit.symbol, *unit.also) if one and not one.startswith(":")]
    lowered = [one.lower() for one in known]
    if text.lower() in lowered:
        return known[lowered.index(text.lower())]
    meant = {word: unit.symbol for unit in units for word in words_of(key(unit.symbol))}
    if words := difflib.get_close_matches(text.lower(), meant, cutoff=_NEAR_WORD):
        return meant[words[0]]
    for tried, pool in ((text, known), (text.lower(), lowered)):
        found = difflib.get_close_matches(tried, pool)
        if found:
            return known[pool.index(found[0])]
    return None


def join_unit(number: str, unit: str) -> str:
    """Put a unit behind a number: no space before a colon or a degree sign that stands alone."""
    return (
        number + unit
        if unit.startswith((":", "°")) and unit not in ("°F", "°C")
        else f"{number} {unit}".rstrip()
    )


# How a keyboard writes what a printer sets: applied in order to words that hold quantities.
_SET: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern), setting)
    for pattern, setting in (
        (r"(?<=\d) ?(?:deg|delta) ?([FC])\b", r" °\1"),
        (r"\b(?:deg|delta)([FC])\b", r"°\1"),
        (r"(?:(?<=[/·(])|(?<=\d ))(ft|in|yd|mm|cm|m)2\b", r"\1²"),
        (r"(?:(?<=[/·(])|(?<=\d ))(ft|in|yd|mm|cm|m)3\b", r"\1³"),
        (r"(?<=[\w)²³]) ?@ ?(?=\d)", " at "),
    )
)
_TO_SET = re.compile("deg|delta|[23@]")  # what each of the patterns needs


def typeset(words: str) -> str:
    """Words with the units of a keyboard as a printer sets them.

    >>> typeset("158 degF, 0.02 L/(s·m2) @ 75 Pa; 12 ft2 of wall")
    '158 °F, 0.02 L/(s·m²) at 75 Pa; 12 ft² of wall'
    """
    if _TO_SET.search(words):
        for pattern, setting in _SET:
            words = pattern.sub(setting, words)
    return words


def fraction(sixteenths: int) -> str:
    """Write a count of sixteenths as the trade does.

    >>> fraction(24), fraction(3), fraction(-8), fraction(32)
    ('1 1/2', '3/16', '-1/2', '2')
    """
    sign = "-" if sixteenths < 0 else ""
    whole, rest = divmod(abs(sixteenths), 16)
    if not rest:
        return f"{sign}{whole}"
    common = math.gcd(rest, 16)
    part = f"{rest // common}/{16 // common}"
    return f"{sign}{whole} {part}" if whole else f"{sign}{part}"
