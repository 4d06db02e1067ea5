"""Test method designations: the same method is written many ways."""

from __future__ import annotations

import re
from collections.abc import Iterable

MAKERS_WORD = "maker's stated value"

_EDITION = re.compile(r"(?<=[0-9])[-:](?:\d{4}|\d{2})[a-z]?(?:\(\d{4}\))?(?:e\d)?(?![0-9a-z])", re.IGNORECASE)
_METRIC_TWIN = re.compile(r"/[a-z]?\d+[a-z]*m\b", re.IGNORECASE)


def designation(written: str) -> str:
    """A method without its edition year, its metric twin, and the many words for "method".

    >>> designation("ASTM E 2178-21a")
    'ASTM E2178'
    >>> designation("astm E96/E96M-22, Procedure B (wet cup)")
    'ASTM E96 METHOD B'
    >>> designation("ASTM E96 Method A")
    'ASTM E96 METHOD A'
    """
    words = written.replace("–", "-").replace("—", "-")
    words = re.sub(r"\b([A-Za-z])\s+(\d)", r"\1\2", words)
    words = _METRIC_TWIN.sub("", words)
    words = _EDITION.sub("", words)
    words = re.sub(r"\([^)]*\)", " ", words)
    words = re.sub(r"\bprocedure\b", "method", words, flags=re.IGNORECASE)
    words = re.sub(r"(\bASTM E96)[- ]+([AB])\b", r"\1 method \2", words, flags=re.IGNORECASE)
    return " ".join(re.sub(r"[,;:]", " ", words).upper().split())


def same_method(written: str, accepted: Iterable[str]) -> bool:
    """Whether a stated method is one of the accepted ones."""
    found = designation(written)
    return any(found == designation(one) for one in accepted)
