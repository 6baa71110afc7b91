"""How fast a page opens and redraws, beside a bare Voila page that shows one plotly figure.

Run from the checkout: ``python -m tests.browser.bench_load``. Seconds depend on the machine and on what else
it does; the ratios of one run and the bytes do not.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median

from playwright.sync_api import Browser, Page

from tests.browser.harness.browser import browser
from tests.browser.harness.measure import Load, load, percentile, redraw, wait_until_quiet
from tests.browser.harness.server import Server, free_port, planner_command, running, write_notebook
from tests.browser.harness.watch import DRAWN

BARE_READY = ".js-plotly-plot .main-svg"
BARE_PLOT = (
    "from IPython.display import display",
    "display({'application/vnd.plotly.v1+json': {'data': [{'x': [0, 6, 12], 'y': [0, -0.4, -1.5]}],"
    " 'layout': {'height': 360}}}, raw=True)",
)
Pages = dict[str, tuple[Server, str]]
Loads = dict[str, dict[str, list[Load]]]
TARGETS = (
    "targets: cold ≤ 1.3 and warm ≤ 1.6 times the bare page, ≤ 1 MB over websockets, redraw ≤ 0.3 / 0.5 s"
)


@contextmanager
def bare_server(folder: Path, preheat: int) -> Iterator[Server]:
    """Voila as it comes, with a notebook of one plotly figure."""
    notebook = write_notebook(folder, "\n".join(BARE_PLOT), title="Bare")
    command = [sys.executable, "-m", "voila", str(notebook), "--no-browser", "--Voila.ip=127.0.0.1"]
    command += [f"--preheat_kernel={preheat > 0}", f"--pool_size={preheat}", f"--port={free_port()}"]
    # Voila tells its address on the log, which the harness reads on the other stream.
    shell = ["sh", "-c", 'exec "$@" 2>&1', "sh", *command]
    with running(shell) as server:
        yield server


def compare(browser: Browser, pages: Pages, runs: int) -> Loads:
    """Cold and warm loads of several pages in turn, each given as its server and its ready selector."""
    loads: Loads = {name: {"cold": [], "warm": []} for name in pages}
    for _ in range(runs):
        for name, (server, ready) in pages.items():
            context = browser.new_context()
            for kind in ("cold", "warm"):
                wait_until_quiet(server.process.pid)
                page, measured = load(context, server.address, ready)
                loads[name][kind].append(measured)
                page.close()
            context.close()
    return loads


def print_loads(loads: Loads) -> None:
    """Medians, and the ratio to the page called "bare"."""
    for kind in ("cold", "warm"):
        bare = median(load.seconds for load in loads["bare"][kind])
        for name, of_page in loads.items():
            runs = of_page[kind]
            seconds = median(run.seconds for run in runs)
            print(
                f"{kind} {name:8} {seconds:5.2f} s ({min(run.seconds for run in runs):.2f}–"
                f"{max(run.seconds for run in runs):.2f}), {seconds / bare:4.2f} × bare, "
                f"{median(run.requests for run in runs):3.0f} requests, "
                f"HTTP {median(run.http_bytes for run in runs) / 1e6:6.2f} MB, "
                f"websocket {median(run.socket_bytes for run in runs) / 1e6:5.2f} MB"
            )


def print_redraw(name: str, page: Page, change: Callable[[int], None]) -> None:
    """Median and 95th percentile of thirty redraws of a page that is already open."""
    seconds = redraw(page, change)
    print(f"redraw {name:8} p50 {median(seconds):.2f} s, p95 {percentile(seconds, 0.95):.2f} s")


def press_slider(page: Page) -> Callable[[int], None]:
    """Moves the page's first slider to and fro by its keys."""
    handle = page.locator(".noUi-handle").first

    def change(number: int) -> None:
        handle.press("ArrowRight" if number % 2 else "ArrowLeft")

    return change


def type_depths(page: Page) -> Callable[[int], None]:
    """Types another frost depth each time, on the footings page with everything shown."""
    box = page.get_by_label("Frost depth", exact=True).and_(page.locator(":visible"))

    def change(number: int) -> None:
        box.fill(f"{42 + number % 12} in")
        box.press("Enter")

    return change


def main() -> None:
    """Print the loads of the planner and of six charts, and how fast the six redraw."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=5, help="loads of each page")
    parser.add_argument("--project", type=Path, help="project file to open in the planner")
    parser.add_argument("--preheat", type=int, default=1, help="kernels kept ready, for every page")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as one, tempfile.TemporaryDirectory() as other, browser() as started:
        six = write_notebook(Path(one), "from tests.browser.harness.frame import show_six", "show_six()")
        with (
            bare_server(Path(other), options.preheat) as bare,
            running(planner_command(six, preheat=options.preheat)) as charts,
            running(planner_command(project=options.project, preheat=options.preheat)) as planner,
        ):
            pages = {
                "bare": (bare, BARE_READY),
                "six": (charts, f"{DRAWN} >> nth=5"),
                "planner": (planner, DRAWN if options.project else "h1"),
            }
            print_loads(compare(started, pages, options.runs))
            wait_until_quiet(charts.process.pid)
            page, _ = load(started.new_context(), charts.address, pages["six"][1])
            wait_until_quiet(charts.process.pid)
            print_redraw("six", page, press_slider(page))
            if options.project:
                page, _ = load(started.new_context(), planner.address, DRAWN)
                wait_until_quiet(planner.process.pid)
                print_redraw("planner", page, type_depths(page))
    print(TARGETS)


if __name__ == "__main__":
    main()
