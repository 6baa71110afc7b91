"""The best stepping: a layout worked by hand, what must stay the same, and what is refused."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foundation.footing.audit import audit, price
from foundation.footing.ends import steps_on
from foundation.footing.optimum import solve
from foundation.footing.ring import best_ring
from foundation.model.stepping import SteppingAnswer, SteppingProblem, Steps, Stretch
from tests.footing.lots import KINDS, random_problem

INCH = 0.0254
FOOT = 0.3048

lots = st.builds(
    lambda seed, kind, cells: random_problem(np.random.default_rng(seed), kind, cells, 6, objectives=2),
    st.integers(0, 2**32 - 1),
    st.sampled_from(KINDS),
    st.integers(5, 30),
)
rings = st.builds(
    lambda seed, cells: random_problem(np.random.default_rng(seed), "ring", cells, 6),
    st.integers(0, 2**32 - 1),
    st.integers(1, 20),
)
few = settings(max_examples=60, deadline=None, derandomize=True)


def costs(answers: tuple[SteppingAnswer | None, ...]) -> list[float]:
    return [np.inf if answer is None else answer.cost for answer in answers]


def sloping_wall() -> SteppingProblem:
    """A wall of 40 ft along a fall of 100 ft to 92 ft, frost 48 in, at 91.33 ft at its start.

    Rise ≤ 24 in on an 8 in module, run ≥ 24 in, rise ≤ 3/4 of the run. Objectives: fewest steps, and least
    wall below 91.33 ft. [ft²]
    """
    level = (1096 - 8 * np.arange(6)[::-1]) * INCH
    before, after = np.nonzero(~np.eye(6, dtype=bool))
    rise = np.abs(level[before] - level[after])
    kept = rise <= 24 * INCH + 1e-9
    before, after, rise = before[kept], after[kept], rise[kept]
    run = np.maximum(24 * INCH, rise / 0.75)
    node = np.arange(121) * 4 * INCH
    cap = 96 * FOOT - 0.2 * node[1:]  # lowest at the far end of each cell
    forbidden = level[None, :] > cap[:, None] + 1e-9
    forbidden[0, :-1] = True
    face = np.repeat((level[-1] - level)[None, :] * 4 * INCH / FOOT**2, 120, axis=0)
    cost = np.where(forbidden, np.inf, np.stack([np.zeros_like(face), face]))
    steps = Steps(before, after, run, run, np.stack([np.ones(rise.size), np.zeros(rise.size)]))
    return SteppingProblem(level, (Stretch("wall", node, np.ones(121, bool), cost),), steps)


def test_a_layout_worked_by_hand() -> None:
    # [derived] by hand. Frost governs beyond 23.33 ft: 96 − 0.2 x = 91.33. A drop of 24 in reaches 89.33 ft,
    # good to 33.33 ft; 16 in more reach 88.00 ft, good to the end. 16 + 24 in ties it: the bigger first.
    problem = sloping_wall()
    fewest, least_wall = solve(problem)
    assert fewest is not None
    assert least_wall is not None
    assert fewest.cost == 2
    row = fewest.levels[0]
    nodes = np.flatnonzero(np.diff(row)) + 1
    station = problem.stretches[0].position[nodes] / FOOT
    assert station == pytest.approx([23.33, 33.33], rel=0, abs=0.005)
    bottom = problem.level[row[[0, nodes[0], nodes[1]]]] / FOOT
    assert bottom == pytest.approx([91.33, 89.33, 88.00], rel=0, abs=0.005)
    # [derived] by hand: five steps of 8 in take the least wall, 33.33 ft² instead of 42.22 ft².
    assert np.count_nonzero(np.diff(least_wall.levels[0])) == 5
    assert least_wall.cost == pytest.approx(33.33, rel=0, abs=0.005)
    assert price(problem, fewest.levels, {})[1] == pytest.approx(42.22, rel=0, abs=0.005)


@few
@given(lots)
def test_an_answer_keeps_the_rules_at_its_price(problem: SteppingProblem) -> None:
    for objective, answer in enumerate(solve(problem)):
        if answer is not None:
            assert audit(problem, answer.levels, answer.tees, objective) == ()
            assert price(problem, answer.levels, answer.tees)[objective] == answer.cost


@few
@given(lots)
def test_each_objective_alone_gives_the_same(problem: SteppingProblem) -> None:
    for objective, together in enumerate(solve(problem)):
        one = slice(objective, objective + 1)
        stretches = tuple(
            replace(
                stretch,
                cost=stretch.cost[one],
                step_cost=None if stretch.step_cost is None else stretch.step_cost[one],
            )
            for stretch in problem.stretches
        )
        steps = replace(problem.steps, cost=problem.steps.cost[one])
        alone = solve(replace(problem, stretches=stretches, steps=steps))[0]
        assert costs((alone,)) == costs((together,))


@few
@given(lots)
def test_a_mirrored_network_costs_the_same(problem: SteppingProblem) -> None:
    stretches = tuple(
        Stretch(
            stretch.name, stretch.position[-1] - stretch.position[::-1], stretch.step_allowed[::-1],
            stretch.cost[:, ::-1], stretch.end, stretch.start, stretch.end_branches, stretch.start_branches,
            stretch.closed, stretch.step_cost,
        )
        for stretch in problem.stretches
    )  # fmt: skip
    steps = problem.steps
    turned = Steps(steps.after, steps.before, steps.run_after, steps.run_before, steps.cost)
    assert costs(solve(SteppingProblem(problem.level, stretches, turned))) == costs(solve(problem))


@few
@given(rings, st.integers(1, 19))
def test_a_ring_costs_the_same_from_every_joint(problem: SteppingProblem, by: int) -> None:
    ring = problem.stretches[0]
    allowed = np.roll(ring.step_allowed[:-1] & np.append(ring.step_allowed[-1], ring.step_allowed[1:-1]), -by)
    turned = replace(
        ring,
        position=np.append(0.0, np.cumsum(np.roll(np.diff(ring.position), -by))),
        step_allowed=np.append(allowed, allowed[0]),
        cost=np.roll(ring.cost, -by, axis=1),
    )
    assert costs(solve(replace(problem, stretches=(turned,)))) == costs(solve(problem))


@few
@given(rings)
def test_a_ring_costs_the_same_from_every_cut(problem: SteppingProblem) -> None:
    ring = problem.stretches[0]
    steps = steps_on(ring, problem.steps)
    found = [best_ring(ring, problem.level, steps, cell)[0] for cell in range(ring.cost.shape[1])]
    assert {cost for cost, _ in found} == {costs(solve(problem))[0]}
    for _, levels in found:
        assert levels is None or audit(problem, (levels,), {}) == ()


@few
@given(rings)
def test_a_ring_held_at_a_tee_is_never_cheaper(problem: SteppingProblem) -> None:
    held = replace(problem.stretches[0], closed=False, start="T", end="T")
    assert costs(solve(replace(problem, stretches=(held,)))) >= costs(solve(problem))


@few
@given(lots, st.integers(0, 2**32 - 1))
def test_more_room_never_costs_more(problem: SteppingProblem, seed: int) -> None:
    rng = np.random.default_rng(seed)
    stretches = tuple(
        replace(
            stretch,
            cost=np.where(
                np.isinf(stretch.cost) & (rng.random(stretch.cost.shape) < 0.3), 50.0, stretch.cost
            ),
            step_allowed=stretch.step_allowed | (rng.random(stretch.step_allowed.shape) < 0.3),
        )
        for stretch in problem.stretches
    )
    shorter = replace(problem.steps, run_before=problem.steps.run_before * rng.uniform(0.5, 1.0))
    easier = solve(replace(problem, stretches=stretches, steps=shorter))
    assert all(less <= more for less, more in zip(costs(easier), costs(solve(problem)), strict=True))


def test_many_lengths_of_run_are_told_apart() -> None:
    # Every step has runs of its own: with cells of 0.3 m they ask for what runs of whole cells ask for.
    for seed in range(10):
        rng = np.random.default_rng(seed)
        problem = random_problem(rng, "tree", 24, 6)
        even = tuple(
            replace(stretch, position=np.arange(stretch.position.size) * 0.3) for stretch in problem.stretches
        )
        runs = [rng.uniform(0.1, 1.2, problem.steps.before.size) for _ in range(2)]
        whole = [np.ceil(run / 0.3) * 0.3 for run in runs]
        exact, rounded = (
            replace(problem, stretches=even, steps=replace(problem.steps, run_before=before, run_after=after))
            for before, after in (runs, whole)
        )
        assert costs(solve(exact)) == costs(solve(rounded))


def test_nothing_to_step() -> None:
    wall = sloping_wall()
    answers = solve(replace(wall, stretches=()))
    assert [answer and answer.cost for answer in answers] == [0.0, 0.0]
    none = Steps(*(np.zeros(0, int),) * 2, *(np.zeros(0),) * 2, np.zeros((2, 0)))
    level_start = replace(
        wall.stretches[0], cost=wall.stretches[0].cost[:, 1:], position=np.arange(120) * 0.1
    )
    level_start = replace(level_start, step_allowed=np.ones(120, bool))
    flat = solve(replace(wall, stretches=(level_start,), steps=none))[1]
    assert flat is not None
    assert flat.levels[0].tolist() == [0] * 119  # 88.00 ft, the only one that is good to the end


def test_nothing_fits_where_no_level_is_allowed() -> None:
    wall = sloping_wall()
    none = replace(wall.stretches[0], cost=np.full((2, 120, 6), np.inf))
    assert solve(replace(wall, stretches=(none,))) == (None, None)
    closed = replace(none, closed=True)
    assert solve(replace(wall, stretches=(wall.stretches[0], closed))) == (None, None)


def test_both_entries_speak_of_the_joint_of_a_ring() -> None:
    wall = sloping_wall()
    halves = np.where(np.arange(4)[:, None] < 2, np.arange(6) == 2, np.arange(6) == 3)
    ring = replace(
        wall.stretches[0],
        position=np.arange(5) * 1.0,
        step_allowed=np.ones(5, bool),
        cost=np.where(halves, np.zeros((2, 4, 6)), np.inf),
        closed=True,
    )
    answer = solve(replace(wall, stretches=(ring,)))[0]
    assert answer is not None
    assert answer.cost == 2
    for shut in (0, 4):
        half_open = replace(ring, step_allowed=np.arange(5) != shut)
        assert solve(replace(wall, stretches=(half_open,)))[0] is None
        assert audit(replace(wall, stretches=(half_open,)), answer.levels, {}) != ()


def test_a_short_stretch_without_steps_fits_between_tees() -> None:
    wall = sloping_wall()
    piece = replace(
        wall.stretches[0],
        position=np.array([0.0, 0.1]),
        step_allowed=np.ones(2, bool),
        cost=np.zeros((2, 1, 6)),
        start="P",
        end="Q",
    )
    fewest = solve(replace(wall, stretches=(piece,)))[0]
    assert fewest is not None
    assert fewest.tees == {"P": 5, "Q": 5}
    stepped = replace(piece, start_branches=True, end_branches=True)
    through = [replace(piece, start=tee, end=None) for tee in "PQ"]
    through[1] = replace(through[1], cost=np.where(np.arange(6) == 4, 0.0, np.full((2, 1, 6), np.inf)))
    through[0] = replace(through[0], cost=np.where(np.arange(6) == 3, 0.0, np.full((2, 1, 6), np.inf)))
    assert solve(replace(wall, stretches=(*through, stepped))) == (None, None)


def test_footings_in_too_close_a_mesh_are_refused() -> None:
    wall = sloping_wall()
    piece = replace(
        wall.stretches[0],
        position=np.array([0.0, 0.1]),
        step_allowed=np.ones(2, bool),
        cost=np.zeros((2, 1, 6)),
    )
    mesh = tuple(
        replace(piece, name=start + end, start=start, end=end)
        for start in "ABCDE"
        for end in "ABCDE"
        if start < end
    )
    with pytest.raises(ValueError, match="the levels of B, C, D, E bear at once on the level of A"):
        solve(replace(wall, stretches=mesh))


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"level": np.zeros(6)}, "levels are .* must be finite and increase"),
        ({"steps": {"run_before": np.full(24, -1.0)}}, "runs of -1.0 to"),
        ({"steps": {"run_after": np.zeros(3)}}, "steps have 24 levels before"),
        ({"steps": {"before": np.zeros(24, int)}}, "two different ones of the levels 0 to 5"),
        ({"steps": {"before": np.full(24, 5), "after": np.zeros(24, int)}}, "two entries among the steps"),
        ({"steps": {"cost": np.full((2, 24), np.nan)}}, "step costs nan"),
        ({"stretch": {"position": np.zeros(121)}}, "wall has nodes at"),
        ({"stretch": {"step_allowed": np.ones(120, bool)}}, "wall has 120 cells, 6 levels and 2 objectives"),
        ({"stretch": {"cost": np.full((2, 120, 6), np.nan)}}, "wall has a cell that costs nan"),
        ({"stretch": {"step_cost": np.zeros((1, 24))}}, r"wall has step costs of \(1, 24\); \(2, 24\) would"),
        ({"stretch": {"step_cost": np.full((2, 24), -np.inf)}}, "wall has a step that costs nan or -inf"),
        ({"stretch": {"closed": True, "end": "T"}}, "wall is closed, but ends at tee T"),
        ({"stretch": {"start_branches": True}}, "wall branches off at a free end"),
        ({"stretch": {"start": "T", "start_branches": True}}, "At tee T every footing branches off"),
    ],
)
def test_a_problem_that_contradicts_itself_is_refused(change: dict[str, object], sentence: str) -> None:
    wall = sloping_wall()
    stretch = replace(wall.stretches[0], **change.get("stretch", {}))  # type: ignore[arg-type]
    steps = replace(wall.steps, **change.get("steps", {}))  # type: ignore[arg-type]
    level = change.get("level", wall.level)
    with pytest.raises(ValueError, match=sentence):
        solve(SteppingProblem(level, (stretch,), steps))  # type: ignore[arg-type]
