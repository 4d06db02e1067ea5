"""The texts of a letter or a form: YAML under ``templates/``, with names filled in a sandbox."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from jinja2 import StrictUndefined, Template
from jinja2.sandbox import SandboxedEnvironment

from specgen.files.carried import carried
from specgen.files.yaml_reader import read_yaml

_PLAIN = SandboxedEnvironment(
    undefined=StrictUndefined, autoescape=False
)  # no markup; the writer of Word escapes


@lru_cache(maxsize=512)
def _compiled(source: str) -> Template:
    return _PLAIN.from_string(source)


class FormText:
    """The texts of one form, by key; a name that is not filled in is an error.

    Args:
        name: its file under ``templates/``, without ending: ``letters/review``.
    """

    def __init__(self, name: str) -> None:
        folder, _, stem = name.rpartition("/")
        self.texts: Mapping[str, Any] = read_yaml(
            carried("templates").joinpath(folder, f"{stem}.yaml"), want=dict
        )

    def __call__(self, key: str, **names: str) -> str:
        """One text with its names filled in."""
        return _compiled(str(self.texts[key])).render(**names)

    def list(self, key: str) -> tuple[str, ...]:
        """A list of texts."""
        return tuple(str(item) for item in self.texts[key])
