"""A submittal file to a :class:`Submission`: products by generic attributes, each value with its proof."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from specgen.files.foreign import refused
from specgen.files.marks import Mark, near, refuse, suggestion
from specgen.files.yaml_reader import MarkedList, MarkedMap, read_yaml_text
from specgen.intake.bounds import BOUND_KEYS, between, stated, with_tolerance
from specgen.intake.formats import brought_up, read_file
from specgen.intake.papers import against, read_papers
from specgen.intake.records import RecordReader, with_defaults
from specgen.intake.values import SHEET_THICKNESS, UnusableValueError, described, possible
from specgen.model.project import Record, Value
from specgen.model.submission import Claim, Product, Submission, Unconfirmed, Unreadable
from specgen.practice.entries import Field, Practice, Role
from specgen.practice.shapes import shape
from specgen.practice.sheet import sheet_thickness
from specgen.practice.trade_names import hint
from specgen.units.quantity import Quantity, QuantityError

FILE = shape("submittal file")
ANSWER_KEYS = tuple(shape("answer to a comment"))
MOST_ANSWERS = FILE["answers"].most
PRODUCT_KEYS = tuple(shape("product"))
CONFIRMED = "confirmed"
CLAIM_KEYS = tuple(shape("claim"))
KIND_KEYS = tuple(shape("kind of a product"))
NOT_THERE = "not in the sheet"  # of a confirmation
MOST_PRODUCTS = FILE["products"].most
WORD = ".docx"  # a Word file of whatever content is told by what it holds
DATA_SHEETS = (".pdf", WORD, ".xlsx", ".csv")
READ_FIRST = "make a submittal file of it first: specgen read FILE -o PRODUCT.yaml"


def load_submission(path: Path, practice: Practice) -> Submission:
    """Read and check a submittal file.

    Args:
        path: the YAML file.
        practice: holds the vocabulary the file is checked against.

    Returns:
        The submitted products with their claims.

    Raises:
        InputError: carries every problem found.
    """
    if path.suffix.lower() in DATA_SHEETS and path.suffix.lower() != WORD and path.is_file():
        what = f"a {path.suffix.lower()} file is a data sheet, not a submittal file"
        raise refused(path, what, READ_FIRST)
    return _read(read_file(path, "submittal"), path, practice)


def submission_of(text: str, path: Path, practice: Practice) -> Submission:
    """As :func:`load_submission`, of a text that is to stand in a file."""
    root = read_yaml_text(text, str(path), want=dict)
    brought_up(root, "submittal")
    return _read(root, path, practice)


def _read(root: MarkedMap, path: Path, practice: Practice) -> Submission:
    reader = SubmittalReader(practice, root, str(path))
    submission = reader.read()
    refuse(reader.problems)
    return submission


class SubmittalReader(RecordReader):
    """Reads one submittal file."""

    ANSWERS = ("notice",)

    def __init__(self, practice: Practice, root: MarkedMap, path: str) -> None:
        super().__init__(practice)
        self.root = root
        self.path = path

    def read(self) -> Submission:
        """The submission; problems are collected, not raised."""
        meant = self.strange_keys(self.root, FILE)
        for key in FILE.needed:
            if key not in self.root and key not in meant:
                self.problem(self.root.mark, f"`{key}` is missing", f"add a section `{key}:`")
        fields = self.vocabulary.records["submittal"].fields
        mark = self.root.values_at.get("submittal", self.root.mark)
        info = Record("submittal", {}, {}, mark)
        if "submittal" in self.root:
            info = with_defaults(self.record(self.root["submittal"], mark, "submittal"), fields)
        received, returned = (info.values.get(key) for key in ("date", "returned"))
        if isinstance(received, date) and isinstance(returned, date) and returned < received:
            what = f"it was returned on {returned}, before it was received on {received}"
            self.problem(info.at("returned"), what, "correct one of the two dates")
        products = tuple(
            replace(one, against=against(one.papers, one.name, received)) for one in self._products()
        )
        return Submission(info, products, self.path, self._deviations(), self._answers())

    def _deviations(self) -> tuple[str, ...]:
        """What the submitter says that differs from the documents, line by line."""
        given = self.root.get("deviations")
        if given is None:
            return ()
        lines = given if isinstance(given, MarkedList) else [given]
        if any(isinstance(one, bool) or not isinstance(one, str | int) for one in lines):
            fix = "write below it lines that start with `-`"
            self.problem(self.root.values_at["deviations"], "`deviations` is no list of texts", fix)
            return ()
        return tuple(" ".join(str(one).split()) for one in lines)

    def _answers(self) -> dict[int, str]:
        """The answers to the comments of the last review, by their numbers."""
        given = self.root.get("answers")
        if given is None:
            return {}
        if not isinstance(given, MarkedList) or len(given) > MOST_ANSWERS:
            fix = "write below it lines like `- {comment: 3, answer: report attached}`"
            self.problem(self.root.values_at["answers"], "`answers` holds no list of answers", fix)
            return {}
        found: dict[int, str] = {}
        for node, mark in zip(given, given.items_at, strict=True):
            number = node.get("comment") if isinstance(node, MarkedMap) else None
            if isinstance(number, bool) or not isinstance(number, int) or number < 1 or number in found:
                what = "an answer names no comment, or one that is answered twice"
                self.problem(mark, what, "write `comment:` and its number as the review prints it")
                continue
            self.strange_keys(node, ANSWER_KEYS)
            found[number] = self.words(node, "answer")
            if not found[number]:
                self.problem(mark, f"comment {number} has no answer", "write `answer:` and the words")
        return found

    def _products(self) -> tuple[Product, ...]:
        if "products" not in self.root:
            return ()
        items = self.root["products"]
        if not isinstance(items, MarkedList) or not items:
            where = self.root.values_at["products"]
            found_there = "an empty list" if items == [] else described(items)
            self.problem(
                where,
                f"`products`: {found_there} stands where products are wanted",
                "write `products:` and below it lines that start with `- role: …`",
            )
            return ()
        if len(items) > MOST_PRODUCTS:
            self.problem(items.mark, f"{len(items)} products, at most {MOST_PRODUCTS}", "split the file")
            return ()
        found = (self._product(node, mark) for node, mark in zip(items, items.items_at, strict=True))
        return tuple(product for product in found if product)

    def _product(self, node: Any, mark: Mark) -> Product | None:
        if not isinstance(node, MarkedMap):
            self.problem(
                mark,
                f"{described(node)} stands where a product is wanted",
                "write `- role: …`, and below it `name: …` and its values",
            )
            return None
        role = self.choice(node, "role", self.vocabulary.roles)
        if role is None:
            return None
        definition = self.vocabulary.roles[role]
        open_values: dict[str, Unconfirmed] = {}
        unreadable: dict[str, Unreadable] = {}
        document = self.words(node, "evidence")
        kind, kind_evidence = self._kind(node, definition, open_values, unreadable)
        name = node.get("name")
        if isinstance(name, bool) or not isinstance(name, str | int) or not str(name).strip():
            self.problem(
                node.values_at.get("name", mark),
                "a product needs a name",
                "add `name: …`, in quotes if needed",
            )
        claims = self._claims(node, definition.fields, open_values, unreadable)
        if kind:
            claims["kind"] = Claim(kind, "", kind_evidence, node.values_at.get("kind", mark))
        claims = {key: replace(one, evidence=one.evidence or document) for key, one in claims.items()}
        return Product(
            role,
            str(name),
            kind,
            claims,
            mark,
            self._where(node),
            open_values,
            self.meant(node, {**claims, **open_values, **unreadable}, definition.fields),
            {key: replace(one, evidence=one.evidence or document) for key, one in unreadable.items()},
            self.words(node, "maker"),
            read_papers(self, node),
            confirmed=self._confirmed(node, definition.fields),
        )

    def _confirmed(self, node: MarkedMap, fields: Mapping[str, Field]) -> dict[str, Record]:
        """Who compared which values with their sheets, and when."""
        found = {}
        for key in ("kind", *(name for name in node if name in fields)):
            written = node.get(key)
            if not isinstance(written, MarkedMap) or CONFIRMED not in written:
                continue
            mark = written.values_at[CONFIRMED]
            record = found[key] = self.record(written[CONFIRMED], mark, "confirmation")
            stated = any(written.get(one) is not None for one in ("value", *BOUND_KEYS))
            if "confirm" in written:
                what = f"`{key}` is confirmed, and has a line `confirm` that says it is not"
                self.problem(written.keys_at["confirm"], what, "delete one of the two")
            if stated == (record.word("as") == NOT_THERE) and record.has("as"):
                what = f"`{key}` is {record.word('as')}, and has {'a' if stated else 'no'} value"
                self.problem(mark, what, "correct one of the two")
        return found

    def _kind(
        self,
        node: MarkedMap,
        role: Role,
        open_values: dict[str, Unconfirmed],
        unreadable: dict[str, Unreadable],
    ) -> tuple[str, str]:
        """The generic kind with its evidence, from a word or from ``{value, evidence, confirm}``."""
        written = node.get("kind")
        if written is None:  # blank or absent: not stated, as any other value
            return "", ""
        evidence, at, word = "", node.values_at["kind"], written
        if isinstance(written, MarkedMap):
            self.strange_keys(written, KIND_KEYS)
            evidence, word = self.words(written, "evidence"), written.get("value")
            at = written.values_at.get("value", at)
        value = word if isinstance(word, str) and word in role.kinds else ""
        if isinstance(written, MarkedMap) and "confirm" in written:
            open_values["kind"] = self._unconfirmed(written, value)
            return "", ""
        if word is not None and not value:
            fix = f"choose: {', '.join(role.kinds)}"
            if isinstance(word, str):
                fix = hint(word, role.kinds, fix, role.name, "kind")
            why = f"{described(word)} is not a known kind"
            unreadable["kind"] = Unreadable(_as_written(word), why, fix, evidence, at)
        return value, evidence

    def _unconfirmed(self, written: MarkedMap, seen: str) -> Unconfirmed:
        """A value with a line ``confirm``, which says what a person must look at."""
        why = self.words(written, "confirm")
        mark = written.values_at["confirm"]
        if not why and written.get("confirm") is None:
            self.problem(
                mark,
                "`confirm` says nothing",
                "delete the line if the value was compared with its evidence, or say what is open",
            )
        return Unconfirmed(seen, self.words(written, "method"), why, self.words(written, "evidence"), mark)

    def _where(self, node: MarkedMap) -> tuple[str, ...]:
        given = node.get("parapets", MarkedList(node.mark))
        if not isinstance(given, MarkedList) or not all(isinstance(name, str | int) for name in given):
            self.problem(
                node.values_at["parapets"], "`parapets` is no list of names", "write `parapets: [P-1]`"
            )
            return ()
        return tuple(str(name) for name in given)

    def _claims(
        self,
        node: MarkedMap,
        fields: dict[str, Field] | Any,
        open_values: dict[str, Unconfirmed],
        unreadable: dict[str, Unreadable],
    ) -> dict[str, Claim]:
        claims: dict[str, Claim] = {}
        known = [*PRODUCT_KEYS, *(key for key, one in fields.items() if not one.project_only)]
        self.strange(node, [key for key in node if key not in fields and key not in PRODUCT_KEYS], known)
        for name, written in node.items():
            field = None if name in PRODUCT_KEYS else fields.get(name)
            if field is None:
                continue
            if field.project_only:
                what = f"`{name}` is a fact of the project, not of a product"
                self.problem(node.keys_at[name], what, "delete it")
                continue
            claim = self._claim(field, written, node.values_at[name])
            if isinstance(written, MarkedMap) and "confirm" in written:
                open_values[name] = self._unconfirmed(written, _as_written(written.get("value")))
            elif isinstance(claim, Unreadable):
                unreadable[name] = claim
            elif claim is not None:
                claims[name] = claim
        metal = claims["metal"].value if "metal" in claims else None
        for name, claim in tuple(claims.items()):
            thickness = self._as_thickness(claim, fields[name], str(metal) if metal else None)
            if isinstance(thickness, Unreadable):
                del claims[name]
                unreadable[name] = thickness
            else:
                claims[name] = thickness
        return claims

    def _claim(self, field: Field, written: Any, mark: Mark) -> Claim | Unreadable | None:
        """A claim from a bare value or from ``{value, method, evidence}``; a blank value is not stated.

        A value that cannot be used costs its own row, and not the review of the others.
        """
        method = evidence = ""
        ends: dict[str, Any] = {}
        if isinstance(written, MarkedMap):
            torn = [key for key in written if key not in CLAIM_KEYS and written[key] is None]
            torn = [key for key in torn if not near(str(key), CLAIM_KEYS)]
            self.strange(written, [key for key in written if key not in (*CLAIM_KEYS, *torn)], CLAIM_KEYS)
            if torn:  # in braces a comma ends a value: `{value: 0,004 perm}`
                seen = ", ".join((_as_written(written.get("value")), *map(str, torn)))
                why = f"`{field.name}`: a comma inside braces ends the value"
                fix = "write a decimal point, or put a text with a comma in quotes"
                return Unreadable(seen, why, fix, self.words(written, "evidence"), mark)
            method, evidence = (self.words(written, key) for key in ("method", "evidence"))
            ends = {key: written[key] for key in BOUND_KEYS if written.get(key) is not None}
            mark = written.values_at.get(next(iter(ends), "value"), mark)
            if ends and written.get("value") is not None:
                why = f"`{field.name}` has a value and a bound beside it"
                seen = "; ".join(_as_written(one) for one in (written["value"], *ends.values()))
                return Unreadable(seen, why, "write one of them", evidence, mark)
            written = written.get("value")
        if written is None and not ends:
            return None
        try:
            one = None if ends else with_tolerance(field, written, self.vocabulary)
            if one is not None:
                return Claim(
                    one.value, method, evidence, mark, one.sense, one.upper, True, _as_written(written)
                )
            one = between(field, ends, self.vocabulary) if ends else stated(field, written, self.vocabulary)
        except UnusableValueError as problem:
            seen = _as_written(written) or " to ".join(_as_written(end) for end in ends.values())
            return Unreadable(seen, problem.message, problem.fix, evidence, mark)
        return Claim(one.value, method, evidence, mark, one.sense, one.upper)

    def _as_thickness(self, claim: Claim, field: Field, metal: str | None) -> Claim | Unreadable:
        value: Value = claim.value
        if field.type != "sheet thickness" or not isinstance(value, Quantity):
            return claim
        if value.dimension not in SHEET_THICKNESS - {"length"}:
            return claim
        try:
            thickness = possible(field, sheet_thickness(self.practice, value, metal), value.text)
        except (QuantityError, UnusableValueError) as error:
            return Unreadable(value.text, error.message, error.fix, claim.evidence, claim.mark)
        return replace(claim, value=thickness, written=value.text)


def _as_written(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else str(value)


def nearest_parapet(name: str, known: tuple[str, ...]) -> str:
    """A hint for a parapet name a submittal misspells."""
    return suggestion(name, known, f"parapets: {', '.join(known)}")
