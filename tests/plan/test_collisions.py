"""Inputs that fit no stepping: the sentence says where, which two rules collide, and what would free it."""

from __future__ import annotations

import re
from typing import Any

import pytest

from foundation.plan import PlanError
from tests.conftest import planned
from tests.plan.walls import wall_tables

SLAB = {"slab_top": "100 ft", "wall_top": "102 ft", "wall_height": "8 ft"}


def bank(fall: str, **more: Any) -> dict[str, Any]:
    """A wall of 40 ft whose grade drops at 20 ft over 2 ft."""
    tables = wall_tables(
        "40 ft", ["0 ft", "20 ft", "22 ft", "40 ft"], ["100 ft", "100 ft", fall, fall], "48 in", SLAB
    )
    for path, value in more.items():
        section, key = path.split("__")
        tables.setdefault(section, {})[key] = value
    return tables


def sentence(tables: dict[str, Any]) -> str:
    with pytest.raises(PlanError) as raised:
        planned(tables)
    [problem] = raised.value.problems
    return problem.sentence


def test_frost_against_the_tallest_wall() -> None:
    told = sentence(bank("92 ft", rules__tallest_wall="12 ft"))
    assert "Wall A-B from 21'-" in told
    assert "frost asks for a bottom of footing at 88'-0\" or lower" in told
    assert "the tallest wall for 89'-2\" or higher" in told
    assert "What would free it: a wall of" in told


def test_frost_against_the_deepest_dig() -> None:
    told = sentence(bank("92 ft", digging__deepest="90 ft"))
    assert "the deepest dig for 90'-0\" or higher" in told
    assert "an engineer" in told


def test_steps_that_cannot_climb_to_a_high_wing() -> None:
    # The wing's footing may not go below 99.3 ft (its wall would be taller than 10 ft), the house's not above 89 ft
    # (its floor), and ten feet of wall leave room for three steps of 24 in between them.
    at = {"A": (0, 20), "B": (20, 20), "C": (20, 0), "D": (0, 0), "E": (30, 20), "F": (30, 0)}
    tables: dict[str, Any] = {
        "schema": 1,
        "frost": {"depth": "48 in", "source": "worked example", "date": "2026-01-01"},
        "ground": {"corner_grades": {name: {"existing": "105 ft"} for name in at}},
        "corners": {
            name: {"east": f"{east} ft", "north": f"{north} ft"} for name, (east, north) in at.items()
        },
        "parts": [
            {"name": "house", "corners": ["A", "B", "C", "D"], "slab_top": "90 ft", "wall_top": "98 ft"},
            {
                "name": "wing",
                "corners": ["B", "E", "F", "C"],
                "ring": False,
                "slab_top": "104 ft",
                "wall_top": "110 ft",
            },
        ],
        "rules": {"set": "trade-24", "tallest_wall": "10 ft"},
    }
    told = sentence(tables)
    assert re.search(r"on wall \w-\w between .* and ", told)
    assert "the tallest wall keeps the footing up" in told
    assert "the most rise of a step keeps it from climbing there" in told
    lower = re.search(r"the tallest wall (\d+)'-(\d+)\" lower down", told)
    assert lower is not None
    # And it does free it: that much more wall.
    inches = 120 + 12 * int(lower.group(1)) + int(lower.group(2))
    tables["rules"]["tallest_wall"] = f"{inches} in"
    assert planned(tables).steppings
    tables["rules"]["tallest_wall"] = f"{inches - 8} in"
    assert "No stepping keeps the rules" in sentence(tables)
