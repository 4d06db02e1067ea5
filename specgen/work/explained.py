"""Findings explained, with the lines of the project file they stand on."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from specgen.explain.bench import Bench
from specgen.explain.chain import Explainer, Explanation, SourceLine
from specgen.files.foreign import foreign_bytes
from specgen.files.yaml_reader import Limits
from specgen.model.finding import Finding
from specgen.specification import Specification


def explained(spec: Specification, findings: Iterable[Finding]) -> tuple[Explanation, ...]:
    """The findings that someone must act on, explained, in the order given."""
    return explainer(spec, Bench(spec.assessment)).explain(findings)


def explainer(spec: Specification, bench: Bench, line: SourceLine | None = None) -> Explainer:
    """What explains the findings of a project, and shares what it tries between them.

    Args:
        spec: the project as specified.
        bench: of its assessment.
        line: tells the words of a line; None: as it stands in its file.
    """
    return Explainer(bench, spec.paragraphs, line or source_line)


def source_line(file: str, line: int) -> str:
    """A line as it stands in the file; "" for a line that is not there."""
    lines = _lines(file)
    return lines[line - 1].rstrip() if 0 < line <= len(lines) else ""


@lru_cache(maxsize=8)
def _lines(file: str) -> tuple[str, ...]:
    return tuple(foreign_bytes(file, Limits().bytes).decode("utf-8-sig").splitlines())
