"""An office's own clauses laid over those that ship: replaced, added, or suppressed with a reason.

A file of the overlay names a section and holds ``replace``, ``add`` and ``suppress``; a file that holds a whole
section adds it. Words are read, checked and compiled as those that ship: the same sandbox, the same limits.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Literal, Protocol

from specgen.files.marks import Mark, suggestion
from specgen.files.yaml_reader import MarkedMap, read_yaml
from specgen.sections.clause import Clause, ClauseChange, ClauseSection, family

KEYS = ("section", "replace", "add", "suppress")
MOST_FILES = 60
MOST_CHANGES = 500


class Reader(Protocol):
    """What the overlay needs of the reader of clause files."""

    def problem(self, mark: Mark, message: str, fix: str = "") -> None:
        """Note a problem."""

    def clause(self, node: MarkedMap, depth: int) -> Clause | None:
        """Check and compile one clause."""

    def section(self, root: MarkedMap, path: Path) -> ClauseSection:
        """Check and compile a whole section."""

    def items(self, node: MarkedMap, key: str) -> list[MarkedMap]:
        """The mappings of a list."""


class Overlay:
    """Lays the files of one folder over sections."""

    def __init__(self, reader: Reader, folder: Path) -> None:
        self.reader = reader
        self.folder = folder
        self.changes: list[ClauseChange] = []

    def roots(self) -> list[tuple[MarkedMap, Path]]:
        """The files of the folder, read with marks."""
        paths = sorted(self.folder.glob("*.yaml"))
        at = Mark(str(self.folder), 1, 1)
        if not paths:
            self.reader.problem(
                at, "the folder holds no clause file", "name a folder with files NN-NN-NN.yaml"
            )
        if len(paths) > MOST_FILES:
            self.reader.problem(at, f"the folder holds {len(paths)} files, at most {MOST_FILES}")
            return []
        return [(read_yaml(path, want=dict), path) for path in paths]

    def laid(
        self, sections: tuple[ClauseSection, ...], roots: list[tuple[MarkedMap, Path]]
    ) -> tuple[ClauseSection, ...]:
        """The sections with the overlay on them, in the order of their numbers."""
        by_number = {section.number: section for section in sections}
        for root, path in roots:
            if "number" in root:
                self._whole(root, path, by_number)
                continue
            for key in root:
                if key not in KEYS:
                    fix = suggestion(key, KEYS, f"known here: {', '.join(KEYS)}")
                    self.reader.problem(root.keys_at[key], f"unknown key `{key}`", fix)
            number = str(root.get("section"))
            if number not in by_number:
                fix = suggestion(number, by_number, "write `section: 07 71 00`")
                self.reader.problem(root.values_at.get("section", root.mark), f"no Section `{number}`", fix)
                continue
            by_number[number] = self._changed(by_number[number], root)
        return tuple(by_number[number] for number in sorted(by_number))

    def _whole(self, root: MarkedMap, path: Path, by_number: dict[str, ClauseSection]) -> None:
        section = self.reader.section(root, path)
        if section.number in by_number:
            self.reader.problem(
                root.values_at["number"],
                f"Section {section.number} ships with specgen",
                "write `section:` with `replace`, `add` and `suppress`",
            )
            return
        by_number[section.number] = section
        self.changes += [
            ClauseChange("added", section.number, one.key, one.mark) for one in section.clauses()
        ]

    def _changed(self, section: ClauseSection, root: MarkedMap) -> ClauseSection:
        known = {one.key: one for one in section.clauses()}
        replaced: dict[str, Clause] = {}
        for key, node in self._named(root, "replace", known):
            if not isinstance(node, MarkedMap):
                self.reader.problem(
                    root["replace"].values_at[key], f"`{key}` is no mapping", "write `text: …`"
                )
                continue
            new = self.reader.clause(_with_key(node, key), 1)
            if new is not None and new.states != known[key].states:
                self.reader.problem(
                    node.mark,
                    f"`{key}` states another requirement than the clause it replaces",
                    f"add `states: {known[key].states}`" if known[key].states else "take `states` out",
                )
            elif new is not None:
                replaced[key] = new
                self._change("replaced", section, key, node.mark)
        suppressed: set[str] = set()
        for key, reason in self._named(root, "suppress", known):
            mark = root["suppress"].values_at[key]
            if not isinstance(reason, str) or not reason.strip():
                self.reader.problem(mark, f"`{key}` is suppressed without a reason", f"write `{key}: why`")
                continue
            suppressed.add(key)
            stated = tuple(one.states for one in family(known[key]) if one.states)
            self._change("suppressed", section, key, root["suppress"].keys_at[key], reason, stated)
        added = self._added(section, root, known)
        return _rebuilt(section, replaced, suppressed, added)

    def _added(
        self, section: ClauseSection, root: MarkedMap, known: Mapping[str, Clause]
    ) -> dict[str, list[Clause]]:
        out: dict[str, list[Clause]] = {}
        articles = {article.key for article in section.articles()}
        for node in self.reader.items(root, "add"):
            after = str(node.get("after"))
            if after not in known and after not in articles:
                fix = suggestion(after, (*known, *articles), "write `after: KEY` of a clause or an article")
                self.reader.problem(node.values_at.get("after", node.mark), f"no clause `{after}`", fix)
                continue
            new = self.reader.clause(_without(node, "after"), 1)
            if new is not None:
                out.setdefault(after, []).append(new)
                self._change("added", section, new.key, new.mark)
        return out

    def _named(self, root: MarkedMap, what: str, known: Mapping[str, Clause]) -> Iterator[tuple[str, object]]:
        held = root.get(what)
        if held is None:
            return
        if not isinstance(held, MarkedMap):
            self.reader.problem(
                root.values_at[what], f"`{what}` is no mapping", "write lines `KEY: …` below it"
            )
            return
        if len(held) > MOST_CHANGES:
            self.reader.problem(held.mark, f"`{what}` holds {len(held)} clauses, at most {MOST_CHANGES}")
            return
        for key, node in held.items():
            if key in known:
                yield key, node
            else:
                self.reader.problem(held.keys_at[key], f"no clause `{key}`", suggestion(key, known))

    def _change(
        self,
        what: Literal["replaced", "added", "suppressed"],
        section: ClauseSection,
        key: str,
        mark: Mark,
        reason: str = "",
        requirements: tuple[str, ...] = (),
    ) -> None:
        self.changes.append(ClauseChange(what, section.number, key, mark, reason, requirements))


def _with_key(node: MarkedMap, key: str) -> MarkedMap:
    out = _without(node, "")
    out["key"] = key
    out.keys_at["key"] = out.values_at["key"] = node.mark
    return out


def _without(node: MarkedMap, name: str) -> MarkedMap:
    out = MarkedMap(node.mark)
    for key, value in node.items():
        if key != name:
            out[key] = value
            out.keys_at[key], out.values_at[key] = node.keys_at[key], node.values_at[key]
    return out


def _rebuilt(
    section: ClauseSection,
    replaced: Mapping[str, Clause],
    suppressed: set[str],
    added: Mapping[str, list[Clause]],
) -> ClauseSection:
    def inside(clauses: tuple[Clause, ...]) -> tuple[Clause, ...]:
        out: list[Clause] = []
        for clause in clauses:
            if clause.key not in suppressed:
                now = replaced.get(clause.key, clause)
                # Subparagraphs that a replacement does not write itself stay.
                out.append(
                    replace(now, sub=inside(now.sub or (() if now.lists or now.states else clause.sub)))
                )
            out.extend(added.get(clause.key, ()))
        return tuple(out)

    parts = {
        part: tuple(replace(one, clauses=(*added.get(one.key, ()), *inside(one.clauses))) for one in articles)
        for part, articles in section.parts.items()
    }
    return replace(section, parts=parts)
