"""The search against another that tries everything, its counts, and what it prunes by."""

from __future__ import annotations

import os
from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest

from specgen.assessment import Assessment
from specgen.practice.load import load_practice
from specgen.propose.build import Builder
from specgen.propose.choices import AIR, GROUPS, TAPE, Option
from specgen.propose.front import beats, front
from specgen.propose.measure import Measure, measures, standing
from specgen.propose.proposals import Proposer
from specgen.propose.search import Count, search, walls_in
from specgen.work.inputs import read_inputs
from tests import plain_yaml
from tests.chain.runs import CONFORMING
from tests.propose.sets import DECK, FEW, MORE, PATHS, changed, proposer

LONG = os.environ.get("SPECGEN_LONG") == "1"
OPEN_LETTERS = ("is not confirmed", "is for the manufacturers to confirm")


class One:
    """A wall of the search that tries everything."""

    def __init__(self, assessment: Assessment) -> None:
        letters = {words for path in assessment.paths for words in path.lifted}
        self.standing = standing(assessment)
        self.measures: tuple[Measure, ...] = measures(assessment, len(letters), None)

    @property
    def good(self) -> bool:
        """No defect, no risk, no letter that stays open, and no primer that nobody has stated."""
        open_ = any(words in one.message for one in self.standing.queries for words in OPEN_LETTERS)
        return self.standing.good and not open_ and not any(one.code == "TF08" for one in self.standing.open)


PAIRS = (
    ("barrier", "top flashing", "top flashing / barrier"),
    ("barrier", "path of air and vapor", "barrier / base seal"),
)


def taped_between_equals(
    wall: tuple[Option, ...], at: dict[str, int], one: str, other: str, lap: str
) -> bool:
    """Whether a tape lies between two sheets of one material."""
    first, second, lapped = (wall[at[name]].label for name in (one, other, lap))
    return "tape" in lapped and any(made in first and made in second for made in ("butyl", "acrylic"))


def everything(here: Proposer) -> list[One]:
    """Every combination of the options, none of them pruned, each assessed."""
    found, last = [], here.bench.base
    at = {choice.name: place for place, choice in enumerate(here.offers.choices)}
    for wall in product(*(choice.options for choice in here.offers.choices)):
        if any(taped_between_equals(wall, at, *pair) for pair in PAIRS if pair[2] in at):
            continue  # not offered: nothing asks for a tape there
        if any(
            ("base seal" in name) and bool(wall[at[AIR]].parts) != (wall[at[name]].lap is not None)
            for name in at
        ):
            continue  # a seal whose lap nobody describes, or a lap without its seal: no whole wall
        last = last.again(here.bench.builder.project(wall))
        found.append(One(last))
    return found


def compared(wall: object) -> dict[str, float | None]:
    """What the two searches both tell; the count of substitutes hangs on what was pruned."""
    rest = ("other choices that would fit in its place",)
    return {one.title: one.amount for one in wall.measures if one.title not in rest}  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    "few", [FEW, pytest.param(MORE, marks=pytest.mark.skipif(not LONG, reason="SPECGEN_LONG=1"))]
)
def test_a_search_that_tries_everything_finds_the_same_front(few: dict[str, tuple[str, ...]]) -> None:
    hold_same_front(proposer("steel-tpo-4a", few))


def test_paths_across_are_found_by_a_search_that_tries_everything(tmp_path: Path) -> None:
    here = proposer("", PATHS, path=changed("steel-tpo-4a", DECK, tmp_path))
    labels = hold_same_front(here)
    assert all(one["path of air and vapor"].startswith("across at roof level") for one in labels)
    assert all("base seal" in one["roof turn-up / base seal"] for one in labels)


def test_what_carries_vapor_on_from_the_seal_is_described(tmp_path: Path) -> None:
    here = proposer("", PATHS, path=changed("steel-tpo-4a", DECK, tmp_path))
    first = {choice.name: choice.options[-1] for choice in here.offers.choices}
    (wall,) = Builder(here.offers).project(first.values()).parapets
    seal, drainage = wall.part("base seal"), wall.part("drainage layer")
    assert seal is not None and drainage is not None
    (joint,) = wall.between(drainage, seal)
    assert joint.word("upper") == "drainage layer"
    path = next(choice for choice in here.offers.choices if choice.name == "path of air and vapor")
    over = first | {path.name: path.options[0]}
    (wall,) = Builder(here.offers).project(over.values()).parapets
    assert wall.part("base seal") is None
    assert not any("base seal" in (one.first, one.second) for one in wall.transitions)


