"""A small slab on grade to size foam on; every number invented."""

from __future__ import annotations

from typing import Any

from foundation.plan import Plan
from tests.conftest import planned


def slab_tables(board: str = "XPS V", price: str = "$1.00/bf") -> dict[str, Any]:
    """A heated slab of 30 × 20 ft, its top at the top of an 8 in wall, 1 ft over level grade; one board quoted."""
    corners = {"A": ("0 ft", "20 ft"), "B": ("30 ft", "20 ft"), "C": ("30 ft", "0 ft"), "D": ("0 ft", "0 ft")}
    lines = [first + "-" + second for first, second in zip("ABCD", "BCDA", strict=True)]
    return {
        "schema": 1,
        "frost": {"depth": "48 in", "source": "worked example", "date": "2026-01-01"},
        "ground": {
            "walls": [
                {
                    "line": line,
                    "surface": "both",
                    "stations": ["0 ft", "20 ft" if line in ("B-C", "D-A") else "30 ft"],
                    "grades": ["99 ft", "99 ft"],
                }
                for line in lines
            ]
        },
        "corners": {name: {"east": east, "north": north} for name, (east, north) in corners.items()},
        "parts": [
            {
                "name": "house",
                "use": "slab on grade",
                "corners": ["A", "B", "C", "D"],
                "wall_top": "100 ft",
                "slab_top": "100 ft",
                "wall_height": "5 ft",
                "wall_thickness": "8 in",
                "footing_width": "16 in",
                "temperature": "70 °F",
                "foam": {"outside_depth": "2 ft", "outside": {"board": board, "thickness": "2 in"}},
            }
        ],
        "climate": {"degree_days": "7858 °F·d", "freezing_index": "1341 °F·d"},
        "fuel": {"kind": "propane", "price": "$2.90", "efficiency": "0.92"},
        "foam_prices": {
            "boards": [{"board": board, "price": price}],
            "laying": "$0.75/ft²",
            "cover": "$4.00/ft²",
        },
    }


def slab_plan(**tables: Any) -> Plan:
    """The slab planned, with some tables replaced or added to."""
    made = slab_tables()
    for name, table in tables.items():
        made[name] = {**made.get(name, {}), **table} if isinstance(table, dict) else table
    return planned(made)
