"""A second wall worked by hand, in metric: docs/worked-layout.md, [derived]."""

from __future__ import annotations

import pytest

from tests.conftest import planned
from tests.plan.walls import wall_tables


def test_bank_in_metric() -> None:
    part = {
        "slab_top": "50.000 m",
        "slab_thickness": "100 mm",
        "footing_width": "500 mm",
        "footing_thickness": "250 mm",
        "wall_thickness": "250 mm",
    }
    tables = wall_tables(
        "12 m",
        ["0 m", "6 m", "9 m", "12 m"],
        ["50 m", "50 m", "48.5 m", "48.5 m"],
        "1.2 m",
        part,
        station_grid="100 mm",
        module="100 mm",
        set="canada-600",
    )
    # A price that makes a step dear beside the wall it saves: the fewest that reach the bottom without digging deeper.
    tables["prices"] = {"step": "$150"}
    answer = planned(tables).stepping("least cost")
    assert [round(step.station, 6) for step in answer.steps] == [6.1, 7.1, 8.1]
    assert [round(run.bottom, 6) for run in answer.runs] == [48.75, 48.25, 47.75, 47.25]
    legs = sum(step.concrete for step in answer.steps)
    assert legs == pytest.approx(0.1875, abs=5e-5)
    assert 12 * 0.5 * 0.25 + legs == pytest.approx(1.6875, abs=5e-5)
