"""A word of the trade in a project file is told with what it is called here, at its place."""

from __future__ import annotations

from collections.abc import Callable

import pytest

# What of the sound project is replaced and by what; where it is told, and the fix.
WORDS = [
    ("- role: plaster", "- role: stucco", "14:15", "stucco is role `plaster`"),
    ("- role: plaster", "- role: base flashing", "14:15", "base flashing is role `roof turn-up`"),
    ("- role: plaster", "- role: Housewrap", "14:15", "Housewrap is `kind: mechanically fastened` of role"),
    ("- role: plaster", "- role: cap flashing", "14:15", "is role `coping` or `counterflashing` in the list `ends`"),
    ("kind: mesh", "kind: dimple mat", "18:15", "did you mean `dimpled sheet`?"),
    ("        coats: 3", "        scratch_coat: 3", "16:9", "scratch_coat is `coats` of role `plaster`"),
    ("  climate_zone", "  wind", "7:3", "wind is `wind_speed` in `site`"),
    ("    height: 36", "    reglet: yes\n    height: 36", "12:5", "reglet is `counterflashing: let into the wall`"),
    ("  place: a town", "  place: a town\n  exposure: E", "7:13", "choose: B, C, D"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "at", "fix"), WORDS, ids=[new.strip() for _, new, _, _ in WORDS])
def test_a_word_of_the_trade_in_a_file_is_told_and_never_accepted(
    old: str, new: str, at: str, fix: str, sound: str, problems_of: Callable[[str], list[str]]
) -> None:
    assert old in sound
    found = [one for one in problems_of(sound.replace(old, new, 1)) if one.startswith(f"{at} ")]
    assert len(found) == 1, found
    assert fix in found[0].partition(" | ")[2]
