"""The conforming demo projects, and what the rule book says of one of them after a change."""

from __future__ import annotations

import shutil
import tempfile
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Any
from unittest.mock import patch

import yaml

import specgen.design.roof_junction as junction
import specgen.intake.records as records
from specgen.assessment import assess
from specgen.files.marks import InputError
from specgen.intake.project import load_project
from specgen.intake.schema import Checker, Schema
from specgen.model.finding import Finding, Outcome
from specgen.practice.load import load_practice
from tests import plain_yaml

PROJECTS = Path(__file__).parents[3] / "tests" / "stated"

# Most changes leave the junction of roof and wall as it is, and its grids are slow: solved once for the same case.
_outcome = lru_cache(maxsize=None)(junction.outcome)
# The loader's compiled schemas, kept from one file to the next: making them is most of a load.
_checkers: dict[tuple[object, ...], Checker] = {}


def _kept(title: str, schema: Schema) -> Checker:
    key = (title, tuple((name, one.get("required")) for name, one in schema.items()))
    if key not in _checkers:
        _checkers[key] = Checker(title, schema)
    return _checkers[key]


Key = tuple[str, str, str]  # code, parapet, standing: a severity, or "unknown"


def key_of(finding: Finding) -> Key:
    """What makes a finding another one than that of the unbroken project."""
    unknown = finding.outcome is Outcome.UNKNOWN
    return finding.code, finding.parapet, "unknown" if unknown else finding.severity.value


@dataclass(frozen=True)
class Seen:
    """What a change brought up: findings that the unbroken project does not have, or an input error."""

    new: frozenset[Key]
    refused: str = ""
    left: frozenset[str] = frozenset()  # the values that requirements now stand for

    @property
    def noticed(self) -> bool:
        return bool(self.new or self.refused)


@dataclass(frozen=True)
class Demo:
    """A conforming project, read once; a change is written to a copy beside the project's other files."""

    name: str

    @property
    def folder(self) -> Path:
        return PROJECTS / self.name

    @cached_property
    def document(self) -> dict[str, Any]:
        found: dict[str, Any] = yaml.load(
            (self.folder / "project.yaml").read_text("utf-8"), Loader=yaml.CSafeLoader
        )
        return found

    @cached_property
    def parapets(self) -> tuple[str, ...]:
        return tuple(str(one["name"]) for one in self.document["parapets"])

    def parapets_of(self, kind: str) -> tuple[str, ...]:
        """The parapets of one type of the project."""
        return tuple(str(one["name"]) for one in self.document["parapets"] if one.get("type") == kind)

    @cached_property
    def unbroken(self) -> tuple[frozenset[Key], frozenset[Key]]:
        """The findings of the project as it stands, and what it leaves to the sections."""
        return self._keys(self.document)

    def seen(self, document: Any) -> Seen:
        """What a changed document brings up.

        Raises:
            RuleCrash: a rule failed to run; no change may do that.
        """
        try:
            (found, left), (known, before) = self._keys(document), self.unbroken
            return Seen(found - known, left=frozenset(name for _, _, name in left - before))
        except InputError as error:
            return Seen(frozenset(), str(error))

    def _keys(self, document: Any) -> tuple[frozenset[Key], frozenset[Key]]:
        with tempfile.TemporaryDirectory() as scratch:
            copy = Path(scratch) / self.name
            others = shutil.ignore_patterns("submittals", "project.yaml", "expected.yaml")
            shutil.copytree(self.folder, copy, ignore=others)
            text = yaml.dump(document, Dumper=yaml.CSafeDumper, sort_keys=False, allow_unicode=True)
            (copy / "project.yaml").write_text(text, "utf-8")
            practice = load_practice()
            with patch.object(junction, "outcome", _outcome), patch.object(records, "Checker", _kept):
                found = assess(load_project(copy, practice), practice).findings
        left = (one for one in found if one.outcome is Outcome.SPECIFIED and one.attribute)
        return (
            frozenset(key_of(one) for one in found if one.counts),
            frozenset((one.code, f"{one.parapet} {one.layer}", one.attribute) for one in left),
        )


def _conforms(folder: Path) -> bool:
    expected = folder / "expected.yaml"
    if not expected.exists():
        return False
    groups = plain_yaml.load(expected.read_text("utf-8")).get("faults") or []
    return all(one["severity"] != "defect" for group in groups for one in group["findings"])


@lru_cache(maxsize=1)
def demos() -> tuple[Demo, ...]:
    """Every project whose ``expected.yaml`` lists no defect."""
    return tuple(Demo(path.name) for path in sorted(PROJECTS.iterdir()) if _conforms(path))
