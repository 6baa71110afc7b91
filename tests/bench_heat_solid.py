"""How long ground heat takes: run ``python -m tests.bench_heat_solid``; it prints and asserts nothing.

Each solid is solved in a process of its own, which tells its greatest memory.
"""

from __future__ import annotations

import math
import resource
import subprocess
import sys
import time
from collections.abc import Callable

import numpy as np

from foundation.heat.conduction import Body, annual, steady
from foundation.heat.exact import YEAR
from foundation.heat.freezing import freeze
from foundation.heat.freezing_body import freezing_body
from foundation.heat.grid import Grid, graded_lines
from foundation.heat.patches import End, Film, Patch
from foundation.heat.sections.assemble import Assembled, assemble
from tests.heat.sections import FOAM_INCHES, basement

DAY = 86400.0


def seconds(work: Callable[[], object], repeats: int = 5) -> float:
    """Least time of a few tries. [s]"""
    taken = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return min(taken)


def house(cell: float) -> tuple[Body, list[Patch]]:
    """A quarter of a 12 × 9 m basement 2.2 m deep, foam round wall and slab, 15 m of ground beside it.

    Downward from the top of the wall, 0.2 m above grade.
    """
    half, wall, foam, floor, growth = (6.0, 4.5), 0.2, 0.1, 2.4, 1 + 9 * cell
    across = [
        graded_lines(
            [0, side - wall, side, side + foam, side + 15], [np.inf, cell, cell, cell, np.inf], growth
        )
        for side in half
    ]
    down = graded_lines(
        [0, 0.2, floor, floor + 0.1, floor + 0.2, 20],
        [2 * cell, cell, cell, cell, 2 * cell, np.inf],
        growth,
    )
    grid = Grid((*across, down))

    def box(out: float, top: float, bottom: float) -> np.ndarray:
        return grid.inside((0, half[0] + out), (0, half[1] + out), (top, bottom))

    conductivity, capacity = np.full(grid.shape, 1.5), np.full(grid.shape, 3.0e6)
    inner = box(-wall, 0, floor)
    for cells, values in (
        (~box(foam, 0, 20) & grid.inside((0, np.inf), (0, np.inf), (0, 0.2)), (0.0, 0.0)),
        (box(foam, 0, floor + 0.2), (0.032, 4.5e4)),
        (box(0, 0, floor + 0.1), (1.8, 2.1e6)),
        (inner, (0.0, 0.0)),
    ):
        conductivity[cells], capacity[cells] = values
    warm, cold = Film(7.7, 20.0), Film(25.0, 5.0, 12.0)
    above = box(foam, 0, 0.2)
    return Body(grid, conductivity, capacity), [
        Patch("floor", 2, End.LOW, Film(5.9, 20.0), box(-wall, -np.inf, np.inf)),
        Patch("end wall", 0, End.LOW, warm, box(0, 0, floor) & (grid.centre(0) > half[0] - wall)),
        Patch("side wall", 1, End.LOW, warm, box(0, 0, floor) & (grid.centre(1) > half[1] - wall)),
        Patch("ground", 2, End.LOW, cold, ~box(foam, -np.inf, np.inf)),
        Patch("end foam", 0, End.HIGH, cold, above),
        Patch("side foam", 1, End.HIGH, cold, above),
    ]


def solid(cell: float, kind: str) -> None:
    """Print one solid's figures; the library of coarse grids is loaded before."""
    body, patches = house(cell)
    import pyamg  # noqa: F401 - so that its import is not counted

    solve = {"steady": steady, "annual": annual}[kind]
    start = time.perf_counter()
    solve(body, patches)
    taken = time.perf_counter() - start
    cells = np.count_nonzero(np.asarray(body.conductivity))
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6
    print(cells, taken, memory)


def solids() -> None:
    """Print the solids, and how their cost grows."""
    for kind in ("steady", "annual"):
        found = []
        for cell in (0.0226, 0.01365):
            command = [sys.executable, "-m", "tests.bench_heat_solid", str(cell), kind]
            runs = [subprocess.run(command, capture_output=True, text=True, check=True) for _ in range(3)]
            cells, taken, memory = min(
                (tuple(map(float, run.stdout.split())) for run in runs), key=lambda figures: figures[1]
            )
            print(f"solid of {cells:,.0f} cells, {kind}: {taken:.2f} s, {memory:.2f} GB")
            found.append((cells, taken))
        (few, quick), (many, slow) = found
        print(f"  cost grows as cells to the power {math.log(slow / quick) / math.log(many / few):.2f}")


def around(assembled: Assembled) -> list[Patch]:
    """Air inside at 20 °C, outside with the wave of a cold climate."""
    return [
        faces.patch(20.0 if faces.inner else 6.0, 0 if faces.inner else -17.0) for faces in assembled.faces
    ]


def sections() -> None:
    """Print plane sections: steady, steady with the year, and a winter of 200 daily steps."""
    for fineness in (1.0, 1.7):
        assembled = assemble(basement(outside=FOAM_INCHES, slope=True), fineness)
        patches = around(assembled)
        flat = seconds(lambda body=assembled.body, patches=patches: steady(body, patches))
        year = seconds(lambda body=assembled.body, patches=patches: annual(body, patches))
        print(
            f"section of {assembled.cells:,} cells: steady {flat * 1e3:.1f} ms, with the year {year * 1e3:.1f} ms"
        )
        body = freezing_body(assembled.grid, assembled.material, assembled.materials)
        start = np.nan_to_num(annual(assembled.body, patches).temperature(-100 * DAY))
        course = {
            faces.name: lambda time: 6 - 17 * math.cos(2 * math.pi * time / YEAR)
            for faces in assembled.faces
            if not faces.inner
        }
        taken = seconds(
            lambda body=body, patches=patches, start=start, course=course: freeze(
                body, patches, start, np.arange(-100, 101, 10) * DAY, DAY, course
            ),
            2,
        )
        print(f"  200 days of freezing {taken:.2f} s")


def main() -> None:
    """Print all figures."""
    sections()
    solids()


if __name__ == "__main__":
    if len(sys.argv) == 3:
        solid(float(sys.argv[1]), sys.argv[2])
    else:
        main()
