"""How long the foam sizing takes: run ``python -m tests.bench_foam_sizing``; it prints and asserts nothing."""

from __future__ import annotations

import os
import time
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from multiprocessing import get_context

from foundation import places
from foundation.plan import Plan, plan
from foundation.project import load
from foundation.studies.foam_sizing import search_of, size_foam
from foundation.studies.running import Runner
from tests.studies.lots import slab_plan


def sized(name: str, house: Plan, executor: Executor | None = None) -> None:
    """Size the foam of a house and print how long it took."""
    start = time.perf_counter()
    found = size_foam(house, "least cost", executor)
    print(
        f"{name}: {time.perf_counter() - start:.1f} s, {found.solved} sections solved, {found.compared} of "
        f"{found.considered} sets, {found.representatives} sections stand for the house, off by "
        f"{found.representation_error:.2%}"
    )


def main() -> None:
    """Print all figures."""
    job = load(places.data("demo", "fallow-fen.toml"))
    demo, small = plan(job.project, job.survey), slab_plan()
    start = time.perf_counter()
    search_of(demo, "least cost", Runner())
    print(f"demo house made ready: {time.perf_counter() - start:.1f} s; {os.cpu_count()} cores")
    sized("small slab, this thread", small)
    sized("demo house, this thread", demo)
    with ThreadPoolExecutor(2) as threads:
        sized("demo house, two threads", demo, threads)
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as processes:
        processes.submit(int).result()  # the workers are started
        sized("demo house, two processes", demo, processes)


if __name__ == "__main__":
    main()
