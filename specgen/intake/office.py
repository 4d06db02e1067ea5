"""An office file to an :class:`Office`: limits, severities, values and rules of the office, every problem in one run."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any, cast, get_args

from specgen.files.marks import InputProblem, Mark, refuse, suggestion
from specgen.files.yaml_reader import MarkedMap
from specgen.intake.formats import read_file
from specgen.intake.records import RecordReader
from specgen.intake.values import described
from specgen.model.finding import Severity
from specgen.model.project import Record, Value
from specgen.model.source import Source, Status
from specgen.practice.amendments import Amendment, shipped
from specgen.practice.entries import OlderEditions, Practice, PracticeEntry, SectionName
from specgen.practice.methods import Edition, edition_of
from specgen.practice.nominal import paired, same
from specgen.practice.office import Changeable, LimitChange, Office, change_of
from specgen.practice.shapes import shape
from specgen.units.quantity import Quantity, QuantityError, parse

FILE_NAME = "office.yaml"
TOP_KEYS = tuple(shape("office file"))
LIMIT_KEYS = tuple(shape("office limit"))
VALUE_KEYS = tuple(shape("office value"))  # of a value and of an amendment
SECTION_KEYS = tuple(shape("section of an office"))
EDITION = re.compile(r"(?:19[5-9]|20[0-4])[0-9][a-z]?(?: ?\((?:19[5-9]|20[0-4])[0-9]\))?")
VALUE_KEY = re.compile(r"office(\.[a-z0-9_]+)+")
SECTION_NUMBER = re.compile(r"[0-9]{2} [0-9]{2} [0-9]{2}")
FOLDER_NAME = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_-]*")
MOST_ENTRIES = shape("office file")["limits"].most


def office_file(project: Path) -> Path | None:
    """The office file beside a project file, or None."""
    found = (project if project.is_dir() else project.parent) / FILE_NAME
    return found if os.path.lexists(found) else None  # a link that leads nowhere is told, not passed over


def load_office(path: Path, practice: Practice, changeable: Changeable, allow_code: bool = False) -> Office:
    """Read and check an office file.

    Args:
        path: the YAML file.
        practice: the practice folder as shipped; its vocabulary defines the records of the file.
        changeable: what the file may change.
        allow_code: whether rule modules of the office may be run.

    Returns:
        The office's standards. A limit below the code is kept and marked; it is for the rule book to refuse it.

    Raises:
        InputError: carries every problem found.
    """
    reader = OfficeReader(practice, changeable, read_file(path, "office"), path, allow_code)
    office = reader.read()
    refuse(reader.problems)
    return office


class OfficeReader(RecordReader):
    """Reads one office file."""

    def __init__(
        self, practice: Practice, changeable: Changeable, root: MarkedMap, path: Path, allow_code: bool
    ) -> None:
        super().__init__(practice)
        self.changeable = changeable
        self.root = root
        self.path = path
        self.allow_code = allow_code
        self.info = Record("office", {}, {}, root.mark)

    def read(self) -> Office:
        """The office; problems are collected, not raised."""
        meant = self.strange_keys(self.root, TOP_KEYS)
        if "office" in self.root:
            self.info = self.record(self.root["office"], self.root.values_at["office"], "office")
        elif "office" not in meant:
            self.problem(self.root.mark, "`office` is missing", "add a section `office:`")
        return Office(
            name=self.info.word("name") or "",
            path=str(self.path),
            changes=tuple(self._changes()),
            values=tuple(self._values()),
            amendments=tuple(self._amendments()),
            severity=self._severity(),
            rules=self._rules(),
            editions=dict(self._editions()),
            older_editions=self._older_editions(),
            sections=dict(self._sections()),
            paper=self.info.word("paper") or "",
        )

    def _items(self, node: MarkedMap, key: str) -> list[tuple[str, Any, Mark, Mark]]:
        """Name, value, place of the name and of the value of each line of a section."""
        if key not in node:
            return []
        held = node[key]
        if not isinstance(held, MarkedMap):
            message = f"`{key}`: {described(held)} stands where `name: value` lines are wanted"
            self.problem(node.values_at[key], message, f"write indented lines below `{key}:`")
            return []
        if len(held) > MOST_ENTRIES:
            self.problem(held.mark, f"`{key}` holds {len(held)} lines, at most {MOST_ENTRIES}", "delete some")
            return []
        return [(name, value, held.keys_at[name], held.values_at[name]) for name, value in held.items()]

    def _changes(self) -> Iterator[LimitChange]:
        changed: dict[str, Mark] = {}
        for key, written, key_mark, mark in self._items(self.root, "limits"):
            if key in self.changeable.directions:
                changed[key] = key_mark
                yield from self._change(key, written, mark, key_mark)
            else:
                self._unknown_limit(key, key_mark)
        for code, _node, code_mark, _mark in self._items(self.root, "options"):
            if self._known(code, code_mark, self.changeable.rules, "rule"):
                yield from self._options(code, changed)

    def _options(self, code: str, changed: dict[str, Mark]) -> Iterator[LimitChange]:
        options = self.changeable.rules[code].options
        for name, written, name_mark, mark in self._items(self.root["options"], code):
            if not self._known(name, name_mark, options, f"option of {code}"):
                continue
            key = options[name]
            if key in changed:
                message = f"`{name}` of {code} is the value `{key}`, which line {changed[key].line} changes"
                self.problem(name_mark, message, "write it once")
                continue
            changed[key] = name_mark
            yield from self._change(key, written, mark, name_mark)

    def _known(self, word: str, mark: Mark, known: Iterable[str], what: str) -> bool:
        choices = list(known)
        if word in choices:
            return True
        fix = suggestion(word, choices, f"known: {', '.join(choices) or 'none'}")
        self.problem(mark, f"no {what} `{word}`", fix)
        return False

    def _unknown_limit(self, key: str, mark: Mark) -> None:
        if key in self.practice.entries:
            fix = "a rule option may change it (see specgen rules); only limits of requirements stand here"
            self.problem(mark, f"`{key}` is known, but it limits no requirement in one direction", fix)
        else:
            self._known(key, mark, self.changeable.directions, "limit")

    def _change(self, key: str, written: Any, mark: Mark, key_mark: Mark) -> Iterator[LimitChange]:
        """The change of one entry, from a bare value or from ``{value, place}``."""
        place = f"{self.path.name} line {key_mark.line}"
        if isinstance(written, MarkedMap):
            record = self.record(written, mark, "office limit", LIMIT_KEYS)
            place = record.word("place") or place
            if "value" not in written:
                self.problem(written.mark, "`value` is missing", "add a line `value: …`")
                return
            mark, written = written.values_at["value"], written["value"]
        original = self.practice.entry(key)
        value = self._limit_value(key, original.value, written, mark)
        if value is None:
            return
        source = Source(
            self.info.word("document") or "",
            self.info.word("edition") or "",
            place,
            Status.OFFICE,
            self.info.word("name") or "",
            original.source,
        )
        changed = replace(original, value=value, source=source, note="")
        yield change_of(original, changed, self.changeable.directions.get(key, ""), mark)

    def _limit_value(self, key: str, old: Value | None, written: Any, mark: Mark) -> Value | None:
        if isinstance(old, Quantity):
            return self._quantity(key, old, written, mark)
        if isinstance(old, tuple):
            if isinstance(written, list) and written:
                good = [
                    isinstance(word, str) and self._known(word, mark, old, f"word of {key}")
                    for word in written
                ]
                return tuple(word for word in old if word in written) if all(good) else None
            message = f"`{key}` is {described(written)}, a list of words is wanted"
            self.problem(mark, message, f"choose: {', '.join(old)}")
            return None
        self.problem(mark, f"`{key}` is a statement, not a number", "delete the line")
        return None

    def _quantity(self, key: str, old: Quantity, written: Any, mark: Mark) -> Quantity | None:
        if isinstance(written, bool) or not isinstance(written, str | int | float):
            message = f"`{key}` is {described(written)}, a value like `{old.text}` is wanted"
            self.problem(mark, message, "write a number and its unit")
            return None
        try:
            new = parse(written, {old.dimension})
        except QuantityError as error:
            self.problem(mark, f"`{key}`: {error.message}", error.fix)
            return None
        if new.value < 0 <= old.value and new.dimension != "temperature":
            self.problem(mark, f"`{key}`: `{new.text}` is below zero", "write it without a minus sign")
            return None
        wanted, given = old.condition, new.condition
        one = wanted is given is None or (wanted and given and same(given, paired(wanted)))
        if not one:
            fix = f"write it like `{old.text}`" if old.condition else "delete what follows the unit"
            self.problem(mark, f"`{key}`: `{new.text}` is not at the test condition of the limit", fix)
            return None
        return new

    def _severity(self) -> dict[str, Severity]:
        words = {one.value: one for one in Severity}
        out: dict[str, Severity] = {}
        for code, word, code_mark, mark in self._items(self.root, "severity"):
            if not self._known(code, code_mark, self.changeable.rules, "rule"):
                continue
            if not isinstance(word, str) or word not in words:
                self._known(word if isinstance(word, str) else described(word), mark, words, "severity")
                continue
            facts = self.changeable.rules[code]
            if facts.bound and word != "defect":
                message = f"{code} is a defect and rests on the code; the office cannot make it a {word}"
                self.problem(mark, message, "delete the line; a project may waive one finding of it")
                continue
            out[code] = words[word]
        return out

    def _editions(self) -> Iterator[tuple[str, Edition]]:
        standards = [str(row["designation"]) for row in self.practice.table("standards").rows]
        for name, written, name_mark, mark in self._items(self.root, "editions"):
            if not self._known(name, name_mark, standards, "standard"):
                continue
            good = isinstance(written, int | str) and EDITION.fullmatch(str(written).strip())
            edition = edition_of(f"{name}-{str(written).strip()}") if good else None
            if edition is None:
                problem = f"`{name}`: {described(written)} is no edition"
                self.problem(mark, problem, "write its year, as 2021, 2021a or 2013 (2020)")
                continue
            yield name, edition

    def _older_editions(self) -> OlderEditions:
        if "older_editions" in self.root:
            word, mark = self.root["older_editions"], self.root.values_at["older_editions"]
            if self._known(str(word), mark, get_args(OlderEditions), "choice"):
                return cast(OlderEditions, word)
        return "confirm"

    def _sections(self) -> Iterator[tuple[str, SectionName]]:
        """Numbers under which the office issues sections, each with its title where that is another."""
        taken: dict[str, Mark] = {}
        for shipped_as, written, key_mark, mark in self._items(self.root, "sections"):
            if not self._known(shipped_as, key_mark, self.vocabulary.sections, "section"):
                continue
            number, title = written, ""
            if isinstance(written, MarkedMap):
                self.strange_keys(written, SECTION_KEYS)
                number, title = written.get("number"), self.words(written, "title")
            if not isinstance(number, str) or not SECTION_NUMBER.fullmatch(number):
                message = f"`{shipped_as}`: {described(number)} is no section number"
                self.problem(mark, message, "write six digits in pairs: 07 71 13")
            elif number in taken:
                message = f"two sections are to have the number {number}: see line {taken[number].line}"
                self.problem(mark, message, "give each a number of its own")
            else:
                taken[number] = mark
                yield shipped_as, SectionName(number, title, mark)

    def _values(self) -> Iterator[PracticeEntry]:
        for key, node, key_mark, mark in self._items(self.root, "values"):
            if not VALUE_KEY.fullmatch(key):
                fix = "start it with `office.`, then lower-case words: office.mockup_length"
                self.problem(key_mark, f"`{key}` is no name for a value of the office", fix)
                continue
            record = self.record(node, mark, "office value", VALUE_KEYS)
            if not isinstance(node, MarkedMap):
                continue
            source = self._source(node, key)
            value = self._new_value(key, node)
            if source is not None and (value is not None or "value" not in node):
                yield PracticeEntry(key, record.word("title") or "", value, source, record.word("note") or "")

    def _amendments(self) -> Iterator[Amendment]:
        """What states and places change of the code, each with its section and its days."""
        held = self.root.get("amendments") or []
        if not isinstance(held, list) or len(held) > MOST_ENTRIES:
            fix = f"write at most {MOST_ENTRIES} entries, each beginning with `- jurisdiction: …`"
            self.problem(self.root.values_at["amendments"], "`amendments` is no list of that kind", fix)
            return
        for node in held:
            mark = node.mark if isinstance(node, MarkedMap) else self.root.values_at["amendments"]
            record = self.record(node, mark, "office amendment", VALUE_KEYS)
            key, since = record.word("changes"), record.values.get("since")
            if not isinstance(node, MarkedMap) or not key or not since:
                continue  # the problem is noted by the schema
            if key not in self.changeable.directions:
                self._unknown_limit(key, record.at("changes"))
                continue
            if "value" not in node:
                self.problem(node.mark, f"the amendment of `{key}` has no value", "add a line `value: …`")
                continue
            alike = [one.value for one in shipped(self.practice) if one.key == key]
            old = self.practice.entry(key).value or next(iter(alike), None)
            value = self._limit_value(key, old, node["value"], node.values_at["value"])
            source = self._source(node, key)
            if value is not None and source is not None:
                place, until = record.word("jurisdiction") or "", record.values.get("until")
                yield Amendment(place, key, value, source, str(since), str(until or ""))

    def _source(self, node: MarkedMap, key: str) -> Source | None:
        if "source" not in node:
            fix = "add `source: {document: …, edition: …, place: …, status: …}`"
            self.problem(node.mark, f"`{key}` has no source", fix)
            return None
        record = self.record(node["source"], node.values_at["source"], "office source")
        document, edition, place, status = (
            record.word(name) or "" for name in ("document", "edition", "place", "status")
        )
        if not (document and edition and place and status):
            return None  # the problem is noted by the schema
        return Source(document, edition, place, Status(status), self.info.word("name") or "")

    def _new_value(self, key: str, node: MarkedMap) -> Value | None:
        if "value" not in node:
            return None
        written, mark = node["value"], node.values_at["value"]
        if isinstance(written, list) and written and all(isinstance(word, str) for word in written):
            return tuple(written)
        if isinstance(written, bool):
            return written
        if isinstance(written, str) and written.strip() and written.strip()[0] not in "0123456789+-.":
            return " ".join(written.split())
        try:
            return parse(written)
        except QuantityError as error:
            self.problem(mark, f"`{key}`: {error.message}", error.fix)
            return None

    def _rules(self) -> Path | None:
        if "rules" not in self.root:
            return None
        name, mark = self.root["rules"], self.root.values_at["rules"]
        if not isinstance(name, str) or not FOLDER_NAME.fullmatch(name):
            fix = "write the name of a folder beside the office file: letters, digits, hyphens"
            self.problem(mark, "`rules` is no name of a folder", fix)
            return None
        folder = self.path.parent / name
        if not folder.is_dir():
            self.problem(
                mark, f"there is no folder `{name}` beside the office file", "make it, or delete the line"
            )
        elif not self.allow_code:
            self.problems.append(
                InputProblem(
                    mark,
                    "the office file brings rules as Python code; no code was run",
                    "add --allow-office-code to the command if you trust the folder, or delete the line",
                )
            )
        return folder
