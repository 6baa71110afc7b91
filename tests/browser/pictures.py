"""Make the pictures in the docs again: `python -m tests.browser.pictures`."""

from __future__ import annotations

from pathlib import Path

from foundation import places
from tests.browser.harness.browser import browser
from tests.browser.harness.server import planner_command, running
from tests.browser.harness.watch import WatchedPage

HEADINGS = {
    "Footings": "How deep",
    "Lot": "Where is the ground",
    "Heat and foam": "Where does the heat leave",
    "Warm floors": "Will each floor carry",
    "Order": "What do we order",
}
PICTURES = Path(__file__).parents[2] / "docs" / "pictures"


def main() -> None:
    """Take the pages of the demo lot, wide and narrow."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    with (
        running(planner_command(project=places.data("demo", "fallow-fen.toml"))) as server,
        browser() as started,
    ):
        for width, height in ((1280, 900), (390, 844)):
            with WatchedPage(started.new_context(viewport={"width": width, "height": height})) as watched:
                page = watched.open(server.address)
                for tab in HEADINGS:
                    page.get_by_role("button", name=tab, exact=True).click()
                    page.get_by_role("heading", level=1, name=HEADINGS[tab]).wait_for()
                    page.locator(".page:visible .foundation-chart[data-drawn]").first.wait_for()
                    page.wait_for_load_state("networkidle")
                    path = PICTURES / f"{tab.lower().replace(' ', '-')}-{width}.png"
                    page.screenshot(path=path, full_page=width > 700)
                    print(path.relative_to(PICTURES.parents[1]))


if __name__ == "__main__":
    main()
