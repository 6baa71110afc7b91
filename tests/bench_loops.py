"""How long laying tube takes: run ``python -m tests.bench_loops``; it prints and asserts nothing."""

from __future__ import annotations

import time

import numpy as np

from foundation.model.loops import FloorArea, LayingRules
from foundation.radiant.loops import lay

INCH, FOOT = 0.0254, 0.3048
FLOORS = (
    ("2,000 ft², manifold amid the long side", 50.0, 40.0, (25.0, 0.0)),
    ("2,000 ft², manifold at the short side", 50.0, 40.0, (0.0, 20.0)),
    ("1,070 ft²", 42.3, 25.3, (0.0, 20.0)),
    ("515 ft²", 22.7, 22.7, (22.7, 10.0)),
)


def main() -> None:
    """Print seconds, loops and bare floor for a few floors with two posts."""
    for name, width, height, manifold in FLOORS:
        posts = tuple(
            np.array([(east, 11.0), (east + 1.33, 11.0), (east + 1.33, 12.33), (east, 12.33)]) * FOOT
            for east in (0.3 * width, 0.6 * width)
        )
        corners = np.array([(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]) * FOOT
        area = FloorArea("zone", corners, posts, (((0.0, 0.0), (width * FOOT, 0.0)),))
        for spacing in (9.0, 12.0):
            rules = LayingRules(
                spacing * INCH, 5 * INCH, 6 * INCH, 6 * INCH, longest=300 * FOOT, equal_within=0.1
            )
            start = time.perf_counter()
            laid = lay(area, rules, (manifold[0] * FOOT, manifold[1] * FOOT))
            taken = time.perf_counter() - start
            lengths = ", ".join(f"{loop.length / FOOT:.0f}" for loop in laid.loops)
            bare = laid.unreached_area / FOOT**2
            print(f"{name}, {spacing:.0f} in: {taken:.2f} s, loops of {lengths} ft, {bare:.1f} ft² bare")


if __name__ == "__main__":
    main()
