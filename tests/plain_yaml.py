"""YAML for the tests themselves, by the parser written in C: ten times as fast as PyYAML's own, and as safe.

What specgen reads goes through ``specgen.files.yaml_reader``; this is for tables of tests and for examples that a test
changes before it writes them.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import yaml

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_DUMPER = getattr(yaml, "CSafeDumper", yaml.SafeDumper)


def load(text: str) -> Any:
    """The content of a document."""
    return yaml.load(text, Loader=_LOADER)


def dump(content: Any) -> str:
    """A document in the order of its content, its letters as they are."""
    written: str = yaml.dump(content, Dumper=_DUMPER, sort_keys=False, allow_unicode=True)
    return written


def as_json(node: Any) -> Any:
    """What a validator of JSON sees of a document: days are texts."""
    if isinstance(node, dict):
        return {key: as_json(value) for key, value in node.items()}
    if isinstance(node, list):
        return [as_json(one) for one in node]
    return node.isoformat() if isinstance(node, date) else node
