"""What a project chooses in place of a practice value: times, terms of warranties, counts of tests and samples."""

from __future__ import annotations

from dataclasses import replace

from specgen.model.project import Project
from specgen.model.source import Source
from specgen.practice.entries import Practice
from specgen.practice.nominal import paired
from specgen.units.quantity import Quantity, quantity


def chosen(practice: Practice, project: Project) -> Practice:
    """The practice with what the project states under ``quality`` and ``trades`` in place of what holds without it.

    Args:
        practice: as it holds for the office; it is not changed.
        project: its ``quality`` names values, its ``trades`` who installs what.

    Returns:
        The same practice where the project chooses nothing. A chosen entry names the line of the project file.
    """
    practice = _by_trades(practice, project)
    own = project.quality
    entries = dict(practice.entries)
    for name, written in own.values.items():
        entry = practice.entry(practice.vocabulary.records[own.what].fields[name].stands_for)
        value = quantity(written, "") if type(written) is int else written
        assert isinstance(value, Quantity)
        entries[entry.key] = replace(entry, value=paired(value), source=Source.of_project(own.at(name)))
    return replace(practice, entries=entries) if own.values else practice


def _by_trades(practice: Practice, project: Project) -> Practice:
    """The practice with the trades that the project states in place of those that install each role without it."""
    stated = {name: str(trade) for name, trade in project.trades.values.items()}
    if not stated:
        return practice
    roles = dict(practice.vocabulary.roles)
    for name, trade in stated.items():
        kinds = {key: replace(kind, trade="") for key, kind in roles[name].kinds.items()}
        roles[name] = replace(roles[name], trade=trade, kinds=kinds)
    return replace(practice, vocabulary=replace(practice.vocabulary, roles=roles))
