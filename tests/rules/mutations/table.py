"""The hand-written breaks, the rules no demo reaches, the explained gaps of the sweep, and the page of all of them.

``python -m tests.rules.mutations.table`` writes ``docs/mutations.md``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import lru_cache
from pathlib import Path
from typing import Any

from specgen.practice.load import load_practice
from specgen.rules.book import load_book
from specgen.rules.papers import PAPER_RULES
from tests import plain_yaml
from tests.rules.mutations.demos import Demo, Key, Seen, demos
from tests.rules.mutations.document import REMOVE, changed
from tests.rules.mutations.sweep import Change

HERE = Path(__file__).parent
PAGE = HERE.parents[2] / "docs" / "mutations.md"


@dataclass(frozen=True)
class Mutation:
    """One break: what a person would say was broken, where, and what must be found."""

    id: str
    demo: str
    broken: str
    path: str
    value: Any
    before: str
    raises: tuple[str, ...]
    severity: str  # of the first code; or "unknown"
    at: tuple[str, ...]  # parapets; "all" of a finding on the papers

    @property
    def wanted(self) -> frozenset[Key]:
        """The findings that must come up: the first code as severe as stated."""
        return frozenset((self.raises[0], parapet, self.severity) for parapet in self.at)

    def found(self, demo: Demo) -> Seen:
        """What the rule book says of the demo with this one thing broken."""
        return demo.seen(changed(demo.document, self.path, self.value, self.before))

    def missed(self, seen: Seen) -> list[str]:
        """What should have come up and did not."""
        codes = {(code, parapet) for code, parapet, _ in seen.new}
        also = [(code, parapet) for code in self.raises[1:] for parapet in self.at]
        lacking = [*sorted(self.wanted - seen.new), *(one for one in also if one not in codes)]
        return [" ".join(one) for one in lacking]


@dataclass(frozen=True)
class Explained:
    """Changes of the sweep that may go unnoticed, by patterns, and why."""

    demo: str
    path: str
    what: tuple[str, ...]
    reason: str

    def fits(self, demo: str, change: Change) -> bool:
        return (
            fnmatchcase(demo, self.demo)
            and _same_place(change.path.split("/"), self.path.split("/"))
            and any(fnmatchcase(change.what, what) for what in self.what)
        )


def _same_place(path: list[str], pattern: list[str]) -> bool:
    """Whether a path fits a pattern, step by step; a leading ``**`` stands for any steps."""
    if pattern[0] == "**":
        pattern = pattern[1:]
        path = path[-len(pattern) :]
    return len(path) == len(pattern) and all(map(fnmatchcase, path, pattern))


@lru_cache(maxsize=1)
def mutations() -> tuple[Mutation, ...]:
    """Every break of every demo that is there."""
    return tuple(one for demo in demos() for one in _of_file(demo))


def _of_file(demo: Demo) -> Iterator[Mutation]:
    path = HERE / f"{demo.name}.yaml"
    if not path.exists():
        return
    file = plain_yaml.load(path.read_text("utf-8"))
    every = demo.parapets_of(file["assembly"].removeprefix("types/"))
    for row in file["mutations"]:
        at = every if row["at"] == "all" else tuple(row["at"])
        where = row["path"].replace("assembly/", f"{file['assembly']}/", 1)
        yield Mutation(
            row["id"],
            demo.name,
            row["broken"],
            where,
            row.get("value"),
            row.get("before", ""),
            tuple(row["raises"]),
            row["severity"],
            at,
        )


def codes() -> frozenset[str]:
    """Every rule code, those on papers included."""
    book = (entry.rule for entry in load_book(load_practice()))
    return frozenset(rule.code for rule in (*book, *PAPER_RULES))


def reached() -> frozenset[str]:
    """The codes that some break must raise."""
    return frozenset(code for one in mutations() for code in one.raises)


def unreachable() -> Mapping[str, str]:
    """The codes that no single change of a demo raises, with the reason."""
    rows: dict[str, str] = plain_yaml.load((HERE / "unreachable.yaml").read_text("utf-8"))
    return rows


@lru_cache(maxsize=1)
def explained() -> tuple[Explained, ...]:
    """The rows of the explained gaps."""
    rows = plain_yaml.load((HERE / "unnoticed.yaml").read_text("utf-8"))
    return tuple(
        Explained(row.get("demo", "*"), path, tuple(row.get("what", ["*"])), row["reason"])
        for row in rows
        for path in row["paths"]
    )


def page() -> str:
    """The table a person reads, as Markdown."""
    lines = [
        "# What happens when one thing is broken",
        "",
        "Each row breaks one thing in a conforming demo project. The test `tests/rules/test_mutations.py` makes the",
        "change through the loader and asks the rule book: the finding must come up, and the unbroken project must not",
        "have it. This page is written by `python -m tests.rules.mutations.table`.",
        "",
        *_counts(),
    ]
    for demo in demos():
        rows = [one for one in mutations() if one.demo == demo.name]
        if rows:
            head = ["| what was broken | change | finding | severity | parapet |", "|---|---|---|---|---|"]
            lines += ["", f"## {demo.name}", "", *head, *(_row(one, demo) for one in rows)]
    lines += ["", "## Rules that no single change reaches", "", "| rule | why |", "|---|---|"]
    lines += [f"| {code} | {reason} |" for code, reason in sorted(unreachable().items())]
    lines += [
        "",
        "## Changes that may go unnoticed",
        "",
        *_SWEEP,
        "",
        "| value | change | why |",
        "|---|---|---|",
    ]
    lines += [f"| `{one.path}` | {', '.join(one.what)} | {one.reason} |" for one in explained()]
    return "\n".join(lines) + "\n"


_SWEEP = [
    "A sweep takes out every value of every demo, writes each other legal word, and halves and doubles each number.",
    "What brings up no new finding and no input error must be explained here; an explanation that fits nothing any",
    "more fails the test.",
]


def _counts() -> list[str]:
    rows = mutations()
    by_demo = [(demo.name, sum(one.demo == demo.name for one in rows)) for demo in demos()]
    known, hit = codes(), reached()
    return [
        f"{len(rows)} breaks reach {len(hit & known)} of {len(known)} rules; the others are explained below.",
        "",
        "| demo | breaks |",
        "|---|---|",
        *(f"| {name} | {count} |" for name, count in by_demo),
    ]


def _row(one: Mutation, demo: Demo) -> str:
    place = one.path.split("/", 2)[-1] if one.path.startswith("types/") else one.path
    if one.before:
        change = f"moved in front of `{one.before}`"
    elif one.value == REMOVE:
        change = "taken out"
    else:
        change = _shown(one.value)
    at = "all" if one.at == demo.parapets else ", ".join(one.at)
    return f"| {one.broken} | `{place}`: {change} | {', '.join(one.raises)} | {one.severity} | {at} |"


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        return "; ".join(f"{key} {_shown(one)}" for key, one in value.items())
    if isinstance(value, list):
        return ", ".join(_shown(one) for one in value)
    return str(value)


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")
