"""The list of bad products: what is read, and what every mistake is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from specgen.files.marks import InputError
from specgen.intake.bad_products import load_bad
from specgen.practice.load import load_practice


def load(folder: Path, text: str):
    (folder / "bad.yaml").write_text(text, "utf-8")
    return load_bad(folder / "bad.yaml", load_practice())


def test_by_name_and_by_generic_attributes(tmp_path):
    named, generic = load(
        tmp_path,
        "bad:\n"
        "  - {name: Wrap W, reason: tears}\n"
        "  - {role: barrier, kind: self-adhered, thickness: 40 mil, reason: flows when hot}\n",
    )
    assert (named.name, named.role, named.reason, named.words) == ("Wrap W", "", "tears", "Wrap W")
    assert (generic.role, generic.kind, generic.values) == (
        "barrier",
        "self-adhered",
        (("thickness", "0.001016 length"),),
    )
    assert generic.words == "self-adhered, barrier, thickness 40 mil"


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("baad: []\n", 1, "did you mean `bad`?"),
        ("bad: []\n", 1, "a list is wanted"),
        ("bad:\n  - Wrap W\n", 2, "stands where a bad product is wanted"),
        ("bad:\n  - {name: Wrap W}\n", 2, "needs a reason"),
        ("bad:\n  - {reason: tears}\n", 2, "names no product"),
        ("bad:\n  - {name: W, kind: mesh, reason: tears}\n", 2, "`kind` says nothing without a role"),
        ("bad:\n  - {role: barier, reason: tears}\n", 2, "did you mean `barrier`?"),
        ("bad:\n  - {role: barrier, kind: wrap, reason: tears}\n", 2, "not a known kind"),
        ("bad:\n  - {role: barrier, thicknes: 1 mil, reason: tears}\n", 2, "did you mean `thickness`?"),
        ("bad:\n  - {role: barrier, thickness: 1 psi, reason: tears}\n", 2, "psi"),
        ("bad:\n  - {role: coping, thickness: 24 ga, reason: thin}\n", 2, "is a gauge or a weight"),
        ("bad:\n  - {name: yes, reason: tears}\n", 2, "`name` is no text"),
    ],
)
def test_mistakes_are_told_with_their_line_and_the_fix(tmp_path, text, line, words):
    with pytest.raises(InputError) as caught:
        load(tmp_path, text)
    printed = "\n".join(str(one) for one in caught.value.problems)
    assert f"bad.yaml:{line}:" in printed
    assert words in printed and "fix: " in printed
