"""Numbers that forms and addresses give are counts of at most nine digits, and nothing else ends in a fault."""

from __future__ import annotations

import pytest

from tests.page.conftest import Open

LONG = "9" * 5_000


@pytest.mark.parametrize("words", [LONG, "²", "-1", "1e3", "٣"])
def test_a_number_that_is_none_is_no_fault(opened: Open, words: str) -> None:
    page = opened("mixed-humid-midrise")
    page.desk.change(lambda text: text.replace("115 mph", "116 mph"), "wind")
    for answer in (
        page.get(f"compare?with={words}&step={words}"),
        page.get(f"archive/x.zip?job={words}"),
        page.post("waivers/remove", {"number": words}),
        page.post("papers/read", {"product_number": words, "role": "coping"}),
        page.post("submittals/top-failing/values", {"product": words, "key": "metal"}),
    ):
        assert answer.status_code in (200, 303, 404, 405, 409, 422), (answer.url, answer.text[:300])
