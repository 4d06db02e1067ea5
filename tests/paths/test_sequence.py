"""The order of work: laps, cycles, hold points; and the ordering itself on random graphs."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from specgen.intake.project import load_project
from specgen.model.plain import plain as as_data
from specgen.paths.sequence import (
    Sequence,
    find_cycle,
    order,
    orders,
    sequence,
    sequence_lines,
)
from tests.paths.walls import DEMO, PRACTICE, Wall, joint, plain, project, taped


def work(wall: Wall) -> Sequence:
    return sequence(project(wall, None).parapets[0], PRACTICE)


def names(found: Sequence) -> list[str]:
    return [step.component for step in found.steps]


def test_plain_wall_in_the_order_of_the_trade() -> None:
    assert names(work(plain())) == [
        "framing", "sheathing", "inner sheathing", "blocking", "roof turn-up", "weep screed", "barrier",
        "top flashing", "drainage layer", "lath", "plaster", "cleat", "coping",
    ]  # fmt: skip


def test_laps_say_who_goes_first_and_the_step_says_why() -> None:
    found = work(plain())
    flashing = next(step for step in found.steps if step.component == "top flashing")
    assert flashing.trade == "air barrier installer"
    assert {"barrier", "roof turn-up", "blocking"} <= set(flashing.after)


def test_tape_stands_between_the_two_it_joins() -> None:
    found = names(work(taped()))
    assert found.index("roof turn-up") < found.index("bridging tape") < found.index("top flashing")


def test_reversed_lap_changes_the_order() -> None:
    wall = plain()
    before = names(work(wall))
    joint(wall, "roof turn-up")["upper"] = "roof turn-up"
    after = work(wall)
    assert after.cycle is None
    assert before.index("roof turn-up") < before.index("top flashing")
    assert names(after).index("top flashing") < names(after).index("roof turn-up")


def test_laps_against_each_other_are_a_cycle_with_its_trades() -> None:
    wall = plain()
    wall["transitions"].append({"between": ["coping", "top flashing"], "upper": "top flashing"})
    found = work(wall)
    assert found.cycle is not None
    assert set(found.cycle.components) >= {"top flashing", "coping"}
    assert "sheet-metal worker" in found.cycle.trades
    waits = set(orders(project(wall, None).parapets[0], PRACTICE))
    ring = (*found.cycle.components, found.cycle.components[0])
    assert all(pair in waits for pair in pairwise(ring))
    assert "framing" in names(found) and "coping" not in names(found)
    assert any(
        "no order of work: " in line and "(sheet-metal worker)" in line for line in sequence_lines(found)
    )


def test_hold_points_stand_before_what_covers() -> None:
    steps = {step.component: step for step in work(plain()).steps}
    assert "barrier: laps, edges rolled, penetrations sealed" in steps["drainage layer"].hold_point
    assert "penetrations sealed" not in steps["lath"].hold_point  # told before the first that covers it
    assert "inner sheathing" in steps["roof turn-up"].hold_point
    assert "inner sheathing" not in steps["barrier"].hold_point
    assert steps["framing"].hold_point == ""


def test_each_tape_is_inspected_before_what_lies_over_it() -> None:
    wall = taped()
    wall["build_up"].append({"role": "base seal", "kind": "fluid-applied", "family": "silicone"})
    wall["top"].insert(3, {"role": "bridging tape", "id": "silicone sheet", "kind": "silicone sheet"})
    lap = {"between": ["roof turn-up", "base seal"], "upper": "roof turn-up", "tape": "silicone sheet"}
    wall["transitions"].append(lap)
    before = {hold.component: step.component for step in work(wall).steps for hold in step.holds}
    assert before["silicone sheet"] == "roof turn-up"
    assert before["bridging tape"] == "coping"


def test_demo_has_an_order_and_its_source() -> None:
    parapet = load_project(DEMO, PRACTICE).parapets[0]
    found = sequence(parapet, PRACTICE)
    assert found.cycle is None and len(found.steps) == len(tuple(parapet.components()))
    assert found == sequence(parapet, PRACTICE)
    content = as_data(found)
    assert content["cycle"] is None and content["hold_source"]["status"] == "P"
    assert "[P: common practice]" in sequence_lines(found)[-1]


def test_handovers_count_changes_of_trade() -> None:
    found = work(plain())
    trades = [step.trade for step in found.steps]
    assert found.handovers == len([1 for one, other in pairwise(trades) if one != other])
    assert found.handovers >= len(set(trades)) - 1


LAPS = st.integers(1, 14).flatmap(
    lambda size: st.tuples(
        st.just(size),
        st.permutations(range(size)),
        st.lists(st.tuples(st.integers(0, size - 1), st.integers(0, size - 1)), max_size=40),
    )
)


@given(LAPS)
def test_any_laps_without_a_cycle_are_all_kept(drawn: tuple[int, list[int], list[tuple[int, int]]]) -> None:
    size, rank, pairs = drawn
    place = {f"c{name}": index for index, name in enumerate(rank)}
    before = [(f"c{min(a, b)}", f"c{max(a, b)}") for a, b in pairs if a != b]  # lower number first: no cycle
    done = order([f"c{index}" for index in range(size)], before, place)
    assert sorted(done) == sorted(place) and find_cycle(place, before) == ()
    at = {name: index for index, name in enumerate(done)}
    assert all(at[first] < at[then] for first, then in before)
    assert done == order(reversed([f"c{index}" for index in range(size)]), reversed(before), place)


@given(LAPS)
def test_any_laps_are_ordered_or_a_true_cycle_is_named(
    drawn: tuple[int, list[int], list[tuple[int, int]]],
) -> None:
    size, rank, pairs = drawn
    place = {f"c{name}": index for index, name in enumerate(rank)}
    before = [(f"c{a}", f"c{b}") for a, b in pairs if a != b]
    done = order(place, before, place)
    cycle = find_cycle(set(place) - set(done), before)
    assert (len(done) == size) == (cycle == ())
    if cycle:
        assert len(set(cycle)) == len(cycle)
        assert all(pair in before for pair in zip(cycle, (*cycle[1:], cycle[0]), strict=True))


def test_a_fire_rated_parapet_has_its_assembly_inspected_before_it_is_covered() -> None:
    rated = plain()
    rated["fire_rated"] = True
    for wall, wanted in ((plain(), False), (rated, True)):
        holds = [hold for step in work(wall).steps for hold in step.holds if "sheathing" in hold.component]
        assert holds
        assert all(("fire-rated assembly" in hold.look_for) is wanted for hold in holds)
