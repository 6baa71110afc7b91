"""Time of the house's ground heat: ``python -m tests.bench_house_heat``."""

from __future__ import annotations

import os
from time import perf_counter

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def main() -> None:
    """Print seconds for the demo lot's wall line, for the whole house with its band, and for one station."""
    import tomllib

    from foundation import places
    from foundation.heat.sections.respond import respond
    from foundation.plan import heat as ground_heat
    from foundation.plan import plan
    from foundation.plan.climate import climate_of
    from foundation.plan.sections import sections_along
    from foundation.project import check

    folder = places.data("demo")
    project, _ = check(tomllib.loads((folder / "fallow-fen.toml").read_text(encoding="utf-8")))
    assert project is not None
    planned = plan(project, (folder / "shots.csv").read_text(encoding="utf-8"))
    answer = planned.steppings[0].name
    start = perf_counter()
    placed = sections_along(planned, answer)
    print(f"{len(placed)} sections from the plan: {perf_counter() - start:.3f} s")
    respond(placed[0].section)
    start = perf_counter()
    errors = [respond(each.section).error for each in placed]
    print(
        f"all solved, steady, year and error: {perf_counter() - start:.2f} s, worst error {max(errors):.2%}"
    )
    start = perf_counter()
    ground_heat.heat_of(planned, answer)
    print(f"the house with its soil band, gaps and bare edges: {perf_counter() - start:.2f} s")
    start = perf_counter()
    ground_heat.heat_of(planned, answer)
    print(f"again: {perf_counter() - start:.3f} s")
    climate = climate_of(project)
    start = perf_counter()
    ground_heat.look_at(planned, answer, "C-D", 3.21, climate)
    print(f"one new station with its bare twin and gaps: {perf_counter() - start:.3f} s")


if __name__ == "__main__":
    main()
