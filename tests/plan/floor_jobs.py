"""Small jobs with warm floors, all invented but for the worked example of `test_floors`."""

from __future__ import annotations

from typing import Any

from foundation.model.floors import FloorsPlan
from foundation.plan.floors import floors_of
from tests.conftest import planned

FOOT, INCH = 0.3048, 0.0254
BTU = 3.154590745  # W/m² in one Btu/(h·ft²)
R = 0.1761101838  # m²·K/W in one h·ft²·°F/Btu
FT2 = FOOT**2


def fahrenheit(celsius: float) -> float:
    return celsius * 1.8 + 32


def job(**zone: Any) -> dict[str, Any]:
    """600 ft² between walls of 10 in, on R-10 by its label, tube in the middle of a 4 in slab."""
    east, north = "26.666667 ft", "25.666667 ft"  # 25 × 24 ft and two walls
    foam = {"board": "XPS IV", "thickness": "2 in"}
    part = {
        "name": "house",
        "use": "slab on grade",
        "corners": ["A", "B", "C", "D"],
        "wall_top": "100 ft",
        "slab_top": "100 ft",
        "temperature": "68 °F",
        "floor_heated": True,
        "foam": {"under_slab": foam, "slab_edge": foam},
    }
    return {
        "schema": 1,
        "frost": {"depth": "4 ft", "source": "worked example", "date": "2026-01-01"},
        "ground": {"corner_grades": {name: {"existing": "99 ft"} for name in "ABCD"}},
        "corners": {
            "A": {"east": "0 ft", "north": north},
            "B": {"east": east, "north": north},
            "C": {"east": east, "north": "0 ft"},
            "D": {"east": "0 ft", "north": "0 ft"},
        },
        "parts": [part],
        "foam_basis": "label",
        "zones": [
            {
                "name": "all",
                "part": "house",
                "load": "22 Btu/h·ft²",
                "spacing": "9 in",
                "finish_resistance": "R-0",
                **zone,
            }
        ],
        "manifolds": [{"name": "m", "part": "house", "at": {"east": "13 ft", "north": "1 ft"}}],
    }


COLD_YEAR = {"degree_days": "8410 °F·d", "freezing_index": "1607 °F·d", "design_temperature": "-9 °F"}


def floors(tables: dict[str, Any], survey: str = "") -> FloorsPlan:
    """The warm floors of tables that must be sound."""
    return floors_of(planned(tables, survey), "least cost")
