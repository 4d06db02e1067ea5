"""A file of one kind given where another is wanted: told in one message, not key by key."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from pathlib import Path

from specgen.files.marks import InputError, InputProblem
from specgen.files.yaml_reader import MarkedMap, read_yaml

# The keys by which a file is known for what it is, the one that heads it first; and where it belongs.
KEYS: Mapping[str, tuple[str, ...]] = {
    "project": ("project", "site", "building", "parapets"),
    "submittal": ("submittal", "products"),
    "office": ("office", "limits", "severity"),
    "request": ("request", "changes"),
    "schedule": ("start", "holidays", "work_week", "durations", "lead_times"),
    "acceptance": ("accepted",),
    "comments": ("comments",),
}
BELONGS: Mapping[str, str] = {
    "project": "a project stands first: specgen check PROJECT, specgen review PROJECT SUBMITTAL",
    "submittal": "a submittal stands behind its project: specgen review PROJECT SUBMITTAL",
    "office": "name it with `--office`, or save it as office.yaml beside the project file",
    "request": "a substitution request stands behind its project: specgen substitute PROJECT REQUEST",
    "schedule": "name it with `--schedule`: specgen register PROJECT -o DIR --schedule FILE",
    "acceptance": "save it as accepted.yaml beside the project file: specgen audit DIR -o DIR",
    "comments": "save it as comments.yaml beside the project file: specgen comment PROJECT",
}


def kind_of(keys: Collection[str]) -> str:
    """What kind of file has these keys at its top, or "" if they say nothing.

    >>> kind_of(["project", "site"]), kind_of(["submittal", "products"]), kind_of(["height"])
    ('project', 'submittal', '')
    >>> kind_of(["request", "products"])
    'request'
    """
    hits = {kind: sum(key in keys for key in known) + (known[0] in keys) for kind, known in KEYS.items()}
    best = max(hits, key=lambda kind: hits[kind])
    return best if hits[best] else ""


def kind_of_tree(root: object) -> str:
    """As :func:`kind_of`, of what was read of a YAML file; a list is of no kind."""
    return kind_of(root) if isinstance(root, MarkedMap) else ""


def standing_kind(path: Path) -> str:
    """What kind of file stands at a place; "" where none does, or its text says nothing."""
    try:
        return kind_of_tree(read_yaml(path))
    except InputError:
        return ""


def refuse_other_kind(root: MarkedMap, wanted: str) -> None:
    """Stop at a file that is plainly of another kind than the one wanted.

    Raises:
        InputError: the keys are those of another kind of file, and none is of the wanted one.
    """
    found = kind_of(root)
    if found in ("", wanted):
        return
    headed = KEYS[found][0] in root and KEYS[wanted][0] not in root
    if any(key in root for key in KEYS[wanted]) and not headed:
        return
    message = f"this is {file_words(found)}; {file_words(wanted)} is wanted here"
    raise InputError([InputProblem(root.mark, message, BELONGS[found])])


def file_words(kind: str) -> str:
    """A kind of file in words: ``a project file``."""
    return f"{'an' if kind[0] in 'ao' else 'a'} {kind} file"
