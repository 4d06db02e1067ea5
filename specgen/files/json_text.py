"""JSON for people and for comparisons: each entry on a line of its own.

Byte for byte what ``json.dumps`` writes with an ``indent``, which leaves its fast encoder and takes three times as long.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from json.encoder import encode_basestring
from typing import Any


def json_text(content: Any, indent: int = 2) -> str:
    """Plain data as JSON, letters as they are.

    Raises:
        TypeError: something that is no JSON.

    >>> print(json_text({"wall": ["P-1", 2.5], "open": []}, 1))
    {
     "wall": [
      "P-1",
      2.5
     ],
     "open": []
    }
    """
    pieces: list[str] = []
    _write(content, "\n", " " * indent, pieces.append)
    return "".join(pieces)


def _write(node: Any, line: str, step: str, put: Callable[[str], None]) -> None:
    if isinstance(node, str):
        put(encode_basestring(node))
    elif isinstance(node, dict) and node:
        inner = line + step
        before = "{" + inner
        for key, value in node.items():
            name = encode_basestring(key) if isinstance(key, str) else json.dumps({key: 0})[1:-4]
            if isinstance(value, str):
                put(f"{before}{name}: {encode_basestring(value)}")
            else:
                put(f"{before}{name}: ")
                _write(value, inner, step, put)
            before = "," + inner
        put(line + "}")
    elif isinstance(node, list | tuple) and node:
        inner = line + step
        before = "[" + inner
        for value in node:
            put(before)
            _write(value, inner, step, put)
            before = "," + inner
        put(line + "]")
    else:
        put(json.dumps(node, ensure_ascii=False))
