"""Clauses in: one YAML file a section, read with marks and checked."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from specgen.files.carried import carried
from specgen.files.compiled import compiled
from specgen.files.marks import InputError, InputProblem, Mark, suggestion
from specgen.files.yaml_reader import MarkedList, MarkedMap, read_yaml
from specgen.practice.entries import Practice
from specgen.practice.load import load_practice
from specgen.requirements.catalogue_file import load_catalogue
from specgen.sections.clause import PARTS, Article, Clause, ClauseBook, ClauseSection
from specgen.sections.clause_text import (
    EACH_NAMES,
    LISTING_NAMES,
    STATING_NAMES,
    Call,
    ClauseTextError,
    Condition,
    as_text,
    compile_condition,
    compile_text,
    know,
    parser_files,
    refuse_digits,
)
from specgen.sections.existing import ENTRY_NAMES, LISTS
from specgen.sections.facts import GROUPS
from specgen.sections.numbers import SECTION_NUMBER
from specgen.sections.overlay import Overlay
from specgen.sections.renumbered import renumbered
from specgen.wall.facts import CONDITIONS

SUBMITTAL_TYPES = ("action", "informational", "closeout")
FILLS = ("references",)
DEEPEST = 4
_SECTION_KEYS = ("number", "title", "roles", "trade", *PARTS)
_SECTION_MAY = ("when",)
_ARTICLE_KEYS = ("article", "key", "fill", "submittals", "paragraphs")
_CLAUSE_KEYS = ("key", "text", "when", "states", "says", "lists", "each", "item", "document", "sub")


def load_clauses(practice: Practice, folder: Path | None = None, over: Path | None = None) -> ClauseBook:
    """The clause folder, checked.

    Args:
        practice: holds the vocabulary and the values that clauses may print.
        folder: another clause folder than the one that ships with specgen.
        over: an office's folder of clauses that are laid over those, see :mod:`specgen.sections.overlay`.

    Raises:
        InputError: carries every problem found in all files.
    """
    book = _shipped() if folder is None else _load(practice, folder)
    return renumbered(book if over is None else _laid_over(practice, book, over), practice.sections)


@lru_cache(maxsize=1)
def _shipped() -> ClauseBook:
    """The clauses that ship, held against the practice that ships; an office's practice only adds to that."""
    folder = carried("clauses")
    made_from = [path.read_bytes() for path in (*parser_files(), *sorted(folder.glob("*.yaml")))]
    know(compiled("clauses", made_from, lambda: _parsed(_load(load_practice(), folder))))
    return _load(load_practice(), folder)


def _parsed(book: ClauseBook) -> dict[str, Any]:
    """Every text and condition of a book that needed a parser, with its tree."""
    clauses = [clause for section in book.sections for clause in section.clauses()]
    texts = [text for clause in clauses for text in (clause.text, clause.item) if text and text.body]
    conditions = [
        when for when in (*(one.when for one in book.sections), *(one.when for one in clauses)) if when
    ]
    return {text.source: text.body for text in texts} | {
        as_text(one.source): [one.test] for one in conditions
    }


def _load(practice: Practice, folder: Path) -> ClauseBook:
    reader = _Reader(practice)
    book = reader.book(folder)
    reader.refuse()
    return book


def _laid_over(practice: Practice, book: ClauseBook, over: Path) -> ClauseBook:
    reader = _Reader(practice)
    reader.titles, reader.evidence = dict(book.titles), dict(book.evidence)
    overlay = Overlay(reader, over)
    roots = overlay.roots()
    for root, _ in roots:
        if "number" in root:
            reader.titles.setdefault(str(root["number"]), str(root.get("title")))
    sections = overlay.laid(book.sections, roots)
    reader.check(sections)
    reader.refuse()
    return ClauseBook(sections, reader.titles, book.evidence, tuple(overlay.changes))


