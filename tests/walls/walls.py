"""Invented walls for the tests: random ones, and the same wall seen from its other end."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from hypothesis import strategies as st

from foundation.model.concrete import Opening
from foundation.model.ground import Profile
from foundation.model.walls import Run, WallLine

FOOT, INCH = 0.3048, 0.0254
HEIGHTS = [2 * FOOT, 4 * FOOT, 8 * FOOT, 9 * FOOT]


@dataclass(frozen=True)
class Lot:
    """One wall with its grade, footing and openings."""

    wall: WallLine
    grade: Profile
    runs: tuple[Run, ...]
    openings: tuple[Opening, ...]


def wall_line(length: float, top: float, name: str = "A-B", thickness: float = 10 * INCH) -> WallLine:
    start, end = name.split("-")
    return WallLine(
        name, "house", start, end, (0.0, 0.0), (length, 0.0), length, (0.0, 1.0), "", thickness, top,
        20 * INCH, 10 * INCH,
    )  # fmt: skip


def run(start: float, end: float, top: float, line: str = "A-B") -> Run:
    return Run(line, start, end, top - 10 * INCH, top, "frost", start, 0.0)


def opening(kind: str, start: float, end: float, bottom: float, top: float, line: str = "A-B") -> Opening:
    return Opening(kind, kind, line, start, end, bottom, top)


def inches(length: float) -> np.ndarray:
    return np.linspace(0.0, length, int(np.ceil(length / INCH - 1e-9)) + 1)


def reversed_lot(lot: Lot) -> Lot:
    """The same wall, stations from its other end."""
    length = lot.wall.length
    return Lot(
        lot.wall,
        Profile((length - lot.grade.station)[::-1], lot.grade.grade[::-1]),
        tuple(replace(r, start=length - r.end, end=length - r.start) for r in lot.runs[::-1]),
        tuple(replace(o, start=length - o.end, end=length - o.start) for o in lot.openings[::-1]),
    )


@st.composite
def profiles(draw: st.DrawFn, length_inches: int, low: float, high: float) -> Profile:
    inner = draw(st.lists(st.floats(0.5, length_inches - 0.5), max_size=8))
    station = np.unique(np.round([0.0, *inner, length_inches], 2)) * INCH
    return Profile(station, np.array([draw(st.floats(low, high)) for _ in station]))


@st.composite
def lots(draw: st.DrawFn) -> Lot:
    """A wall 3 m high over a stepped footing, ragged grade, up to four openings of any kind side by side."""
    count = draw(st.integers(40, 400))
    length = count * INCH
    steps = sorted(draw(st.sets(st.integers(1, count - 1), max_size=3)))
    cuts = [0, *steps, count]
    runs = tuple(
        run(a * INCH, b * INCH, draw(st.integers(-40, 20)) * INCH)
        for a, b in zip(cuts, cuts[1:], strict=False)
    )
    sides = sorted(draw(st.sets(st.integers(0, 2 * count), min_size=0, max_size=8)))
    holes = []
    for a, b in zip(sides[::2], sides[1::2], strict=False):
        kind = draw(st.sampled_from(["door", "window", "overhead door", "beam pocket", "sleeve"]))
        # Whole centimetres: levels within a sixteenth of an inch of each other count as one.
        bottom = draw(st.integers(60, 280)) / 100
        holes.append(
            opening(kind, a * INCH / 2, b * INCH / 2, bottom, bottom + draw(st.integers(10, 250)) / 100)
        )
    grade = draw(profiles(count, -1.5, 3.5))
    return Lot(wall_line(length, 3.0), grade, runs, tuple(holes))
