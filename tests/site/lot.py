"""The demo lot as this topic sees it. Place and every number invented."""

from __future__ import annotations

import dataclasses

import numpy as np

from foundation import places
from foundation.model.ground import Shots
from foundation.site.shots import read_shots

FOOT = 0.3048

CORNERS = {
    name: (east * FOOT, north * FOOT)
    for name, east, north in (
        ("A", 2100, 5220),
        ("B", 2144, 5220),
        ("C", 2144, 5190),
        ("D", 2100, 5190),
        ("E", 2144, 5230),
        ("F", 2168, 5230),
        ("G", 2168, 5206),
        ("H", 2144, 5206),
    )
}
PARTS = (("A", "B", "C", "D"), ("B", "E", "F", "G", "H"))
"""The house's ring does not name H, which stands on its wall B–C."""


def demo_text() -> str:
    return places.data("demo", "shots.csv").read_text(encoding="utf-8")


def demo_shots() -> Shots:
    shots, problems = read_shots(demo_text(), FOOT)
    assert not problems
    return shots


def only(shots: Shots, keep: list[bool]) -> Shots:
    """Some of the shots."""
    fields = {field.name: getattr(shots, field.name) for field in dataclasses.fields(shots)}
    return Shots(
        **{
            name: values[np.array(keep)]
            if isinstance(values, np.ndarray)
            else tuple(value for value, yes in zip(values, keep, strict=True) if yes)
            for name, values in fields.items()
        }
    )


def shots_of(rows: list[tuple[str, float, float, float, str]], metres_per_unit: float = 1.0) -> Shots:
    """Sound shots from rows of point, north, east, elevation and code."""
    text = "\n".join(";".join(str(cell) for cell in row) for row in rows)
    shots, problems = read_shots(text, metres_per_unit)
    assert not [problem for problem in problems if problem.fatal], problems
    return shots
