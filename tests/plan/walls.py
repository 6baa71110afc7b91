"""Single walls for worked layouts."""

from __future__ import annotations

from typing import Any


def wall_tables(
    length: str, stations: list[str], grades: list[str], frost: str, part: dict[str, Any], **rules: str
) -> dict[str, Any]:
    """Tables of one wall from A to B with typed grade, clear of corners' own rules."""
    return {
        "schema": 1,
        "frost": {"depth": frost, "source": "worked example", "date": "2026-01-01"},
        "ground": {"walls": [{"line": "A-B", "surface": "both", "stations": stations, "grades": grades}]},
        "corners": {"A": {"east": "0 ft", "north": "0 ft"}, "B": {"east": length, "north": "0 ft"}},
        "parts": [{"name": "wall", "use": "basement", "corners": ["A", "B"], "ring": False, **part}],
        "rules": {"set": "trade-24", "corner_clearance": "0 in", **rules},
    }
