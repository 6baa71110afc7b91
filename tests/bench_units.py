"""How long the slowest of 20,000 odd strings takes to read: ``python -m tests.bench_units``."""

from __future__ import annotations

import gc
from contextlib import suppress
from time import perf_counter

from foundation.units import UnitsError, read
from tests.test_units_reading import fuzzed


def main() -> None:
    """Print the slowest string with its time, the mean, and the cost of the first conversion."""
    strings = fuzzed(20_000)
    start = perf_counter()
    read("1 ft", "length")
    first = perf_counter() - start
    gc.disable()
    times = []
    for text, kind in strings:
        start = perf_counter()
        with suppress(UnitsError):
            read(text, kind)
        times.append(perf_counter() - start)
    slowest = max(range(len(times)), key=times.__getitem__)
    print(f"first conversion, with the import of pint: {first:.3f} s")
    mean = sum(times) / len(times)
    print(f"mean {mean * 1e6:.0f} µs, slowest {times[slowest] * 1e3:.3f} ms: {strings[slowest]!r}")


if __name__ == "__main__":
    main()
