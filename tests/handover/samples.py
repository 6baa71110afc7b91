"""Jobs to hand over, some of them with names that try to be more than names."""

from __future__ import annotations

from typing import Any

from foundation.plan import Plan
from tests.conftest import planned

HOSTILE = (
    '=HYPERLINK("http://example.org","x")',
    "<script>alert(1)</script>",
    "\"quotes\" and 'quotes'; a, comma",
    "+1+1",
    "-2",
    "@SUM(A1)",
    "Дом у болота",
    "house 🏠 & garden",
    "n" * 200,
)
"""Names that come out as text everywhere."""


def small() -> dict[str, Any]:
    """A house of 40 × 30 ft on ground that falls 5 ft, with a pad and a pour."""
    corners = {"A": ("0 ft", "30 ft"), "B": ("40 ft", "30 ft"), "C": ("40 ft", "0 ft"), "D": ("0 ft", "0 ft")}
    return {
        "schema": 1,
        "name": "small house",
        "frost": {"depth": "4 ft", "source": "office", "date": "2026-01-01"},
        "ground": {
            "corner_grades": {
                name: {"existing": level}
                for name, level in zip("ABCD", ("105 ft", "105 ft", "100 ft", "100 ft"), strict=True)
            }
        },
        "levels": {"marks": [{"name": "BM", "elevation": "106 ft"}], "backsight": "4 ft"},
        "corners": {name: {"east": east, "north": north} for name, (east, north) in corners.items()},
        "parts": [
            {
                "name": "house",
                "use": "basement",
                "corners": [*corners],
                "wall_top": "107 ft",
                "slab_top": "99 ft",
                "temperature": "68 °F",
            }
        ],
        "obstacles": [
            {
                "name": "drain",
                "part": "house",
                "kind": "drain",
                "box": {
                    "start_east": "10 ft",
                    "start_north": "10 ft",
                    "end_east": "11 ft",
                    "end_north": "11 ft",
                },
            }
        ],
        "extras": [
            {
                "name": "pad",
                "kind": "pad",
                "east": "20 ft",
                "north": "15 ft",
                "length": "3 ft",
                "width": "3 ft",
                "thickness": "12 in",
                "inside": "house",
            }
        ],
        "pours": [{"name": "footings", "mix": "3,000 psi"}],
        "as_built": [{"what": "slab", "part": "house", "level": "99 ft", "who": "J. Doe"}],
    }


def named(name: str) -> Plan:
    """The small house with a name in every place that a user names."""
    made, short = small(), name[:60]
    made["name"], made["revision"] = name, name[:20]
    made["frost"]["source"] = name
    made["prices"] = {"quoted": "2026-01-01", "source": name[:120]}
    made["levels"]["marks"][0]["name"] = short
    made["parts"][0]["name"] = made["obstacles"][0]["part"] = made["extras"][0]["inside"] = short
    made["obstacles"][0]["name"] = made["extras"][0]["name"] = short
    made["pours"][0]["mix"] = name[:80]
    made["as_built"][0] |= {"part": short, "who": name[:80]}
    return planned(made)
