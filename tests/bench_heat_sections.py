"""Time of a section, ours and a general library at the same error: ``python -m tests.bench_heat_sections``."""

from __future__ import annotations

import os
from collections.abc import Callable
from statistics import median
from time import perf_counter
from typing import Any

# Several threads of the algebra library at work on small fronts cost either solver up to ten times the time.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def timed(work: Callable[[], Any], runs: int) -> tuple[Any, float]:
    work()
    times = []
    for _ in range(runs):
        start = perf_counter()
        result = work()
        times.append(perf_counter() - start)
    return result, median(times) * 1e3


def main() -> None:
    """Print milliseconds, cells, claimed and true errors, and the ratio to the library on the same section."""
    import numpy as np

    from foundation.heat.sections.pencil import gaps_of
    from foundation.heat.sections.respond import respond, steady_conductance
    from tests.heat.elements import Finite, by_elements
    from tests.heat.sections import FOAM_INCHES, SECTIONS, basement, slab_edge, walkout

    groups = ("floor", "wall"), ("floor", "wall", "frame")

    def errors(flows: Callable[[tuple[str, ...]], np.ndarray], truth: Finite) -> float:
        return max(float(np.max(np.abs(flows(names) / truth.sum(*names) - 1))) for names in groups)

    typical = {
        "basement": basement(outside=FOAM_INCHES, under=FOAM_INCHES),
        "slab edge": slab_edge(outside=FOAM_INCHES),
        "walkout": walkout(edge=FOAM_INCHES, under=FOAM_INCHES),
    }
    for name, section in typical.items():
        truth = by_elements(section, 1.5, 0.001)
        response, ours = timed(lambda section=section: respond(section), 15)
        surface = response.surface
        group = np.array(surface.group)

        def of(names: tuple[str, ...], surface: Any = surface, group: Any = group) -> np.ndarray:
            chosen = np.isin(group, names)
            return np.array([surface.flow_steady[chosen].sum(), surface.flow_annual[chosen].sum()])

        error = errors(of, truth)
        print(
            f"{name}: steady, year and error {ours:.0f} ms, {response.cells} cells, claimed "
            f"{response.error:.2%}, true {error:.2%}"
        )
        best: tuple[float, float, float] = (np.inf, 0.0, 0.0)
        for ratio in (5.0, 4.0, 3.0, 2.5, 2.0, 1.7):
            for first in (0.02, 0.01, 0.004, 0.002, 0.001):
                found, time = timed(lambda s=section, r=ratio, f=first: by_elements(s, r, f), 3)
                off = errors(lambda names, found=found: found.sum(*names), truth)
                if off <= error:
                    best = min(best, (time, ratio, first))
        time, ratio, first = best
        _, coarser = timed(lambda s=section, r=ratio, f=first: by_elements(s, r**2, 2 * f), 5)
        print(
            f"  library, quickest of 30 meshes as good: {time:.0f} ms, {time / ours:.1f} times ours; with one half as "
            f"fine to know its error {(time + coarser) / ours:.1f} times"
        )
        _, quick = timed(lambda section=section: steady_conductance(section), 15)
        _, pencil = timed(lambda section=section: gaps_of(section), 15)
        print(f"  steady_conductance {quick:.1f} ms, line of insulation {pencil:.1f} ms")
    times = [timed(lambda make=make: respond(make()), 3)[1] for make in SECTIONS.values()]
    print(f"all {len(times)} samples: median {median(times):.0f} ms, slowest {max(times):.0f} ms")


if __name__ == "__main__":
    main()
