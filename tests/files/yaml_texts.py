"""YAML texts as people may write them, drawn by chance: brackets in blocks, comments, quotes, lists in lists."""

from __future__ import annotations

import random
from collections.abc import Iterator
from typing import Any

from specgen.files.yaml_scalars import text_as_written

WORDS = ("a", "top flashing", "1/2 in", "yes", "7", "C-1", "a: b", "it's", "x # y", "- z", "ü", "")
LEAVES = (*WORDS, 12, 2.5, True, None)


class Writer:
    """Draws a tree and writes it; the same seed writes the same."""

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)
        self.count = 0

    def text(self) -> str:
        """A whole file."""
        tree: Any = {}
        while not tree:
            tree = self.tree(0)
        written = "\n".join([*self.lines(tree, 0)]) + "\n"
        if self.random.random() < 0.3:
            written = f"# head\n{written}# foot\n"
        if self.random.random() < 0.2:
            written = f"---\n{written}"
        if self.random.random() < 0.2:
            written = written.replace("\n", "\r\n")
        if self.random.random() < 0.2:
            written = written.rstrip("\r\n")
        return f"\ufeff{written}" if self.random.random() < 0.1 else written

    def tree(self, depth: int) -> Any:
        """Maps and lists in each other."""
        pick = self.random.random() - 0.12 * depth
        size = self.random.choice((0, 1, 1, 2, 3, 4))
        if depth == 0 or pick > 0.5:
            if self.random.random() < 0.6:
                keys = self.random.sample(WORDS[:-1], min(size, len(WORDS) - 1))
                return {key: self.tree(depth + 1) for key in keys}
            return [self.tree(depth + 1) for _ in range(size)]
        return self.random.choice(LEAVES)

    def comment(self) -> str:
        """A comment that no other is like."""
        self.count += 1
        return f"# note {self.count}: [a, {{b"

    def beside(self) -> str:
        """A comment behind a line, at times."""
        return f"  {self.comment()}" if self.random.random() < 0.15 else ""

    def above(self, indent: int) -> Iterator[str]:
        """Blank lines and comments, at times."""
        if self.random.random() < 0.1:
            yield ""
        if self.random.random() < 0.2:
            yield " " * self.random.choice((indent, indent, 0, indent + 2)) + self.comment()

    def lines(self, tree: Any, indent: int) -> Iterator[str]:
        """A collection by indentation."""
        if not tree:
            yield f"{' ' * indent}{'{}' if isinstance(tree, dict) else '[]'}{self.beside()}"
            return
        entries: Any = tree.items() if isinstance(tree, dict) else ((None, one) for one in tree)
        for key, value in entries:
            yield from self.above(indent)
            head = " " * indent + ("-" if key is None else f"{self.key(key)}:")
            if isinstance(value, dict | list) and value and self.random.random() < 0.6:
                yield from self._nested(head, key, value, indent)
            else:
                yield from self._inline(head, value, indent)

    def _nested(self, head: str, key: str | None, value: Any, indent: int) -> Iterator[str]:
        if key is None and self.random.random() < 0.7:
            inner = list(self.lines(value, indent + 2))
            first = next(
                n for n, line in enumerate(inner) if line.strip() and not line.strip().startswith("#")
            )
            yield from inner[:first]
            yield f"{head} {inner[first].strip()}"
            yield from inner[first + 1 :]
            return
        yield head + self.beside()
        less = isinstance(value, list) and key is not None and self.random.random() < 0.3
        yield from self.lines(value, indent if less else indent + self.random.choice((2, 2, 4)))

    def _inline(self, head: str, value: Any, indent: int) -> Iterator[str]:
        if isinstance(value, str) and value.strip() and self.random.random() < 0.15:
            sign = self.random.choice(("|", ">-", "|+", "|-"))
            yield f"{head} {sign}{self.beside()}"
            yield f"{' ' * (indent + 4)}{value}"
            yield f"{' ' * (indent + 4)}and more"
            return
        if value is None and self.random.random() < 0.7:
            yield head + self.beside()
            return
        first, *rest = self.flow(value, indent + 2)
        yield f"{head} {first}{'' if rest else self.beside()}"
        yield from rest

    def key(self, key: str) -> str:
        """A key, at times in quotes that it does not need."""
        return (
            f"'{key.replace(chr(39), chr(39) * 2)}'" if self.random.random() < 0.15 else text_as_written(key)
        )

    def scalar(self, value: Any) -> str:
        """A value on one line."""
        if isinstance(value, str):
            return self.key(value)
        if value is None:
            return self.random.choice(("~", "null"))
        return ("yes" if value else "no") if isinstance(value, bool) else str(value)

    def flow(self, tree: Any, indent: int) -> list[str]:
        """A value in brackets, at times over several lines with comments between them."""
        if not isinstance(tree, dict | list):
            return [self.scalar(tree)]
        is_map = isinstance(tree, dict)
        lines = ["{" if is_map else "["]
        entries: Any = list(tree.items()) if isinstance(tree, dict) else [(None, one) for one in tree]
        for number, (key, value) in enumerate(entries):
            inner = self.flow(value, indent + 2)
            inner[0] = f"{self.key(key)}: {inner[0]}" if key is not None else inner[0]
            last = number == len(entries) - 1
            inner[-1] += "," if not last or self.random.random() < 0.1 else ""
            if self.random.random() < 0.25:
                lines[-1] += self.beside()
                if self.random.random() < 0.3:
                    lines.append(" " * indent + self.comment())
                lines.append(" " * indent + inner[0])
            else:
                blank = "" if lines[-1].endswith(("{", "[")) or not number else " "
                lines[-1] += blank + inner[0]
            lines += inner[1:]
        if "#" in lines[-1] and " # note" in lines[-1]:
            lines.append(" " * indent)
        elif entries and self.random.random() < 0.1:
            lines[-1] += self.beside()
            lines.append(" " * indent)
        return [*lines[:-1], lines[-1] + ("}" if is_map else "]")]
