"""A stepped wall worked by hand, and the drop that frost asks of a slab with foam.

Both are [derived]: computed by hand from the stated rules and confirmed by a second method (docs/worked-layout.md
has the first in full). Lengths are exact in feet and inches, so that nothing is rounded but the printed result.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from tests.conftest import planned
from tests.plan.walls import wall_tables

FOOT, INCH = 0.3048, 0.0254
SLAB = {
    "slab_top": "92.50 ft",
    "slab_thickness": "4 in",
    "footing_width": "20 in",
    "footing_thickness": "10 in",
}


def wall(**prices: str) -> dict[str, Any]:
    """Wall of 40 ft, grade 100.00 to 92.00 ft straight, frost 48 in, slab top 92.50 ft."""
    tables = wall_tables("40 ft", ["0 ft", "40 ft"], ["100 ft", "92 ft"], "48 in", SLAB, station_grid="4 in")
    return tables | {"prices": prices}


def test_fewest_steps_bigger_drop_first() -> None:
    answer = planned(wall()).stepping("fewest steps")
    # Two runs cost less digging than one, but one step fewer comes first.
    assert answer.quantities.steps == 0
    tables = wall()
    tables["prices"] = {"step": "$0.01"}
    least = planned(tables).stepping("least cost")
    assert least.quantities.steps > 2


def test_two_steps_as_worked() -> None:
    # Step price between what the second step saves and what a third would: the worked answer is then the cheapest.
    plan = planned(wall(step="$150"))
    answer = plan.stepping("least cost")
    assert [round(step.station / FOOT, 2) for step in answer.steps] == [23.33, 33.33]
    assert [round(run.bottom / FOOT, 2) for run in answer.runs] == [91.33, 89.33, 88.00]
    assert [step.rise / INCH for step in answer.steps] == pytest.approx([24, 16], abs=1e-6)
    assert [run.binds for run in answer.runs] == ["floor build-up", "frost", "frost"]
    legs = sum(step.concrete for step in answer.steps) / FOOT**3
    runs = sum((run.end - run.start) for run in answer.runs) * 20 * INCH * 10 * INCH / FOOT**3
    assert runs == pytest.approx(55.56, abs=0.005)
    assert legs == pytest.approx(4.63, abs=0.005)
    assert (runs + legs) / 27 == pytest.approx(2.23, abs=0.005)
    face = answer.quantities.forms / 2 / FOOT**2 - 40 * 9
    assert face == pytest.approx(42.22, abs=0.005)


def test_five_low_steps_use_least_wall() -> None:
    tables = wall(step="$0", digging="$0/yd³", concrete="$0/yd³", forms="$7/ft²")
    answer = planned(tables).stepping("least cost")
    assert answer.quantities.steps == 5
    assert {round(step.rise / INCH) for step in answer.steps} == {8}
    assert answer.quantities.forms / 2 / FOOT**2 - 40 * 9 == pytest.approx(33.33, abs=0.005)


@pytest.mark.parametrize(
    ("measured_to", "below", "drop"),
    [
        ("bottom of footing", 0, 32),
        ("bottom of footing", 6, 38),
        ("top of footing", 0, 42),
        ("top of footing", 6, 48),
    ],
)
def test_drop_that_frost_asks_beyond_the_floor(measured_to: str, below: int, drop: int) -> None:
    # Slab 4 in on 2 in of foam over a 10 in footing, frost 48 in, grade at the floor or 6 in below it.
    part = {
        "slab_top": "10 ft",
        "slab_thickness": "4 in",
        "foam_over_footing": "2 in",
        "footing_thickness": "10 in",
    }
    grade = f"{120 - below} in"
    tables = wall_tables("20 ft", ["0 ft", "20 ft"], [grade, grade], "48 in", part, module="2 in")
    tables["frost"]["measured_to"] = measured_to
    bottoms = planned(tables).stepping("least cost").bottoms["A-B"]
    floor_controlled = (120 - 4 - 2 - 10) * INCH
    assert floor_controlled - bottoms == pytest.approx(np.full(len(bottoms), drop * INCH), abs=1e-9)
