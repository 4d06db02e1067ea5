"""Calculations are tried with any value here; what a file may state is tried in tests/intake and tests/practice."""

from __future__ import annotations

import pytest

from specgen.intake import values
from specgen.wall import plausible


@pytest.fixture(autouse=True)
def any_value(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(values, "possible", lambda field, value, text: value)
    monkeypatch.setattr(plausible, "doubt", lambda *given: "")
