"""The cautions that every paper carries: one list, in ``templates/cautions.yaml``."""

from __future__ import annotations

from functools import lru_cache

from specgen.sections.form_text import FormText


@lru_cache(maxsize=1)
def cautions() -> tuple[str, ...]:
    """Edge, structure, fire, codes: short sentences, in the order in which they are printed."""
    return FormText("cautions").list("cautions")
