"""Time to read, check and triangulate 100,000 shots: ``python tests/bench_site.py``. Prints, asserts nothing."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import TypeVar

import numpy as np

from foundation.site.contours import contour_lines
from foundation.site.profile import profile_along
from foundation.site.shots import read_shots
from foundation.site.surface import Surface
from foundation.site.terrain import existing_surface

COUNT, FOOT, SIDE = 100_000, 0.3048, 1000.0  # shots, metres, feet
Result = TypeVar("Result")


def timed(what: str, work: Callable[[], Result]) -> Result:
    """Wall and processor time: the two differ where other work shares the machine."""
    wall, processor = time.perf_counter(), time.process_time()
    result = work()
    print(f"{what:58s}{time.perf_counter() - wall:8.3f} s{time.process_time() - processor:8.3f} s")
    return result


def hills(east: np.ndarray, north: np.ndarray) -> np.ndarray:
    return 200 + 0.08 * north + 12 * np.sin(east / 90) * np.cos(north / 120)


def point_file(scattered: bool, breaklines: int) -> str:
    """100,000 shots, scattered or on a regular grid; some in rows 3 ft apart that are breaklines."""
    generator = np.random.default_rng(7)
    on_lines = breaklines * 200
    if scattered:
        east, north = generator.uniform(0, SIDE, (2, COUNT - on_lines))
    else:
        side = np.linspace(0, SIDE, int(np.sqrt(COUNT)) + 1)
        east, north = (axis.ravel()[: COUNT - on_lines] for axis in np.meshgrid(side, side))
    name = [""] * len(east)
    for line in range(breaklines):
        along = np.arange(200) * 3.0
        angle = generator.uniform(0, np.pi)
        east = np.r_[east, 500 + (along - 300) * np.cos(angle) + 5 * np.sin(along / 40) + 20 * (line - 10)]
        north = np.r_[north, 500 + (along - 300) * np.sin(angle)]
        name += [f" line=L{line}"] * 200
    level = hills(east, north)
    return "\n".join(
        f"{point},{n:.2f},{e:.2f},{z:.2f},EG ground{line}"
        for point, (n, e, z, line) in enumerate(zip(north + 5000, east + 2000, level, name, strict=True), 1)
    )


def run(title: str, text: str) -> None:
    print(f"{title:58s}    wall  processor")
    surface = timed("  read + check + triangulate", lambda: ground(text))
    start, end = (2050 * FOOT, 5050 * FOOT), (2950 * FOOT, 5940 * FOOT)
    timed("  first profile, with the index of triangles", lambda: profile_along(surface, start, end))
    timed("  next profile", lambda: profile_along(surface, start, end))
    timed("  contour lines at 1 ft", lambda: contour_lines(surface, FOOT))


def ground(text: str) -> Surface:
    shots, problems = timed("  read and check doubles", lambda: read_shots(text, FOOT))
    surface, more = timed("  triangulate, breaklines, odd elevations", lambda: existing_surface(shots, FOOT))
    print(
        f"  {len(shots.point)} shots, {len(surface.triangles)} triangles, {len(problems) + len(more)} problems"
    )
    return surface


if __name__ == "__main__":
    run("scattered shots", point_file(scattered=True, breaklines=0))
    run("scattered shots, 20 breaklines that cross each other", point_file(scattered=True, breaklines=20))
    run("regular grid", point_file(scattered=False, breaklines=0))
