"""A submittal file to a :class:`Submission`: products by generic attributes, each value with its proof."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

from specgen.files.foreign import refused
from specgen.files.marks import Mark, refuse, suggestion
from specgen.files.yaml_reader import MarkedList, MarkedMap
from specgen.intake.bounds import BOUND_KEYS, between, stated
from specgen.intake.formats import FORMAT, read_file
from specgen.intake.records import RecordReader, with_defaults
from specgen.intake.values import SHEET_THICKNESS, UnusableValueError, described
from specgen.model.project import Record, Value
from specgen.model.submission import Claim, Product, Submission, Unconfirmed
from specgen.practice.entries import Field, Practice, Role
from specgen.practice.sheet import sheet_thickness
from specgen.units.quantity import Quantity, QuantityError

SECTIONS = ("submittal", "products")
TOP_KEYS = (FORMAT, *SECTIONS)
PRODUCT_KEYS = ("role", "kind", "name", "parapets", "meant")
CLAIM_KEYS = ("value", "method", "evidence", "confirm", *BOUND_KEYS)
KIND_KEYS = ("value", "evidence", "confirm")
MOST_PRODUCTS = 500
DATA_SHEETS = (".pdf", ".xlsx", ".csv")
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
    if path.suffix.lower() in DATA_SHEETS and path.is_file():
        what = f"a {path.suffix.lower()} file is a data sheet, not a submittal file"
        raise refused(path, what, READ_FIRST)
    reader = SubmittalReader(practice, read_file(path, "submittal"), str(path))
    submission = reader.read()
    refuse(reader.problems)
    return submission


class SubmittalReader(RecordReader):
    """Reads one submittal file."""

    def __init__(self, practice: Practice, root: MarkedMap, path: str) -> None:
        super().__init__(practice)
        self.root = root
        self.path = path

    def read(self) -> Submission:
        """The submission; problems are collected, not raised."""
        meant = self.strange_keys(self.root, TOP_KEYS)
        for key in SECTIONS:
            if key not in self.root and key not in meant:
                self.problem(self.root.mark, f"`{key}` is missing", f"add a section `{key}:`")
        fields = self.vocabulary.records["submittal"].fields
        mark = self.root.values_at.get("submittal", self.root.mark)
        info = Record("submittal", {}, {}, mark)
        if "submittal" in self.root:
            info = with_defaults(self.record(self.root["submittal"], mark, "submittal"), fields)
        return Submission(info, self._products(), self.path)

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
        kind, kind_evidence = self._kind(node, definition, open_values)
        name = node.get("name")
        if isinstance(name, bool) or not isinstance(name, str | int) or not str(name).strip():
            self.problem(
                node.values_at.get("name", mark),
                "a product needs a name",
                "add `name: …`, in quotes if needed",
            )
        claims = self._claims(node, definition.fields, open_values)
        if kind:
            claims["kind"] = Claim(kind, "", kind_evidence, node.values_at.get("kind", mark))
        meant = self.meant(node, {**claims, **open_values}, definition.fields)
        return Product(role, str(name), kind, claims, mark, self._where(node), open_values, meant)

    def _kind(self, node: MarkedMap, role: Role, open_values: dict[str, Unconfirmed]) -> tuple[str, str]:
        """The generic kind with its evidence, from a word or from ``{value, evidence, confirm}``."""
        written = node.get("kind")
        if written is None:  # blank or absent: not stated, as any other value
            return "", ""
        if not isinstance(written, MarkedMap):
            return self.choice(node, "kind", role.kinds, role.name) or "", ""
        self.strange_keys(written, KIND_KEYS)
        blank = written.get("value") is None
        value = "" if blank else self.choice(written, "value", role.kinds, role.name) or ""
        if "confirm" in written:
            open_values["kind"] = self._unconfirmed(written, value)
            return "", ""
        return value, self.words(written, "evidence")

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
        self, node: MarkedMap, fields: dict[str, Field] | Any, open_values: dict[str, Unconfirmed]
    ) -> dict[str, Claim]:
        claims: dict[str, Claim] = {}
        known = [*PRODUCT_KEYS, *(key for key, one in fields.items() if not one.project_only)]
        self.strange(node, [key for key in node if key not in fields and key not in PRODUCT_KEYS], known)
        for name, written in node.items():
            field = None if name in PRODUCT_KEYS else fields.get(name)
            if field is None:
                continue
            if field.project_only:
                self.problem(
                    node.keys_at[name], f"`{name}` is a fact of the project, not of a product", "delete it"
                )
            else:
                claim = self._claim(field, written, node.values_at[name])
                if isinstance(written, MarkedMap) and "confirm" in written:
                    open_values[name] = self._unconfirmed(written, _as_written(written.get("value")))
                elif claim is not None:
                    claims[name] = claim
        return {name: self._as_thickness(claim, claims, fields[name]) for name, claim in claims.items()}

    def _claim(self, field: Field, written: Any, mark: Mark) -> Claim | None:
        """A claim from a bare value or from ``{value, method, evidence}``; a blank value is not stated."""
        method = evidence = ""
        ends: dict[str, Any] = {}
        if isinstance(written, MarkedMap):
            self.strange_keys(written, CLAIM_KEYS)
            method, evidence = (self.words(written, key) for key in ("method", "evidence"))
            ends = {key: written[key] for key in BOUND_KEYS if written.get(key) is not None}
            mark = written.values_at.get(next(iter(ends), "value"), mark)
            if ends and written.get("value") is not None:
                self.problem(mark, f"`{field.name}` has a value and a bound beside it", "write one of them")
                return None
            written = written.get("value")
        if written is None and not ends:
            return None
        try:
            one = between(field, ends, self.vocabulary) if ends else stated(field, written, self.vocabulary)
        except UnusableValueError as problem:
            self.problem(mark, problem.message, problem.fix)
            return None
        return Claim(one.value, method, evidence, mark, one.sense, one.upper)

    def _as_thickness(self, claim: Claim, claims: dict[str, Claim], field: Field) -> Claim:
        value: Value = claim.value
        if field.type != "sheet thickness" or not isinstance(value, Quantity):
            return claim
        if value.dimension not in SHEET_THICKNESS - {"length"}:
            return claim
        metal = claims["metal"].value if "metal" in claims else None
        try:
            thickness = sheet_thickness(self.practice, value, str(metal) if metal else None)
        except QuantityError as error:
            self.problem(claim.mark, error.message, error.fix)
            return claim
        return replace(claim, value=thickness, evidence=claim.evidence or f"stated as {value.text}")


def _as_written(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else str(value)


def nearest_parapet(name: str, known: tuple[str, ...]) -> str:
    """A hint for a parapet name a submittal misspells."""
    return suggestion(name, known, f"parapets: {', '.join(known)}")
