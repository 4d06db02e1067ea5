"""The register counts what it says, and its page is the one in ``docs``."""

from __future__ import annotations

from tests.published import register
from tests.published.register import How, checks


def test_enough_checks_are_not_from_memory() -> None:
    found = [entry for entry in checks() if entry.how.counts]
    assert len(found) >= register.LEAST
    assert len({(entry.subject, entry.what, entry.source) for entry in found}) == len(found)


def test_every_calculation_has_one_that_is_not_from_memory() -> None:
    covered = {entry.subject for entry in checks() if entry.how.counts}
    assert set(register.subjects()) <= covered


def test_every_entry_is_whole() -> None:
    for entry in checks():
        assert entry.subject in register.subjects(), entry.test
        assert all((entry.what, entry.source, entry.place, entry.tolerance)), entry.test
        assert ("memory" in f"{entry.source} {entry.place}") <= (entry.how is How.MEMORY), entry.test


def test_the_page_is_up_to_date() -> None:
    printed = "run python -m tests.published.register"
    assert register.PAGE.read_text(encoding="utf-8") == register.page(), printed
