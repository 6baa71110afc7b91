"""Lots by chance: houses of four or six corners, with or without a garage, grades typed or surveyed."""

from __future__ import annotations

from typing import Any

import numpy as np

from foundation.plan import Plan, plan
from foundation.plan.lines import PlanError
from foundation.project import check

NAMES = ("window", "cellar door, steps down to the drain", "beam pocket 3 of 4, steel by others", "sleeve")


def random_lot(seed: int) -> tuple[dict[str, Any], str]:
    """Tables of a project, and its shots; the same for the same seed. Every number invented. [ft]"""
    rng = np.random.default_rng(seed)
    wide, deep = rng.integers(20, 56), rng.integers(20, 40)
    places = {"A": (0, deep), "B": (wide, deep), "C": (wide, 0), "D": (0, 0)}
    ring = ["A", "B", "C", "D"]
    if rng.random() < 0.35:
        # A bite out of the south-east makes an L.
        over, up = int(wide * 0.6), int(deep * 0.45)
        places |= {"C": (wide, up), "J": (over, up), "K": (over, 0)}
        ring = ["A", "B", "C", "J", "K", "D"]
    slope = rng.uniform(-0.22, 0.22, 2)
    base = rng.uniform(20, 900)

    def grade(east: float, north: float) -> float:
        return float(base + slope @ (east, north) + 0.4 * np.sin(east / 9 + seed) * np.cos(north / 7))

    top = max(grade(*place) for place in places.values()) + rng.uniform(0.7, 1.5)
    low_wall = min(
        zip(ring, [*ring[1:], ring[0]], strict=True),
        key=lambda ends: sum(grade(*places[end]) for end in ends),
    )
    house: dict[str, Any] = {
        "name": "house",
        "corners": ring,
        "wall_top": f"{top:.2f} ft",
        "wall_height": "9 ft",
    }
    parts = [house]
    if rng.random() < 0.4:
        far = wide + int(rng.integers(16, 25))
        places |= {"E": (wide, deep + 4), "F": (far, deep + 4), "G": (far, deep - 6), "H": (wide, deep - 6)}
        garage = {"name": "garage", "use": "garage", "ring": False, "corners": ["B", "E", "F", "G", "H"]}
        parts.append(garage | {"wall_top": f"{top:.2f} ft", "slab_top": f"{top - 0.5:.2f} ft"})
        if "J" not in places:
            house["corners"] = ring
    if rng.random() < 0.5:
        house["walls"] = [{"line": "-".join(low_wall), "low_top": f"{top - 7:.2f} ft"}]
    length = float(np.hypot(*np.subtract(places[low_wall[0]], places[low_wall[1]])))
    openings = [
        {
            "name": NAMES[i % len(NAMES)],
            "kind": ("window", "door")[i % 2],
            "line": "-".join(low_wall),
            "start": f"{1 + 5 * i} ft",
            "width": "3 ft",
            "bottom": f"{top - 4:.2f} ft",
            "height": "3 ft",
        }
        for i in range(int(rng.integers(0, 4)))
        if 5 + 5 * i < length
    ]
    tables: dict[str, Any] = {
        "schema": 1,
        "name": f"lot {seed}",
        "units": "metric" if rng.random() < 0.3 else "us",
        "frost": {"depth": f"{rng.integers(24, 73)} in", "source": "chance", "date": "2026-01-01"},
        "corners": {name: {"east": f"{e} ft", "north": f"{n} ft"} for name, (e, n) in places.items()},
        "parts": parts,
        "openings": openings,
    }
    if rng.random() < 0.5:
        tables["ground"] = {
            "corner_grades": {
                name: {
                    "existing": f"{grade(*place):.2f} ft",
                    "finished": f"{grade(*place) + rng.uniform(-1, 1):.2f} ft",
                }
                for name, place in places.items()
            }
        }
        return tables, ""
    rows = ["point,northing,easting,elevation,code"]
    for east in np.linspace(-40, wide + 70, 7):
        for north in np.linspace(-50, deep + 50, 6):
            rows.append(f"{len(rows)},{north:.2f},{east:.2f},{grade(east, north):.2f},EG")
    tables["ground"] = {"shots": "shots.csv", "shot_unit": "ft"}
    return tables, "\n".join(rows)


def random_plans(count: int) -> list[Plan]:
    """So many plans; a lot on which no stepping keeps the rules is left for the next one."""
    found: list[Plan] = []
    for seed in range(2 * count):
        tables, survey = random_lot(seed)
        project, problems = check(tables)
        assert project is not None, problems
        try:
            found.append(plan(project, survey))
        except PlanError:
            continue
        if len(found) == count:
            return found
    raise AssertionError(f"only {len(found)} of {2 * count} lots can be planned")
