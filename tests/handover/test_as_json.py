"""The plan as JSON: whole, finite, each quantity with its unit."""

from __future__ import annotations

import dataclasses
import json
from typing import Any, get_args, get_type_hints

import numpy as np
import pytest

from foundation.handover.as_json import plan_as_json, units_of
from foundation.plan import Plan


def test_reads_back_and_says_what_the_plan_says(demo_plan: Plan) -> None:
    told = json.loads(plan_as_json(demo_plan))
    stepping, first = told["steppings"][0], demo_plan.steppings[0]
    assert stepping["quantities"]["concrete"] == {"value": first.quantities.concrete, "unit": "m³"}
    assert stepping["quantities"]["money"]["unit"] == "$"
    assert stepping["bottoms"]["A-B"]["unit"] == "m"
    assert stepping["bottoms"]["A-B"]["value"] == first.bottoms["A-B"].tolist()
    assert told["project"]["frost"]["depth"] == {"value": pytest.approx(1.3716), "unit": "m"}
    assert told["project"]["prices"]["concrete"]["unit"] == "$/m³"
    assert demo_plan.shots is not None
    assert told["shots"]["point"] == list(demo_plan.shots.point)
    assert told["shots"]["elevation"]["unit"] == "m"
    assert set(told) == {field.name for field in dataclasses.fields(demo_plan)}


def test_no_quantity_without_a_unit() -> None:
    """Every number of every class that a plan holds has a unit in its docstring."""
    waiting, done, bare = [Plan], set[type](), []
    while waiting:
        kind = waiting.pop()
        if kind in done:
            continue
        done.add(kind)
        units = units_of(kind)
        for field in dataclasses.fields(kind):
            parts = flattened(get_type_hints(kind)[field.name])
            waiting += [part for part in parts if dataclasses.is_dataclass(part)]
            if any(part is float or part is np.float64 for part in parts) and field.name not in units:
                bare.append(f"{kind.__name__}.{field.name}")
    assert len(done) > 15
    assert not bare


def flattened(annotation: Any) -> list[Any]:
    inner = [part for argument in get_args(annotation) for part in flattened(argument)]
    return inner or [annotation]