def test_a_tape_that_is_stated_bridges_laps_and_excludes_nothing_else(tmp_path: Path) -> None:
    tape = "      - {role: bridging tape, id: bridging tape 2, kind: butyl tape, rolled: yes}\n"
    path = changed("steel-tpo-4a", {}, tmp_path)
    path.write_text(path.read_text("utf-8") + tape, "utf-8")
    found = proposer("", FEW, path=path).propose()
    plain = proposer("steel-tpo-4a", FEW).propose()
    assert found.left == plain.left > 0
    for wall in found.front:
        (parapet,) = found.bench.builder.project(wall.wall).parapets
        (butyl,) = [part for part in parapet.all_of("bridging tape") if part.kind == "butyl tape"]
        assert butyl.id == "bridging tape 2"


def test_boards_on_both_faces_meet_over_the_top_and_the_lath_is_carried(tmp_path: Path) -> None:
    board = "      - {role: insulation, id: face board, kind: mineral wool, thickness: 2 in}\n"
    stated = {"    build_up:\n": f"    build_up:\n{board}"}
    for path in (None, changed("standing-cmu-sbs-4a", stated, tmp_path)):
        here = proposer("standing-cmu-sbs-4a", path=path)
        heat = next(choice for choice in here.offers.choices if choice.name == "path of heat")
        carried = {str(option.of_others[0][2]) for option in heat.options}
        assert carried == {"furring", "fasteners through the insulation"}
        for option in heat.options:
            first = {choice.name: choice.options[0] for choice in here.offers.choices} | {heat.name: option}
            (wall,) = Builder(here.offers).project(first.values()).parapets
            outer, inner = wall.all_of("insulation")
            assert outer.id == ("face board" if path else "insulation")
            (top,) = wall.all_of("top insulation")
            assert wall.between(outer, top) and wall.between(inner, top)
            assert [lath.word("over_insulation") for lath in wall.all_of("lath")] == [option.of_others[0][2]]


OVER_STATED = {
    "    height: 18 in\n": "    height: 18 in\n    heat_path: over the top\n",
    "    thermal_break: 4 in\n": "",
}


def test_boards_are_chosen_where_heat_over_the_top_is_stated(tmp_path: Path) -> None:
    here = proposer("", path=changed("steel-tpo-4a", OVER_STATED, tmp_path))
    heat = next(choice for choice in here.offers.choices if choice.name == "path of heat")
    assert {option.label.split(", ")[1] for option in heat.options} == {
        "polyisocyanurate",
        "extruded polystyrene",
        "mineral wool",
    }
    for option in heat.options:
        first = {choice.name: choice.options[0] for choice in here.offers.choices} | {heat.name: option}
        (wall,) = Builder(here.offers).project(first.values()).parapets
        outer, inner = wall.all_of("insulation")
        (top,) = wall.all_of("top insulation")
        assert {outer.kind, inner.kind} == {top.kind}
        assert wall.between(outer, top) and wall.between(inner, top)


def test_boards_beside_stated_ones_are_of_their_kind(tmp_path: Path) -> None:
    face = "      - {role: insulation, id: face board, kind: mineral wool, thickness: 2 in}\n"
    stated = {**OVER_STATED, "    build_up:\n": f"    build_up:\n{face}"}
    here = proposer("", path=changed("steel-tpo-4a", stated, tmp_path))
    heat = next(choice for choice in here.offers.choices if choice.name == "path of heat")
    assert {option.label.split(", ")[1] for option in heat.options} == {"mineral wool"}
    rest = "      - {role: insulation, id: roof board, kind: mineral wool, thickness: 2 in}\n      - {role: roof turn-up"
    top = "    top:\n      - {role: top insulation, kind: mineral wool, thickness: 1 1/2 in}\n"
    turn_up = "kind: TPO, attachment: fully adhered, termination: under the top flashing}\n"
    whole = {**stated, "    top:\n": f"{rest}, {turn_up}{top}"}
    here = proposer("", path=changed("steel-tpo-4a", whole, tmp_path))
    heat = next(choice for choice in here.offers.choices if choice.name == "path of heat")
    assert [option.parts for option in heat.options] == [(), ()]  # what carries the lath alone is open
    carried = "      - {role: lath, kind: self-furred expanded metal lath, over_insulation: furring}\n"
    full = {**whole, "    build_up:\n": f"    build_up:\n{carried}{face}"}
    here = proposer("", path=changed("steel-tpo-4a", full, tmp_path))
    assert not any(choice.name == "path of heat" for choice in here.offers.choices)


