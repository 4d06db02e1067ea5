"""Metals at the top by the anodic index, by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.design import galvanic
from tests.design.projects import full, number

LATH = ", fastener_metal: stainless steel"


def test_by_hand(tmp_path: Path) -> None:
    """Aluminum 0.90 and galvanized 1.20: 0.30 V; galvanized and stainless 0.50: 0.70 V. Limit outdoors 0.15 V."""
    calc = full(galvanic, tmp_path, (LATH, ""))
    assert set(calc.results) == set(galvanic.SETS)
    assert number(calc, "worst_difference", "V") == pytest.approx(0.70)
    assert calc.verdict("corrodes") == "galvanized steel"
    beyond = str(calc.verdict("beyond_limit")).split("; ")
    assert beyond == [
        "coping (aluminum) and cleat (galvanized steel), in contact",
        "cleat (galvanized steel) and fasteners into the blocking (stainless steel), in contact",
    ]


def test_stainless_throughout_is_within_the_limit(tmp_path: Path) -> None:
    calc = full(
        galvanic,
        tmp_path,
        (LATH, ""),
        ("metal: galvanized steel", "metal: stainless steel"),
        ("metal: aluminum", "metal: stainless steel"),
    )
    assert calc.verdict("beyond_limit") == "none"
    assert calc.verdict("corrodes") == "neither"


def test_copper_runs_off_onto_galvanized_steel(tmp_path: Path) -> None:
    """0.35 against 1.20: 0.85 V, on the weep screed and the lath as well, which it does not touch."""
    calc = full(galvanic, tmp_path, ("metal: aluminum", "metal: copper"))
    beyond = str(calc.verdict("beyond_limit"))
    assert "coping (copper) and weep screed (galvanized steel), in runoff" in beyond
    aluminum = str(full(galvanic, tmp_path).verdict("beyond_limit"))
    assert "in runoff" not in aluminum
    assert number(calc, "worst_difference", "V") == pytest.approx(0.85)


def test_treated_wood(tmp_path: Path) -> None:
    assert full(galvanic, tmp_path).verdict("treated_wood") == "separate from the wood: coping of aluminum"
    flashed = ("    top:\n", "    top:\n      - {role: top flashing, kind: self-adhered butyl}\n")
    assert full(galvanic, tmp_path, flashed).verdict("treated_wood") == "no conflict"
    plain = full(galvanic, tmp_path, ("preservative-treated wood", "untreated wood"))
    assert plain.verdict("treated_wood") == "the blocking is not treated"
    bright = full(galvanic, tmp_path, flashed, ("fasteners: stainless", "fasteners: electrogalvanized"))
    assert "electrogalvanized fasteners" in str(bright.verdict("treated_wood"))


def test_missing_metal_is_named(tmp_path: Path) -> None:
    calc = full(galvanic, tmp_path, (" metal: galvanized steel,", ""))
    assert [text.split(":")[0] for text in calc.missing] == ["cleat.metal"]
