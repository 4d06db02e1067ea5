"""The sample project of the sections, for what reads them as written."""

from __future__ import annotations

from tests.sections.conftest import book, practice, project, requirements, sections

__all__ = ["book", "practice", "project", "requirements", "sections"]
