"""What every file of ours has in common: its name, its JSON, its Word file."""

from __future__ import annotations

import re
from dataclasses import is_dataclass, replace
from pathlib import Path
from typing import Any

from specgen.files.json_text import json_text
from specgen.model.document import Document, Volume
from specgen.model.plain import FORMAT_NUMBER, plain
from specgen.render.word import fitting, volume_bytes, word_bytes
from specgen.render.word_template import Template


def file_stem(number: str, title: str) -> str:
    """A file name that every system accepts.

    >>> file_stem("07 27 00", "Air and Water Barriers")
    '07-27-00-air-and-water-barriers'
    """
    return re.sub(r"[^a-z0-9]+", "-", f"{number} {title}".lower()).strip("-")[:80]


def json_bytes(found: object, *paths: str) -> bytes:
    """A record as JSON, the same bytes for the same data; each place in one of these files by the file's name alone.

    A record without a ``format`` of its own bears the number of what the commands print.
    """
    content = plain(found)
    if is_dataclass(found) and "format" not in content:
        content = {"format": FORMAT_NUMBER, **content}
    return f"{json_text(without_folders(content, paths))}\n".encode()


def without_folders(content: Any, paths: tuple[str, ...]) -> Any:
    """Plain data with each place in an input file named by the file alone: what is kept says nothing of a disk.

    >>> without_folders({"key": "jobs/wall/project.yaml:4:9"}, ("jobs/wall/project.yaml",))
    {'key': 'project.yaml:4:9'}
    """
    if isinstance(content, dict):
        return {key: without_folders(value, paths) for key, value in content.items()}
    if isinstance(content, list):
        return [without_folders(value, paths) for value in content]
    if isinstance(content, str):
        for path in paths:
            if content == path or content.startswith(f"{path}:"):
                return Path(path).name + content[len(path) :]
    return content


def docx_bytes(document: Document, template: Template | None = None) -> bytes:
    """The Word file of a document; what it says about itself is cut to what the format allows."""
    return word_bytes(replace(document, properties=fitting(document.properties)), template)


def bound_bytes(volume: Volume, template: Template | None = None) -> bytes:
    """The Word file of a volume, under the same limits."""
    return volume_bytes(replace(volume, properties=fitting(volume.properties)), template)
