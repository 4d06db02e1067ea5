"""What a project chooses in place of a practice value: times, terms of warranties, counts of tests and samples."""

from __future__ import annotations

from dataclasses import replace

from specgen.model.project import Project
from specgen.model.source import Source
from specgen.practice.entries import Practice
from specgen.practice.nominal import paired
from specgen.units.quantity import Quantity, quantity


def chosen(practice: Practice, project: Project) -> Practice:
    """The practice with what the project states under ``quality`` in place of the values that stand without it.

    Args:
        practice: as it holds for the office; it is not changed.
        project: its ``quality`` names the values.

    Returns:
        The same practice where the project chooses nothing. A chosen entry names the line of the project file.
    """
    own = project.quality
    entries = dict(practice.entries)
    for name, written in own.values.items():
        entry = practice.entry(practice.vocabulary.records[own.what].fields[name].stands_for)
        value = quantity(written, "") if type(written) is int else written
        assert isinstance(value, Quantity)
        entries[entry.key] = replace(entry, value=paired(value), source=Source.of_project(own.at(name)))
    return replace(practice, entries=entries) if own.values else practice
