"""The demo lot as one solid beside its joined sections: ``python -m tests.bench_house_solid [fineness …]``.

At 0.5 there are 170,000 cells, at 1 440,000, at 1.5 800,000.
"""

from __future__ import annotations

import os
import sys
from time import perf_counter

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def main(finenesses: list[float]) -> None:
    """Print cells, seconds, and each part's conductance three ways, with what shape and grid make of it."""
    from foundation import places
    from foundation.model.solid import Shares
    from foundation.plan import plan
    from foundation.plan.solid_house import solid_house
    from foundation.project import load

    job = load(places.data("demo", "fallow-fen.toml"))
    made = plan(job.project, job.survey)
    answer = made.steppings[0].name
    solid_house(made, answer, 0.3)  # sections are kept from here on

    def told(name: str, shares: Shares) -> str:
        values = {
            each: abs(getattr(shares, each)) for each in ("total", "floor", "wall", "below_grade", "between")
        }
        return f"    {name:16s}" + "  ".join(f"{each} {value:.2f}" for each, value in values.items()) + " W/K"

    for fineness in finenesses:
        start = perf_counter()
        steady = solid_house(made, answer, fineness)
        between = perf_counter()
        year = solid_house(made, answer, fineness, year=True)
        both = perf_counter() - between
        print(
            f"fineness {fineness:g}: {steady.cells} cells, steady with its strips {between - start:.1f} s, with the "
            f"year {both:.1f} s, imbalance {year.imbalance:.0e}, shape {steady.by_shape:+.2%}"
        )
        for name, part in year.parts.items():
            print(f"  {name}: shape {part.by_shape:+.2%}, grid {part.by_grid:+.2%}")
            print(told("solid", part.solid))
            print(told("sections alike", part.alike))
            print(told("joined", part.joined))
            assert part.swing is not None
            assert part.joined_swing is not None
            print(told("solid, year", part.swing))
            print(told("joined, year", part.joined_swing))


if __name__ == "__main__":
    main([float(each) for each in sys.argv[1:]] or [0.5, 1.0])