def test_walls_fit_where_heat_over_the_top_is_stated(tmp_path: Path) -> None:
    only = {
        "barrier": ("fluid-applied, silicone",),
        "top flashing": ("self-adhered acrylic",),
        "path of heat": ("over the top, mineral wool, lath on furring",),
        **{name: FEW[name] for name in ("coping", "cleat", "plaster", "lath", "drainage layer")},
    }
    found = proposer("", only, path=changed("steel-tpo-4a", OVER_STATED, tmp_path)).propose()
    assert found.front
    for wall in found.front:
        assert {one.code for one in wall.standing.open} == {"PL20"}, "the thickness of the studs is a fact"
        assert not wall.standing.queries


def test_a_lath_without_insulation_behind_it_has_no_carrier() -> None:
    here = proposer("steel-tpo-4a", FEW)
    (wall,) = Builder(here.offers).project(choice.options[0] for choice in here.offers.choices).parapets
    assert not any(lath.has("over_insulation") for lath in wall.all_of("lath"))


def test_heat_over_the_top_leaves_facts_alone_open() -> None:
    only = {
        "barrier": ("fluid-applied, silicone",),
        "top flashing": ("self-adhered SBS", "fluid-applied, silicone"),
        "path of heat": ("over the top, mineral wool, lath on furring",),
        "coping": FEW["coping"],
        "cleat": FEW["cleat"],
        "plaster": FEW["plaster"],
        "lath": FEW["lath"],
    }
    found = proposer("standing-cmu-sbs-4a", only).propose()
    assert found.front
    assert not any(wall.standing.open for wall in found.front)


@pytest.mark.parametrize(
    ("changes", "height"),
    [
        ({"height: 18 in": "height: 48 in"}, "48 in"),
        ({"height: 18 in": "height: 48 in", "inner_face: roof membrane": "inner_face: stucco"}, None),
        ({"    height: 18 in\n": "    height: unknown\n"}, None),
    ],
)
def test_the_base_flashing_is_as_high_as_a_parapet_whose_top_laps_it(
    changes: dict[str, str], height: str | None, tmp_path: Path
) -> None:
    here = proposer("", FEW, path=changed("steel-tpo-4a", changes, tmp_path))
    (wall,) = Builder(here.offers).project(choice.options[0] for choice in here.offers.choices).parapets
    turn_up = wall.part("roof turn-up")
    assert turn_up is not None
    reach = turn_up.quantity("height")
    assert (None if reach is None else reach.text) == height


def test_a_high_parapet_asks_nothing_of_the_reach_of_its_coping(tmp_path: Path) -> None:
    path = changed("steel-tpo-4a", {"height: 18 in": "height: 48 in"}, tmp_path)
    found = proposer("", FEW, path=path).propose()
    assert found.front
    assert not any("RT09" in (one.code for one in wall.standing.queries) for wall in found.front)


def hold_same_front(here: Proposer) -> list[dict[str, str]]:
    """Hold the front against that of a search that tries everything. Returns what its walls choose."""
    found = here.propose()
    every = [one for one in everything(here) if one.good]
    least = min(compared(one)["letters of manufacturers to obtain"] or 0 for one in every)
    near = [one for one in every if (compared(one)["letters of manufacturers to obtain"] or 0) <= least + 1]
    wanted = [compared(one) for one in front(near)]
    got = [compared(one) for one in found.front]
    assert wanted
    key = lambda one: sorted(one.items(), key=str)  # noqa: E731
    # A wall may stand on the front for its substitutes alone: it is then beaten by none of the other search.
    assert all(one in [compared(wall) for wall in near] for one in got)
    assert sorted(map(key, wanted)) == sorted(map(key, [one for one in got if one in wanted]))
    names = [choice.name for choice in here.offers.choices]
    return [dict(zip(names, (option.label for option in wall.wall), strict=True)) for wall in found.front]


