"""Places in input files, and the errors that point at them."""

from __future__ import annotations

import difflib
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

_NEAR_CUTOFF = 0.7
_LONGEST_WORD_COMPARED = 100
MOST_OF_A_KIND = 20  # problems of one kind that are printed; more of it are counted
_OF_THIS_ONE = re.compile(r"`[^`]*`|'[^']*'|\d+")  # what two messages of one kind differ in


@dataclass(frozen=True, slots=True, order=True)
class Mark:
    """A place in a file: line and column count from 1, in characters.

    >>> str(Mark("project.yaml", 41, 9))
    'project.yaml:41:9'
    """

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class InputProblem:
    """One thing wrong in an input file, where it is, and what to do about it.

    >>> print(InputProblem(Mark("p.yaml", 4, 3), "unknown key 'hieght'", "did you mean 'height'?"))
    p.yaml:4:3: error: unknown key 'hieght'
        fix: did you mean 'height'?
    """

    mark: Mark
    message: str
    fix: str = ""

    def __str__(self) -> str:
        line = f"{self.mark}: error: {self.message}"
        return f"{line}\n    fix: {self.fix}" if self.fix else line


def of_file(name: object, message: str, fix: str = "") -> InputProblem:
    """A problem of a file or folder as a whole, placed at its beginning."""
    return InputProblem(Mark(str(name), 1, 1), message, fix)


class InputError(Exception):
    """The input cannot be used; carries every problem found, in the order they stand in the file."""

    def __init__(self, problems: Iterable[InputProblem]) -> None:
        self.problems: tuple[InputProblem, ...] = tuple(problems)
        if not self.problems:
            raise ValueError("an InputError needs at least one problem")
        super().__init__(self.problems)

    def __str__(self) -> str:
        return "\n".join(problem_lines(self.problems))


def problem_lines(problems: Iterable[object]) -> Iterator[str]:
    """The problems in their order for a person: the first twenty of each kind, and how many more of it there are."""
    lines = [str(problem) for problem in problems]
    kinds = [_OF_THIS_ONE.sub("", line.partition("\n")[0]) for line in lines]
    in_all, printed = Counter(kinds), Counter[str]()
    for line, kind in zip(lines, kinds, strict=True):
        printed[kind] += 1
        if printed[kind] <= MOST_OF_A_KIND:
            yield line
        if printed[kind] == MOST_OF_A_KIND < in_all[kind]:
            yield f"... and {in_all[kind] - MOST_OF_A_KIND:,} more of this kind"


def refuse(problems: Iterable[InputProblem]) -> None:
    """Raise :class:`InputError` if there are problems: each once, in the order of the file."""
    found = in_order(problems)
    if found:
        raise InputError(found)


def in_order(problems: Iterable[InputProblem]) -> list[InputProblem]:
    """Each problem once, in the order of the file."""
    return sorted(dict.fromkeys(problems), key=lambda problem: problem.mark)


def plain(word: str) -> str:
    """A word without case, spaces, underscores and hyphens, for comparison."""
    return re.sub(r"[\s_-]+", "", word.casefold())


def near(word: str, choices: Iterable[str], exactly: bool = False) -> str:
    """The choice that `word` was most likely meant to be, or "" if none is close.

    Case, spaces, underscores and hyphens do not count; with ``exactly``, nothing else may differ.

    >>> near("hieght", ["height", "width"])
    'height'
    >>> near("Metal Thickness", ["metal-thickness"])
    'metal-thickness'
    >>> near("zebra", ["height"])
    ''
    """
    wanted = plain(word)
    if not wanted or len(wanted) > _LONGEST_WORD_COMPARED:
        return ""
    by_plain: dict[str, str] = {}
    for choice in choices:
        by_plain.setdefault(plain(choice), choice)
    if wanted in by_plain:
        return by_plain[wanted]
    if exactly:
        return ""
    close = difflib.get_close_matches(wanted, by_plain, n=1, cutoff=_NEAR_CUTOFF)
    return by_plain[close[0]] if close else ""


def shown(text: str, longest: int = 40) -> str:
    """`text` in quotes, on one line and cut to `longest` characters, for use inside a message.

    >>> shown("two\\nlines")
    "'two\\\\nlines'"
    """
    cut = text if len(text) <= longest else text[: longest - 1] + "…"
    return repr(cut)


def suggestion(word: str, choices: Iterable[str], otherwise: str = "") -> str:
    """The fix for a misspelt word: the choice it was most likely meant to be, or ``otherwise`` if none is close.

    >>> suggestion("hieght", ["height", "width"], "known: height, width")
    'did you mean `height`?'
    >>> suggestion("zebra", ["height", "width"], "known: height, width")
    'known: height, width'
    """
    guess = near(word, choices)
    return f"did you mean `{guess}`?" if guess else otherwise
