"""What a file names stays inside its folder, whatever it is written like."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.files.foreign import foreign_bytes
from specgen.files.inside import inside
from specgen.files.marks import InputError


@pytest.mark.parametrize("named", ["../b", "a/../../b", "/etc/hosts", "C:b", "C:/b", "\\\\host\\b", "a\0b"])
def test_what_leads_out_is_nothing(tmp_path: Path, named: str) -> None:
    assert inside(tmp_path, named) is None


def test_a_link_that_leads_out_is_nothing_and_one_that_stays_is_what_it_leads_to(tmp_path: Path) -> None:
    folder = tmp_path / "folder"
    folder.mkdir()
    (folder / "b").write_bytes(b"b")
    (folder / "out").symlink_to(tmp_path)
    (folder / "in").symlink_to(folder / "b")
    assert inside(folder, "out/x") is None
    assert inside(folder, "in") == (folder / "b").resolve() == inside(folder, "x/../b")


def test_a_loop_of_links_is_never_read(tmp_path: Path) -> None:
    (tmp_path / "one").symlink_to("two")
    (tmp_path / "two").symlink_to("one")
    found = inside(tmp_path, "one")  # from Python 3.13 on the loop itself, which cannot be opened
    if found is not None:
        with pytest.raises(InputError, match="cannot be read"):
            foreign_bytes(found, 100)
