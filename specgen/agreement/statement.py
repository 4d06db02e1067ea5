"""What one document says of one matter, and two of them that differ."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from specgen.agreement.values import agree, printed_values

ANYWHERE = ("", "all", "everywhere")


@dataclass(frozen=True)
class Statement:
    """What one place of a file says about a matter.

    ``about`` names the matter in the same words wherever it is spoken of. ``value`` is what is said of it. Where
    ``many`` holds, a file may say several things about it, and another must say the same ones.
    """

    about: str
    value: str
    file: str
    place: str
    text: str
    many: bool = False


@dataclass(frozen=True)
class Contradiction:
    """Two statements that cannot both be right.

    ``kind`` is one of: value, size (drawn and asked for), order, place, count, identity.
    """

    kind: str
    about: str
    one: Statement
    other: Statement

    def __str__(self) -> str:
        return f"{self.about}: {_side(self.one)}, but {_side(self.other)}"


def _side(one: Statement) -> str:
    return f"{one.file} ({one.place}) says “{one.text}”"


def same_words(one: str, other: str) -> bool:
    """Whether two sayings agree: the same words, or the same values in other units or another spelling.

    >>> same_words("at least 1 ft", "At least 12 in"), same_words("at least 1 in", "at least 1/2 in")
    (True, False)
    """
    if one.casefold() == other.casefold():
        return True
    mine, theirs = list(printed_values(one)), list(printed_values(other))
    return (
        len(mine) == len(theirs) > 0
        and _rest(one, [v.text for v in mine]) == _rest(other, [v.text for v in theirs])
        and all(agree(a, b) for a, b in zip(mine, theirs, strict=True))
    )


def _rest(text: str, cut: Iterable[str]) -> str:
    for words in cut:
        text = text.replace(words, "#", 1)
    return text.casefold()


def differing(kind: str, statements: Iterable[Statement]) -> Iterator[Contradiction]:
    """The contradictions among statements: what is said most often stands, each other saying is held against it."""
    groups: dict[str, list[Statement]] = defaultdict(list)
    for one in statements:
        groups[one.about].append(one)
    for about, found in groups.items():
        if any(one.many for one in found):
            yield from _unequal_sets(kind, about, found)
            continue
        usual = Counter(one.value.casefold() for one in found).most_common(1)[0][0]
        first = next(one for one in found if one.value.casefold() == usual)
        reported = set()
        for one in found:
            if not same_words(one.value, first.value) and (one.file, one.place) not in reported:
                reported.add((one.file, one.place))
                yield Contradiction(kind, about, first, one)


def _unequal_sets(kind: str, about: str, found: list[Statement]) -> Iterator[Contradiction]:
    by_file: dict[str, list[Statement]] = defaultdict(list)
    for one in found:
        by_file[one.file].append(one)
    values = {file: frozenset(one.value.casefold() for one in some) for file, some in by_file.items()}
    usual = Counter(values.values()).most_common(1)[0][0]
    model = next(some for file, some in by_file.items() if values[file] == usual)
    for some in by_file.values():
        strange = [one for one in some if not any(same_words(one.value, m.value) for m in model)]
        missed = [m for m in model if not any(same_words(one.value, m.value) for one in some)]
        if strange or missed:
            yield Contradiction(kind, about, (missed or model)[0], (strange or some)[0])
