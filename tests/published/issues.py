"""What the commands make of each conforming demo, made once; and a finder of numbers of its own."""

from __future__ import annotations

import os
import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import docx
import pytest

from tests.chain.runs import REPO, run

LONG = os.environ.get("SPECGEN_LONG") == "1"
ALWAYS = "mixed-humid-midrise"  # has submittals and substitutions
FAULTY = "faulty-parapet"
DEMOS = sorted(path.parent.name for path in (REPO / "tests" / "stated").glob("*/expected.yaml"))
CONFORMING = [name for name in DEMOS if name != FAULTY]
_FOLDERS: list[TemporaryDirectory[str]] = []


@cache
def issued(name: str) -> Path:
    """The folder that ``write`` made of a demo, with ``review``, ``substitute``, ``letters`` and ``register`` below."""
    held = TemporaryDirectory(prefix="issue-")
    _FOLDERS.append(held)  # kept until the tests end
    folder, project = Path(held.name), REPO / "tests" / "stated" / name
    assert run("write", project, "-o", folder).status in (0, 1)
    submittals = sorted(project.glob("submittals/*.yaml"))
    if submittals:
        assert run("review", project, *submittals, "-o", folder / "review").status in (0, 1)
    requests = sorted(project.glob("substitutions/*.yaml"))
    if requests:
        assert run("substitute", project, *requests, "-o", folder / "substitute").status in (0, 1)
    assert run("letters", project, *submittals, "-o", folder / "letters").status in (0, 1)
    assert run("register", project, "-o", folder / "register").status in (0, 1)
    return folder


def only_long(name: str) -> None:
    """Leave a demo to the long run, and say so by its name."""
    if not LONG and name != ALWAYS:
        pytest.skip(f"{name}: its files are opened by SPECGEN_LONG=1 alone")


def paragraphs(path: Path) -> list[str]:
    """Every paragraph and cell of a Word file, headers and footers too."""
    word = docx.Document(str(path))
    found = [one.text for one in word.paragraphs]
    found += [cell.text for table in word.tables for row in table.rows for cell in row.cells]
    for section in word.sections:
        found += [one.text for part in (section.header, section.footer) for one in part.paragraphs]
    return found


@dataclass(frozen=True)
class Measure:
    """A number with its unit, whatever way it was written."""

    value: float
    unit: str


_NAMED = re.compile(
    r"(?:Section |Sections )?\d\d \d\d \d\d|(?:Paragraph|Article)s? \d[\w.]*|ASTM [A-Z]\d+(?:/[A-Z]\d+M?)?|"
    r"(?:ASCE|IBC|IRC|IECC|ISO|AAMA|AWPA|NFPA|CSA) ?[\w.-]*\d[\w.-]*|lines? \d+(?:, \d+)*"
)
_UNITS = (
    "in ft yd mil mils mm m cm µm in² ft² yd² m² mm² gal L mL ft³ m³ s min h day days week weeks year years °F °C K "
    "psf psi ksi Pa kPa MPa cfm/ft² L/(s·m²) perm perms ng/(Pa·s·m²) mph m/s ft/s in/h mm/h gpm L/s cfm lb lbf kg N kN "
    "lbf/ft plf lb/ft N/m kN/m lb/ft² lb/yd² kg/m² pcf lb/ft³ kg/m³ W/m² % in/ft V mV ° ga gr/ft² g/m² "
    "perm·in ng/(Pa·s·m) W/(m·K) BTU/(h·ft²) m²·K/W"
)
_UNIT = "|".join(re.escape(one) for one in sorted(_UNITS.split(), key=len, reverse=True))
_NUMBER = re.compile(
    rf"(?<![\w./])(?:(\d+(?:,\d{{3}})*(?:\.\d+)?)(?:[ -](\d+/\d+))?|(\d+/\d+))\s?({_UNIT})(?![\w²³·/(%°])"
)
_PLURALS = {"mils": "mil", "days": "day", "weeks": "week", "years": "year", "perms": "perm"}
_SPELT = {"degF": "°F", "degC": "°C", "deg": "°"}


def measures(words: str) -> set[Measure]:
    """The numbers with a unit in some words; names of sections, paragraphs, lines and standards hold none.

    >>> sorted(one.value for one in measures("at least 3 1/2 in, 7/16 in: 07 65 00, 2.1.A, ASTM E96"))
    [0.4375, 3.5]
    """
    for was, now in _SPELT.items():
        words = re.sub(rf"{was}\b", now, words)
    words = re.sub(r"(?<=[a-z])([23])\b", lambda found: "²³"[int(found[1]) - 2], words)
    found = set()
    for whole, part, alone, unit in _NUMBER.findall(_NAMED.sub(" ", words)):
        value = Fraction(whole.replace(",", "")) if whole else Fraction(0)
        value += Fraction(part or alone or 0)
        found.add(Measure(round(float(value), 9), _PLURALS.get(unit, unit)))
    return found
