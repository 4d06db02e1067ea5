"""hourly-moisture.json: what was kept is read back as it was, and whatever else stands there is told."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.files.marks import InputError
from specgen.intake.hourly import FILE_NAME, load_hourly
from specgen.intake.project import load_project
from specgen.model.hourly import BELOW, AcrossLayer
from specgen.practice.load import load_practice
from specgen.work.hourly_file import keep
from tests.chain.runs import CONFORMING, copied, run
from tests.hourly_results import SOUND, cut_of, result_of, run_of


def written(folder: Path) -> dict[str, Any]:
    """The file of two parapets as plain data."""
    keep(folder, [result_of("P-2"), result_of("P-1", cut_of(), cut_of(cut=BELOW, forgiven=None))])
    made: dict[str, Any] = json.loads((folder / FILE_NAME).read_text("utf-8"))
    return made


def message(folder: Path, content: object) -> str:
    """What is told of a file with this content."""
    text = content if isinstance(content, str) else json.dumps(content)
    (folder / FILE_NAME).write_text(text, "utf-8", errors="surrogatepass")
    with pytest.raises(InputError) as caught:
        load_hourly(folder)
    (problem,) = caught.value.problems
    assert problem.mark.file == str(folder / FILE_NAME)
    assert problem.fix == "delete it, and run `specgen hourly` for the project again"
    return problem.message


def test_what_is_kept_is_read_back(tmp_path: Path) -> None:
    across = (AcrossLayer("plaster", 0.022, (0.011, 0.011)), AcrossLayer("barrier", 0.0))
    lines = {"across": across, "profile": ((0.8, 0.81), (0.82, 0.8)), "drying": (1.0, 0.7, 0.4)}
    cut = cut_of(course={"sheathing": (0.1, 0.12)}, half_days=None, **lines)
    one = result_of("P-1", cut, notes=("rain made",))
    keep(tmp_path, [one])
    assert load_hourly(tmp_path) == {"P-1": one}
    assert load_hourly(tmp_path / "elsewhere") == {}


def test_the_same_results_give_the_same_bytes_in_any_order(tmp_path: Path) -> None:
    one, other = result_of("P-1"), result_of("P-2")
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    keep(tmp_path / "a", [one, other])
    keep(tmp_path / "b", [other])
    keep(tmp_path / "b", [one])
    assert (tmp_path / "a" / FILE_NAME).read_bytes() == (tmp_path / "b" / FILE_NAME).read_bytes()


def test_others_stay_and_only_what_is_named_goes(tmp_path: Path) -> None:
    keep(tmp_path, [result_of("P-1"), result_of("P-2")])
    newer = result_of("P-2", key="f" * 32)
    assert keep(tmp_path, [newer]) == {"P-1": result_of("P-1"), "P-2": newer}
    assert set(keep(tmp_path, dropped=["P-1"])) == {"P-2"} == set(load_hourly(tmp_path))


def test_nothing_is_written_over_a_file_that_cannot_be_read(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).write_text("{", "utf-8")
    with pytest.raises(InputError):
        keep(tmp_path, [result_of("P-1")])
    assert (tmp_path / FILE_NAME).read_text("utf-8") == "{"


BROKEN: dict[str, tuple[Callable[[Any], object], str]] = {
    "a list": (lambda root: [root], "it holds no record"),
    "another kind": (lambda root: {**root, "kind": "review"}, "`kind` is not `hourly moisture`"),
    "a later format": (lambda root: {**root, "format": 2}, "`format` is '2', this program reads 1"),
    "yes as the format": (lambda root: {**root, "format": True}, "`format` is 'True'"),
    "an unknown key": (lambda root: {**root, "more": 1}, "the record has an unknown key 'more'"),
    "no results": (
        lambda root: {key: root[key] for key in ("format", "kind")},
        "the record has no `results`",
    ),
    "results as a record": (lambda root: {**root, "results": {}}, "`results` is no list"),
    "a parapet twice": (
        lambda root: {**root, "results": [root["results"][0]] * 2},
        "`results` names 'P-1' twice",
    ),
}
PLACES: dict[str, tuple[str, object, str]] = {  # field of a place, what stands there, what is told
    "index above six": (
        "mold",
        [7],
        "`results[0].cuts[0].runs[0].places[0].mold[0]` is 7, which cannot be: 0 to 6",
    ),
    "index as a word": ("mold", ["3"], "mold[0]` is no number"),
    "yes as a number": ("hours_20", True, "hours_20` is no number"),
    "part of an hour": ("hours_20", 1.5, "hours_20` is no whole number"),
    "more hours than a year has": ("hours_28", 9000, "hours_28` is 9000, which cannot be"),
    "a number without end": ("peaks", [10**400], "peaks[0]` is 1000"),
    "month 13": ("worst_month", 13, "worst_month` is 13"),
    "another sort": ("sort", "stone", "sort` is 'stone', none of: wood, gypsum, other"),
    "no name": ("name", None, "name` is no text of a line"),
    "two lines": ("layer", "a\nb", "layer` is no text of a line"),
    "half a character": ("layer", "\ud800", "layer` is no text of a line"),
    "a book": ("layer", "x" * 5000, "layer` is no text of a line"),
    "a key too many": ("color", "red", "places[0]` has an unknown key 'color'"),
    "endless list": ("peaks", [0.1] * 6000, "peaks` has 6000 entries, at most 5000"),
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_file_of_another_form_is_told(name: str, tmp_path: Path) -> None:
    change, words = BROKEN[name]
    assert words in message(tmp_path, change(written(tmp_path)))


@pytest.mark.parametrize("name", PLACES)
def test_a_value_that_cannot_be_is_told_with_its_place(name: str, tmp_path: Path) -> None:
    key, value, words = PLACES[name]
    root = written(tmp_path)
    root["results"][0]["cuts"][0]["runs"][0]["places"][0][key] = value
    assert words in message(tmp_path, root)


@pytest.mark.parametrize("key", ["cut", "leak", "runs", "forgiven", "forgiven_all", "half_days"])
def test_a_key_that_is_missing_is_told(key: str, tmp_path: Path) -> None:
    root = written(tmp_path)
    del root["results"][1]["cuts"][0][key]
    assert f"`results[1].cuts[0]` has no `{key}`" in message(tmp_path, root)


def test_shares_out_of_order_and_cuts_twice_are_told(tmp_path: Path) -> None:
    root = written(tmp_path)
    runs = root["results"][0]["cuts"][0]["runs"]
    runs.append({**runs[1], "share": 0.005})
    assert "`results[0].cuts[0].runs` is not in the order of the shares" in message(tmp_path, root)
    (tmp_path / FILE_NAME).unlink()
    root = written(tmp_path)
    root["results"][0]["cuts"][0]["runs"][0]["share"] = 0.001
    assert "`results[0].cuts[0].runs` has no run with the share 0" in message(tmp_path, root)
    (tmp_path / FILE_NAME).unlink()
    root = written(tmp_path)
    root["results"][0]["cuts"] *= 2
    assert "names 'parapet at mid-height' twice" in message(tmp_path, root)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "it is no JSON: Expecting value"),
        ("[" * 100_000, "it is no JSON"),
        ('{"a": ' * 100_000, "it is no JSON"),
        ('{"format": 1, "format": 1}', "the key 'format' stands twice in one record"),
        ('{"format": NaN}', "NaN is no number"),
        ('{"format": ' + "9" * 5000 + "}", "it is no JSON"),
        ("\ud800", "it is no JSON"),
    ],
)
def test_what_is_no_json_is_told(text: str, words: str, tmp_path: Path) -> None:
    assert words in message(tmp_path, text)


@pytest.mark.parametrize("name", ["cuts", "runs", "places"])
def test_a_list_without_which_nothing_can_be_read_is_never_empty(name: str, tmp_path: Path) -> None:
    root = written(tmp_path)
    cut = root["results"][0]["cuts"][0]
    {"cuts": root["results"][0], "runs": cut, "places": cut["runs"][0]}[name][name] = []
    assert f"{name}` is empty" in message(tmp_path, root)


def test_infinity_as_a_number_is_told(tmp_path: Path) -> None:
    root = json.dumps(written(tmp_path)).replace('"humidity_peak": 0.78', '"humidity_peak": 1e999', 1)
    assert "humidity_peak` is inf, which cannot be" in message(tmp_path, root)


LEAVES = st.one_of(
    st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8), st.just([]), st.just({})
)


@settings(max_examples=300, deadline=None)
@given(data=st.data())
def test_any_value_in_any_place_is_read_or_told(data: st.DataObject, tmp_path_factory: Any) -> None:
    folder = tmp_path_factory.mktemp("kept")
    node: Any = written(folder)
    root = node
    while True:
        keys = list(node) if isinstance(node, dict) else list(range(len(node)))
        key = data.draw(st.sampled_from(keys))
        if not node[key] or not isinstance(node[key], dict | list) or data.draw(st.integers(0, 4)) == 0:
            break
        node = node[key]
    node[key] = data.draw(LEAVES)
    (folder / FILE_NAME).write_text(json.dumps(root), "utf-8")
    try:
        load_hourly(folder)
    except InputError as error:
        assert len(error.problems) == 1 and str(folder / FILE_NAME) in str(error)


def test_a_project_holds_what_is_kept_beside_it(tmp_path: Path) -> None:
    job = copied(CONFORMING, tmp_path / "job")
    assert load_project(job, load_practice()).hourly == {}
    keep(job, [result_of("P-1", cut_of([run_of(0.0, SOUND)]))])
    assert set(load_project(job, load_practice()).hourly) == {"P-1"}


def test_a_broken_file_beside_a_project_is_told_by_check(tmp_path: Path) -> None:
    job = copied(CONFORMING, tmp_path / "job")
    (job / FILE_NAME).write_text("[]", "utf-8")
    done = run("check", job)
    assert done.status == 2 and done.out == ""
    assert f"{job / FILE_NAME}:1:1: error: the file is not what `specgen hourly` keeps" in done.err
