"""Names of products as papers write them: letters and numbers, and words."""

from __future__ import annotations

import re

from specgen.practice.datasheet_names import load_datasheet_names, plain_name
from specgen.practice.named_methods import without_methods

_DESIGNATION = re.compile(r"(?<![\w.-])[A-Z]{1,5}[ -]?[0-9]{1,5}[A-Z]{0,3}(?![\w.-]*[0-9])")
_NUMBERED = re.compile(r"^(?:TABLE|PAGE|PART|SECTION|NO|REV|VER|FIG|CLASS|TYPE|GRADE|ED|STEP|Q)[ -]?[0-9]")
_RAISED = re.compile(r"\{\^[^}]*\}")


def designations(text: str) -> frozenset[str]:
    """What names a product by letters and numbers; test methods and numbers of tables are none.

    >>> sorted(designations("Membrane WB-1, tested by ASTM E2178, Table 2"))
    ['WB1']
    """
    bare = without_methods(_RAISED.sub(" ", text))
    found = (match[0] for match in _DESIGNATION.finditer(bare))
    return frozenset(re.sub(r"[ -]", "", one) for one in found if not _NUMBERED.match(one.upper()))


def without_designations(text: str, these: frozenset[str]) -> str:
    """A text without those of its letters and numbers that stand in a set of :func:`designations`.

    >>> without_designations("Membrane WB-1 on WB-2", frozenset({"WB1"}))
    'Membrane   on WB-2'
    """
    return _DESIGNATION.sub(lambda match: " " if re.sub("[ -]", "", match[0]) in these else match[0], text)


def same_product(one: str, other: str) -> bool:
    """Whether two names can be of one product: by letters and numbers where both have some, else by a word.

    >>> same_product("Membrane WB-1", "WB 1 air barrier"), same_product("Membrane WB-1", "Membrane WB-2")
    (True, False)
    """
    ours, theirs = designations(one), designations(other)
    if ours and theirs:
        return bool(ours & theirs)
    headings = load_datasheet_names().headings
    words = [set(plain_name(text).split()) - headings for text in (one, other)]
    return not all(words) or bool(words[0] & words[1])
