"""Parapets and places put in, named anew, taken out on the page; each a step that can be taken back."""

from __future__ import annotations

from html import unescape

from specgen.page.field_view import FieldAddress
from tests.page.conftest import Open
from tests.page.test_wall import set_live


def names(page) -> list[str]:  # type: ignore[no-untyped-def]
    return [one.name for one in page.desk.assessment.project.parapets]


def test_parapets_come_and_go(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    first = page.desk.path.read_bytes()
    assert "Another parapet" in page.get("wall").text
    assert page.post("parapets/add", {"name": "P-4", "like": "type:street parapet"}).status_code == 303
    assert page.post("parapets/add", {"name": "P-5", "like": "parapet:P-3"}).status_code == 303
    assert page.post("parapets/add", {"name": "P-6", "like": ""}).status_code == 303
    assert sorted(names(page)) == ["P-1", "P-2", "P-3", "P-4", "P-5", "P-6"]
    assert page.desk.types()["P-5"] == "street parapet"
    assert page.post("parapets/rename", {"parapet": "P-4", "name": "North 1/2"}).status_code == 303
    assert page.get("wall/North%201%2F2").status_code == 200
    assert page.post("parapets/take-out", {"parapet": "P-5"}).status_code == 303
    assert sorted(names(page)) == ["North 1/2", "P-1", "P-2", "P-3", "P-6"]
    taken = page.post("parapets/add", {"name": "P-1", "like": ""})
    assert taken.status_code == 422 and "there already" in unescape(taken.text)
    for _ in range(5):
        page.post("undo", {})
    assert page.desk.path.read_bytes() == first


def test_the_wall_of_one_parapet_becomes_a_type_for_others(opened: Open) -> None:
    page = opened("faulty-parapet")
    standing = [(one.code, one.message) for one in page.desk.assessment.findings]
    (name,) = names(page)
    assert page.post("parapets/type", {"parapet": name, "name": "wrapped parapet"}).status_code == 303
    assert page.desk.types() == {name: "wrapped parapet"}
    assert [(one.code, one.message) for one in page.desk.assessment.findings] == standing
    assert page.post("parapets/add", {"name": "P-2", "like": "type:wrapped parapet"}).status_code == 303
    assert names(page) == [name, "P-2"]


def test_a_corner_is_listed_changed_and_taken_out(opened: Open) -> None:
    page = opened("mixed-humid-midrise")
    own = {"parapet": "P-1", "scope": "own", "record": "corner"}
    answer = page.post("parapets/place", {**own, "value-name": "C-1", "value-turn": "outside"})
    assert answer.status_code == 303
    assert "C-1" in page.get("wall/P-1").text
    turn = FieldAddress("corner", "turn", "P-1", "C-1")
    assert set_live(page, turn, "outside", "inside", scope="own").status_code == 200
    assert page.desk.assessment.project.parapets[0].corners[0].word("turn") == "inside"
    assert set_live(page, turn, "inside", "sideways", scope="own").status_code == 422
    plain = {"record": "corner", "key": "turn", "parapet": "P-1", "place": "C-1", "scope": "own"}
    stands = {"was": "inside", "was_way": "stated", "way": "stated", "value": "sideways"}
    again = page.post("change", {**plain, **stands})
    assert again.status_code == 422 and "<h1>Parapet P-1</h1>" in again.text
    lacking = page.post("parapets/place", {**own, "record": "step", "value-name": "S-1"})
    assert lacking.status_code == 422 and "difference in height" in unescape(lacking.text)
    assert page.post("parapets/no-place", {**own, "place": "C-1"}).status_code == 303
    assert page.desk.assessment.project.parapets[0].corners == ()
