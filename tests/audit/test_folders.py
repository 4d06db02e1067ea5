"""The walk finds every project once, ends at loops, and stays in its folder."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.audit.folders import DEEPEST, find_projects, visible


def project(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "project.yaml").touch()


def test_projects_at_any_depth_in_the_order_of_their_paths(tmp_path):
    for name in ("b", "a/x", "a", "c d/e"):
        project(tmp_path / name)
    assert find_projects(tmp_path, tmp_path / "out").projects == ("a", "a/x", "b", "c d/e")


def test_the_folder_itself_may_be_a_project(tmp_path):
    project(tmp_path)
    assert find_projects(tmp_path, tmp_path / "out").projects == ("",)


def test_links_to_folders_are_counted_and_not_followed(tmp_path):
    root, outside = tmp_path / "root", tmp_path / "outside"
    project(root / "a")
    project(outside)
    (root / "up").symlink_to(root)
    (root / "a" / "self").symlink_to("self")
    (root / "away").symlink_to(outside)
    tree = find_projects(root, tmp_path / "out")
    assert tree.projects == ("a",)
    assert tree.links == 3


def test_the_output_folder_and_hidden_folders_are_left_out(tmp_path):
    project(tmp_path / "out" / "kept")
    project(tmp_path / ".git" / "p")
    project(tmp_path / "p")
    assert find_projects(tmp_path, tmp_path / "out").projects == ("p",)


def test_the_walk_ends_at_the_deepest_folder(tmp_path):
    levels = tmp_path.joinpath(*["d"] * DEEPEST)
    project(levels)
    project(levels / "d")
    tree = find_projects(tmp_path, tmp_path / "out")
    assert tree.projects == ("/".join(["d"] * DEEPEST),)
    assert tree.too_deep == 1


def test_thousands_of_folders(tmp_path):
    for number in range(2000):
        (tmp_path / f"f{number}").mkdir()
    project(tmp_path / "f7")
    assert find_projects(tmp_path, tmp_path / "out").projects == ("f7",)


@pytest.mark.skipif(os.getuid() == 0, reason="folders without permission not tried: this user may read all")
def test_a_folder_that_cannot_be_listed_is_told(tmp_path):
    (tmp_path / "shut").mkdir(mode=0)
    assert find_projects(tmp_path, tmp_path / "out").unread == ("shut",)


@given(st.text(st.characters(codec=None, exclude_categories=())))
def test_what_is_shown_can_be_printed_and_encoded(text):
    shown = visible(text)
    assert shown.isprintable()
    shown.encode("utf-8")
