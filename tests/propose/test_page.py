"""``docs/proposals.md`` is fresh: one set in the short run, all with ``SPECGEN_LONG=1``."""

from __future__ import annotations

import os

import pytest

from tests.propose.sets import SETS, SHORT, WITHOUT
from tests.propose.table import PAGE, head, section, without_times

LONG = os.environ.get("SPECGEN_LONG") == "1"


def test_the_sets_are_of_each_climate_roof_and_backup_wall() -> None:
    heads = " ".join(head(name) for name in SETS)
    assert len(SETS) == 13 and WITHOUT in SETS
    words = "TPO PVC KEE-modified EPDM SBS fluid-applied wood steel concrete masonry moist dry marine stands"
    assert all(word in heads for word in words.split())


@pytest.mark.parametrize("name", SETS if LONG else SHORT)
def test_the_page_is_as_the_search_finds(name: str) -> None:
    made = without_times(section(name)).strip()
    assert made in without_times(PAGE.read_text("utf-8")), "run python -m tests.propose.table"