class _Reader:
    """Reads one clause folder; problems are collected."""

    def __init__(self, practice: Practice) -> None:
        self.practice = practice
        self.problems: list[InputProblem] = []
        self.titles: dict[str, str] = {}
        self.evidence: dict[str, tuple[str, str]] = {}
        self.requirements = {entry.name: entry for entry in load_catalogue()}

    def problem(self, mark: Mark, message: str, fix: str = "") -> None:
        self.problems.append(InputProblem(mark, message, fix))

    def refuse(self) -> None:
        if self.problems:
            raise InputError(sorted(self.problems, key=lambda problem: problem.mark))

    def check(self, sections: tuple[ClauseSection, ...]) -> None:
        for section in sections:
            self._check_keys(section)
        self._check_there(sections)

    def book(self, folder: Path) -> ClauseBook:
        titles = read_yaml(folder / "titles.yaml", want=dict)
        self.titles = {number: str(title) for number, title in titles.items()}
        evidence = read_yaml(folder / "evidence.yaml", want=dict)
        for name, node in evidence.items():
            if not isinstance(node, MarkedMap):
                self.problem(
                    evidence.values_at[name], f"evidence `{name}` is a mapping", "write `type` and `wanted`"
                )
            elif self._known(node, ("type", "wanted"), ("type", "wanted")):
                if node["type"] not in SUBMITTAL_TYPES:
                    choices = ", ".join(SUBMITTAL_TYPES)
                    self.problem(node.values_at["type"], f"`{node['type']}` is no type of submittal", choices)
                self.evidence[name] = (str(node["type"]), str(node["wanted"]))
        for item in self.requirements.values():
            if item.evidence not in self.evidence:
                self.problem(evidence.mark, f"evidence.yaml does not know `{item.evidence}` of {item.name}")
        paths = sorted(folder.glob("[0-9]*.yaml"))
        roots = [read_yaml(path, want=dict) for path in paths]
        for root in roots:
            self.titles[str(root.get("number"))] = str(root.get("title"))
        sections = tuple(self.section(root, path) for root, path in zip(roots, paths, strict=True))
        self.check(sections)
        return ClauseBook(sections, self.titles, self.evidence)

    def _check_there(self, sections: tuple[ClauseSection, ...]) -> None:
        """A reference to a paragraph of another section names one that the section has."""
        keys = {
            section.number: {
                *(article.key for article in section.articles()),
                *(clause.key for clause in section.clauses()),
            }
            for section in sections
        }
        for section in sections:
            for clause in section.clauses():
                for call in clause.text.calls:
                    if call.function == "there" and len(call.words) == 2:
                        number, key = call.words
                        if key not in keys.get(number, set()):
                            fix = suggestion(key, keys.get(number, set()), "name a key of that section")
                            self.problem(clause.mark, f"{clause.key}: Section {number} has no `{key}`", fix)

    def _known(self, node: MarkedMap, keys: tuple[str, ...], needed: tuple[str, ...]) -> bool:
        before = len(self.problems)
        for key in node:
            if key not in keys:
                fix = suggestion(key, keys, f"known here: {', '.join(keys)}")
                self.problem(node.keys_at[key], f"unknown key `{key}`", fix)
        for key in needed:
            if key not in node:
                self.problem(node.mark, f"`{key}` is missing", f"add a line `{key}: …`")
        return len(self.problems) == before

    def items(self, node: MarkedMap, key: str) -> list[MarkedMap]:
        items = node.get(key, [])
        if not isinstance(items, MarkedList) and key in node:
            self.problem(node.values_at[key], f"`{key}` is no list", "write lines that start with `-`")
            return []
        out = []
        for index, item in enumerate(items):
            if isinstance(item, MarkedMap):
                out.append(item)
            else:
                self.problem(items.items_at[index], "a mapping is wanted here", "write `key: value` lines")
        return out

    def section(self, root: MarkedMap, path: Path) -> ClauseSection:
        self._known(root, (*_SECTION_KEYS, *_SECTION_MAY), _SECTION_KEYS)
        number, title = str(root.get("number")), str(root.get("title"))
        if not SECTION_NUMBER.fullmatch(number):
            self.problem(
                root.values_at.get("number", root.mark), f"`{number}` is no section number", "07 71 00"
            )
        roles = tuple(str(role) for role in root.get("roles", ()))
        for role in roles:
            if role not in self.practice.vocabulary.roles:
                self.problem(root.values_at["roles"], f"no role `{role}` in the vocabulary")
        parts = {part: tuple(self._article(node) for node in self.items(root, part)) for part in PARTS}
        when = self._when(root, number)
        return ClauseSection(number, title, roles, str(root.get("trade")), parts, str(path), when)

    def _check_keys(self, section: ClauseSection) -> None:
        keys = [article.key for article in section.articles()] + [clause.key for clause in section.clauses()]
        for key in sorted({key for key in keys if keys.count(key) > 1}):
            self.problem(
                Mark(section.path, 1, 1), f"the key `{key}` is used twice in Section {section.number}"
            )
        for clause in section.clauses():
            for text in (clause.text, clause.item):
                for call in text.calls if text else ():
                    if call.function == "ref" and call.words[0] not in keys:
                        fix = suggestion(call.words[0], keys)
                        self.problem(clause.mark, f"{clause.key}: no paragraph `{call.words[0]}`", fix)

    def _article(self, node: MarkedMap) -> Article:
        self._known(node, _ARTICLE_KEYS, ("article", "key"))
        title = str(node.get("article"))
        self._try(node.values_at.get("article", node.mark), title, lambda: refuse_digits(title))
        for key, choices in (("fill", FILLS), ("submittals", SUBMITTAL_TYPES)):
            if node.get(key, choices[0]) not in choices:
                self.problem(node.values_at[key], f"`{key}` is one of: {', '.join(choices)}")
        clauses = tuple(clause for item in self.items(node, "paragraphs") if (clause := self.clause(item, 1)))
        return Article(
            str(node.get("key")), title, clauses, str(node.get("fill", "")), str(node.get("submittals", ""))
        )

    def clause(self, node: MarkedMap, depth: int) -> Clause | None:
        if not self._known(node, _CLAUSE_KEYS, ("key", "text")):
            return None
        key, mark = str(node["key"]), node.values_at["text"]
        if depth > DEEPEST:
            self.problem(node.mark, f"{key}: deeper than {DEEPEST} levels", "lift the paragraph")
        text = self._try(mark, key, lambda: compile_text(str(node["text"])))
        item = None
        if "item" in node:
            item = self._try(node.values_at["item"], key, lambda: compile_text(str(node["item"])))
        when = self._when(node, key)
        for checked, where in ((text, "text"), (item, "item")):
            for call in checked.calls if checked else ():
                self._check_call(call, node.values_at[where], key)
        sub = tuple(below for part in self.items(node, "sub") if (below := self.clause(part, depth + 1)))
        if text is None:
            return None
        clause = Clause(
            key=key,
            text=text,
            mark=mark,
            when=when,
            states=str(node.get("states", "")),
            says=node.get("says"),
            lists=str(node.get("lists", "")),
            each=str(node.get("each", "")),
            item=item,
            document=str(node.get("document", "")),
            sub=sub,
        )
        self._check_clause(clause, node)
        return clause

    def _when(self, node: MarkedMap, key: str) -> Condition | None:
        if "when" not in node:
            return None
        when: Condition | None = self._try(
            node.values_at["when"], key, lambda: compile_condition(str(node["when"]))
        )
        for call in when.calls if when else ():
            self._check_call(call, node.values_at["when"], key)
        return when

    def _check_clause(self, clause: Clause, node: MarkedMap) -> None:
        if clause.states and clause.states not in self.requirements:
            fix = suggestion(clause.states, self.requirements)
            self.problem(node.values_at["states"], f"{clause.key}: no requirement `{clause.states}`", fix)
        if clause.states and clause.says is None and "limit" not in clause.text.names:
            self.problem(
                clause.mark, f"{clause.key}: states a requirement and does not print its limit",
                "print {{ limit }}, or add `says: yes` where the limit is a yes or no",
            )  # fmt: skip
        if not clause.states and {"limit", "method"} & clause.text.names:
            self.problem(
                clause.mark, f"{clause.key}: prints a limit and states no requirement", "add `states`"
            )
        used = clause.text.names | (clause.item.names if clause.item and not clause.each else frozenset())
        if used & set(ENTRY_NAMES):
            self.problem(
                clause.mark,
                f"{clause.key}: prints an entry and lists none",
                "print it in `item`, below `each`",
            )
        self._check_names(clause)
        if clause.lists and clause.lists not in self.evidence:
            self.problem(node.values_at["lists"], f"{clause.key}: no evidence `{clause.lists}`")
        if clause.each and clause.each not in LISTS:
            fix = suggestion(clause.each, LISTS, f"known here: {', '.join(LISTS)}")
            self.problem(node.values_at["each"], f"{clause.key}: no list `{clause.each}`", fix)
        listed = bool(clause.lists) + bool(clause.each)
        if listed != bool(clause.item) or (clause.sub and (listed or clause.states)):
            self.problem(
                clause.mark,
                f"{clause.key}: one of `lists` and `each` goes with `item`; neither of them nor `states` with `sub`",
            )

    def _check_names(self, clause: Clause) -> None:
        """What a text prints has words where it stands: those of a list are known in its `item` alone."""
        of_item = EACH_NAMES if clause.each else LISTING_NAMES | set(ENTRY_NAMES)
        strange = clause.text.names - STATING_NAMES - set(ENTRY_NAMES)
        if clause.item:
            strange |= clause.item.names - of_item
            strange |= {one.function for one in clause.item.calls if clause.each}
        for name in sorted(strange):
            places = "the `item` of a clause with `lists`" if name in LISTING_NAMES else "another place"
            self.problem(clause.mark, f"{clause.key}: `{name}` has no words here", f"it is known in {places}")

    def _check_call(self, call: Call, mark: Mark, key: str) -> None:
        roles = self.practice.vocabulary.roles
        choices: Mapping[str, Any]
        match call.function:
            case "value" | "at_least" | "at_most":
                choices = self.practice.entries
            case "section" | "there" | "issued":
                choices = self.titles
            case "place":
                choices = CONDITIONS
            case "specified_by":
                choices = dict.fromkeys(GROUPS)
            case "repaired":
                choices = dict.fromkeys(self.practice.vocabulary.records["repair"].fields["what"].choices)
            case "opened":
                choices = dict.fromkeys(self.practice.vocabulary.records["opening"].fields["found"].choices)
            case "stated":
                choices = self.requirements
            case "parapet":
                choices = self.practice.vocabulary.records["parapet"].fields
            case "existing":
                choices = self.practice.vocabulary.records["existing"].fields
            case "ref":
                return
            case _:
                choices = roles
        wanted = 2 if call.function in ("word", "there") else 1
        if len(call.words) != wanted:
            self.problem(mark, f"{key}: `{call.function}` takes {wanted} words")
        elif call.words[0] not in choices:
            fix = suggestion(call.words[0], choices)
            self.problem(mark, f"{key}: {call.function}('{call.words[0]}') is not known", fix)
        elif call.function == "word" and call.words[1] not in roles[call.words[0]].fields:
            self.problem(mark, f"{key}: {call.words[0]} has no attribute `{call.words[1]}`")

    def _try(self, mark: Mark, key: str, make: Any) -> Any:
        try:
            return make()
        except ClauseTextError as error:
            self.problem(mark, f"{key}: {error.message}", error.fix)
            return None
