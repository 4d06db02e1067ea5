"""The encoder: every kind of value that a document holds, and none that it does not know."""

from __future__ import annotations

import json
from dataclasses import fields
from pathlib import Path

import pytest

from specgen.model.calculation import CalcLine, Calculation
from specgen.model.finding import Severity
from specgen.model.plain import plain
from specgen.model.source import Source, Status
from specgen.units.quantity import parse


def test_fields_are_keys_and_a_quantity_keeps_its_si_value_and_its_words() -> None:
    line = CalcLine("h", "height", parse("4 ft"), source="project.yaml:1:1")
    calc = Calculation("wind", "Wind", "P-1", (line,), (), {"height": line}, (), "", (), missing=("speed",))
    found = json.loads(json.dumps(plain(calc)))
    assert set(found) == {*(one.name for one in fields(Calculation)), "done"}
    assert found["done"] is False
    assert found["results"]["height"] == found["inputs"][0]
    value = found["inputs"][0]["value"]
    assert value == {
        "value": pytest.approx(1.2192),
        "dimension": "length",
        "number": 4.0,
        "unit": "ft",
        "text": "4 ft",
    }


def test_enum_path_and_source() -> None:
    assert plain([Severity.RISK, Path("a/b")]) == ["risk", "a/b"]
    assert plain(Source("IBC", "2021", "2510.6.2", Status.CODE))["status"] == "C"


def test_what_has_no_plain_form_is_told() -> None:
    with pytest.raises(TypeError, match="object has no plain form"):
        plain({"key": object()})
