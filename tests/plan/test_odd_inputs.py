"""Odd values in a sound project end in a plan or in sentences, never in another error."""

from __future__ import annotations

import copy
import random
from collections.abc import Iterator
from typing import Any

import pytest

from foundation.handover.as_json import plan_as_json
from foundation.plan import PlanError, plan
from foundation.project import Job, check

VALUES: list[Any] = [
    "0 ft",
    "1 ft",
    "3 in",
    "-4 ft",
    "205 ft",
    "999 ft",
    "1e9 ft",
    "$0",
    "2/3",
    "",
    True,
    False,
    0,
    None,
    "basement",
    "garage",
    "porch",
    "interior wall",
    "A-B",
    "Q-Z",
    "open",
    "top of footing",
    [],
    {},
    "-10 °F",
]


def leaves(table: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    if isinstance(table, dict | list):
        entries = table.items() if isinstance(table, dict) else enumerate(table)
        for key, value in entries:
            yield from leaves(value, (*path, key))
    else:
        yield path


@pytest.mark.parametrize("seed", range(6))
def test_odd_values_end_in_a_plan_or_in_sentences(
    demo_tables: dict[str, Any], demo_job: Job, seed: int
) -> None:
    rng = random.Random(seed)
    planned = refused = 0
    for _ in range(60):
        tables = copy.deepcopy(demo_tables)
        for _ in range(rng.choice((1, 1, 2))):
            path = rng.choice(list(leaves(tables)))
            place = tables
            for key in path[:-1]:
                place = place[key]
            if rng.random() < 0.25:
                del place[path[-1]]
            else:
                place[path[-1]] = copy.deepcopy(rng.choice(VALUES))
        project, problems = check(tables)
        if project is not None:
            try:
                made = plan(project, demo_job.survey if rng.random() < 0.8 else "")
            except PlanError as error:
                problems = error.problems
            else:
                planned += 1
                assert "NaN" not in plan_as_json(made)
                continue
        refused += 1
        assert problems
        assert all(len(problem.sentence) > 15 for problem in problems)
    assert planned > 3
    assert refused > 3