def test_what_is_pruned_and_what_is_left_make_the_whole() -> None:
    here = proposer("steel-tpo-4a", MORE)
    count = Count(walls_in(here.offers.choices))
    left = list(search(here.offers.choices, here.constraints, 12, count))
    assert left and sum(count.fallen.values()) + len(left) == count.walls
    reasons = set(count.fallen)
    assert "chemistry: a letter would stay open" in reasons
    assert len({tuple(map(id, one.wall)) for one in left}) == len(left)


def test_no_wall_is_left_whose_laps_want_another_primer_or_material() -> None:
    here = proposer("steel-tpo-4a")
    at = {choice.name: place for place, choice in enumerate(here.offers.choices)}
    count = Count(walls_in(here.offers.choices))
    left = list(search(here.offers.choices, here.constraints, 2, count))
    labels = [{name: one.wall[place].label for name, place in at.items()} for one in left]
    assert labels
    for wall in labels:
        assert wall["roof turn-up"] == "TPO, fully adhered"
        direct = wall["top flashing / roof turn-up"].endswith("edge sealed")
        assert not (direct and wall["top flashing"] == "self-adhered SBS"), wall
        if wall["barrier"] == "self-adhered, SBS bitumen":
            assert wall["primer under the barrier"] != "no primer", wall
        if "uncured EPDM tape" in wall["top flashing / roof turn-up"]:
            assert "membrane primer" in wall["top flashing / roof turn-up"], wall
    assert not any("mechanically fastened" in wall["barrier"] for wall in labels)


def test_a_parapet_that_is_described_in_full_stays_beside_one_that_is_open(tmp_path: Path) -> None:
    content = plain_yaml.load((CONFORMING / "project.yaml").read_text("utf-8"))
    full = content["types"]["street parapet"]
    kept = ("framing", "weep screed", "blocking")
    bare = {key: value for key, value in full.items() if key != "transitions"}
    for key in ("build_up", "top"):
        bare[key] = [part for part in full[key] if part["role"] in kept]
    content["types"]["open parapet"] = bare
    for parapet in content["parapets"]:
        parapet.pop("changes", None)
    content["parapets"][1]["type"] = "open parapet"
    file = tmp_path / "project.yaml"
    file.write_text(plain_yaml.dump(content), "utf-8")
    inputs = read_inputs(file, None, False)
    here = Proposer(
        inputs.project, inputs.effective(), lambda project: replace(inputs, project=project).assessed()
    )
    builder = Builder(here.offers)
    for place in (0, -1):
        made = builder.project(choice.options[place] for choice in here.offers.choices)
        before, after = inputs.project.parapets, made.parapets
        assert (after[0], after[2]) == (before[0], before[2])
        assert {"barrier", "top flashing", "coping"} <= {part.role for part in after[1].components()}
        ids = [part.id for part in after[1].components()]
        assert len(ids) == len(set(ids))
        assert all(joint.first in ids and joint.second in ids for joint in after[1].transitions)


def test_every_kind_that_is_searched_stands_in_the_table_of_what_is_offered() -> None:
    practice = load_practice()
    table = practice.table("offered_parts")
    for role in (*GROUPS, TAPE):
        kinds = set(practice.vocabulary.roles[role].kinds)
        assert kinds <= {row["kind"] for row in table.where(role=role)}, role
    families = practice.table("expected_families")
    for role in ("barrier", "top flashing"):
        for row in families.where(role=role):
            assert table.where(role=role, kind=row["kind"], family=row["family"]), row
    assert all(row["offered"] in ("yes", "no") and row["because"] for row in table.rows)


def test_a_front_holds_none_that_another_beats() -> None:
    class Wall:
        def __init__(self, *values: float | None) -> None:
            self.measures = tuple(
                Measure(str(n), "less" if n else "more", v, str(v)) for n, v in enumerate(values)
            )

    best, worse, other, equal = Wall(3, 1, 5), Wall(2, 1, 5), Wall(1, 0, 5), Wall(3, 1, 5)
    unknown = Wall(None, 1, 5)
    assert beats(best, worse) and not beats(worse, best) and not beats(best, other) and not beats(best, equal)
    assert not beats(best, unknown) and not beats(unknown, best)
    assert front([worse, best, other, equal]) == (best, other)
