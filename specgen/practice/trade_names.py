"""The trade's everyday names of what the vocabulary names: what a word that a file may not say is called here."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from specgen.files.compiled import shipped_yaml
from specgen.files.marks import InputError, near, plain, suggestion
from specgen.model.project import PLACES
from specgen.practice.entries import PracticeError
from specgen.practice.written import citation, needed

FILE = Path(__file__).parent / "vocabulary" / "trade_names.yaml"
PARTS = ("roles", "kinds", "keys", "families")
LISTS = {**PLACES, "transitions": "transition"}  # of a parapet, and the record that stands in each
_MOST_NAMED = 3


@dataclass(frozen=True)
class Meaning:
    """What a word of the trade is here: a role or a list, one of its kinds or keys, a choice, or a family."""

    of: str  # role, section or list of a project file; "" for a family
    key: str = ""  # an attribute, or `kind`
    word: str = ""  # the choice, kind or family
    is_role: bool = False

    @property
    def words(self) -> str:
        """The meaning as a message names it.

        >>> Meaning("barrier", "kind", "self-adhered", True).words, Meaning("ends", "counterflashing").words
        ('`kind: self-adhered` of role `barrier`', '`counterflashing` in the list `ends`')
        """
        if not self.of:
            return f"`family: {self.word}`"
        if not self.key:
            return f"role `{self.of}`" if self.is_role else self._place
        stated = f"`{self.key}: {self.word}`" if self.word else f"`{self.key}`"
        if self.is_role:
            return f"{stated} of role `{self.of}`"
        return f"{stated} in {self._place}"

    @property
    def _place(self) -> str:
        if self.of in LISTS:
            return f"the list `{self.of}`"
        return "a parapet" if self.of == "parapet" else f"`{self.of}`"


@cache
def abbreviations(role: str) -> frozenset[str]:
    """The everyday names of a role and its kinds that are letters only, in lower case.

    >>> sorted(abbreviations("barrier"))
    ['awb', 'sam', 'wrb']
    """
    root: Mapping[str, Any] = shipped_yaml(FILE)
    names = [root["roles"].get(role, ()), *root["kinds"].get(role, {}).values()]
    return frozenset(
        name.lower() for listed in names for name in map(str, listed) if name.isupper() and name.isalpha()
    )


@lru_cache(maxsize=1)
def trade_names() -> Mapping[str, tuple[Meaning, ...]]:
    """What each everyday name means, by the name without case, spaces and hyphens.

    Raises:
        PracticeError: the file has no source, or a part that is not known.
    """
    try:
        root: Mapping[str, Any] = shipped_yaml(FILE)
    except InputError as error:
        raise PracticeError(str(error)) from error
    citation(needed(root, "source", FILE.name), FILE.name)
    if strange := set(root) - {"source", *PARTS}:
        raise PracticeError(f"{FILE.name}: unknown key {', '.join(sorted(strange))}")
    roles = frozenset(root["roles"])
    found: dict[str, list[Meaning]] = {}
    for meaning, names in _meanings(root, roles):
        for name in names:
            held = found.setdefault(plain(str(name)), [])
            if meaning not in held:
                held.append(meaning)
    return {name: tuple(meanings) for name, meanings in found.items()}


def _meanings(root: Mapping[str, Any], roles: frozenset[str]) -> Iterator[tuple[Meaning, list[object]]]:
    for role, names in root["roles"].items():
        yield Meaning(role, is_role=True), names
    for role, kinds in root["kinds"].items():
        for kind, names in kinds.items():
            yield Meaning(role, "kind", kind, True), names
    for place, names in root["keys"].items():
        at, _, word = place.partition(": ")
        of, _, key = at.partition(".")
        yield Meaning(of, key, word, of in roles), names
    for family, names in root["families"].items():
        yield Meaning("", "family", family), names


def hint(word: str, choices: Iterable[str], otherwise: str = "", of: str = "", key: str = "") -> str:
    """The fix for a word that is not known at its place: what it is called here, or what is spelled like it.

    Args:
        word: what stands there.
        choices: what may stand there.
        otherwise: the fix where nothing is known of the word.
        of: the role or record that it stands in, if any.
        key: the key it stands at, if any: `kind`, `family`, or an attribute.

    >>> hint("hieght", ["height"]), hint("base flashing", ["top flashing", "roof turn-up"])
    ('did you mean `height`?', 'base flashing is role `roof turn-up`')
    """
    known = list(choices)
    return called(word, known, of, key) or suggestion(word, known, otherwise)


def called(word: str, choices: Iterable[str], of: str = "", key: str = "") -> str:
    """The fix for a word that the trade has for something of another name here; "" where it has none.

    It goes before what is only spelled alike (a cap flashing is no top flashing), and behind what is the same word.

    >>> called("peel-and-stick", ["fluid-applied", "self-adhered"], of="barrier", key="kind")
    'did you mean `self-adhered`?'
    """
    known = list(choices)
    meanings = trade_names().get(plain(word), ())
    if not meanings or near(word, known, exactly=True):
        return ""
    there = [one for one in meanings if of and of in (one.of, LISTS.get(one.of))] or list(meanings)
    fits = {one.word for one in there if one.key == key and one.word in known}
    if fits:
        return f"did you mean `{'` or `'.join(sorted(fits))}`?"
    named = " or ".join(one.words for one in there[:_MOST_NAMED])
    return f"{' '.join(word.split())} is {named}"


def names_of(of: str, key: str = "", word: str = "") -> tuple[str, ...]:
    """What the trade also calls a role, a record, or one of its kinds or keys."""
    return _written().get((of, key, word), ())


@lru_cache(maxsize=1)
def _written() -> Mapping[tuple[str, str, str], tuple[str, ...]]:
    root: Mapping[str, Any] = shipped_yaml(FILE)
    return {
        (one.of, one.key, one.word): tuple(map(str, names))
        for one, names in _meanings(root, frozenset(root["roles"]))
    }
