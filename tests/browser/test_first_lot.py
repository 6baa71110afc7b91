"""From an empty page to the demo lot's schedule by typing alone, as docs/first-lot.md tells it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, expect

from foundation import places
from foundation.handover.as_text import level_text
from foundation.plan import Plan
from tests.browser.harness.server import Server, planner_command, running
from tests.browser.harness.watch import WatchedPage
from tests.browser.test_planner import shown, type_into, unfold


@pytest.fixture(scope="module")
def server() -> Iterator[Server]:
    with running(planner_command(preheat=1)) as started:
        yield started


def add(page: Page, what: str) -> None:
    page.get_by_role("button", name=f"Add a {what}").and_(page.locator(":visible")).click()


def test_demo_typed_from_nothing(watched: WatchedPage, server: Server, demo_plan: Plan) -> None:
    watched.page.set_viewport_size({"width": 1280, "height": 900})
    page = watched.open(server.address, ready="h1:visible")
    # 1. First picture.
    for label, text in (
        ("Length, A to B", "44 ft"),
        ("Width, A to D", "30 ft"),
        ("Grade at A", "213.83"),
        ("Grade at B", "213.83"),
        ("Grade at C", "205.45"),
        ("Grade at D", "205.40"),
        ("Top of slab", "206'-0 1/2\""),
        ("Frost depth", "54 in"),
    ):
        type_into(page, label, text)
    expect(page.locator(".caption:visible h2")).to_contain_text("Grade falls")
    # 2. Corners where the surveyor has them, and the garage's.
    unfold(page, "Corners, outside face of concrete")
    for name in ("E", "F", "G", "H"):
        type_into(page, "New corner's name", name)
        page.get_by_role("button", name="Add this corner").click()
        expect(shown(page, f"{name}, east")).to_be_visible()
    at = {
        "A": ("2100", "5220"),
        "B": ("2144", "5220"),
        "C": ("2144", "5190"),
        "D": ("2100", "5190"),
        "E": ("2144", "5230"),
        "F": ("2168", "5230"),
        "G": ("2168", "5206"),
        "H": ("2144", "5206"),
    }
    for name, (east, north) in at.items():
        type_into(page, f"{name}, east", east)
        type_into(page, f"{name}, north", north)
    # 3. Shots, pasted as the file has them.
    unfold(page, "Survey")
    shown(page, "Numbers in the file are").select_option("ft")
    page.get_by_label("Or paste shots").fill(places.data("demo", "shots.csv").read_text(encoding="utf-8"))
    page.get_by_role("button", name="Use these shots").click()
    expect(page.locator("table.facts", has_text="Existing grade")).to_contain_text("212.38 ft")
    # 4. The house and the garage.
    unfold(page, "Part 1: house")
    type_into(page, "Corners in order", "A, B, H, C, D")
    type_into(page, "Top of wall", "214.50 ft")
    unfold(page, "Part 1: house")
    unfold(page, "Sizes of part 1")
    type_into(page, "Foam over the footing", "2 1/2 in")
    unfold(page, "Sizes of part 1")
    page.get_by_role("button", name="Add a part").click()
    unfold(page, "Part 2: garage")
    type_into(page, "Corners in order", "B, E, F, G, H")
    shown(page, "Heated in winter").select_option("yes")
    type_into(page, "Top of wall", "214.50 ft")
    type_into(page, "Top of slab", "214.00 ft")
    unfold(page, "Part 2: garage")
    unfold(page, "Sizes of part 2")
    for label, text in (
        ("Wall thickness", "8 in"),
        ("Footing width", "16 in"),
        ("Footing thickness", "8 in"),
    ):
        type_into(page, label, text)
    unfold(page, "Sizes of part 2")
    # 5. The walkout's wall, how the hole is dug, who gave the frost depth.
    page.get_by_role("button", name="Footings", exact=True).click()
    unfold(page, "Walls of the house that differ")
    add(page, "wall")
    type_into(page, "wall 1: by its corners", "C-D")
    type_into(page, "wall 1: thickness", "12 in")
    unfold(page, "Walls of the house that differ")
    unfold(page, "Forms and digging")
    type_into(page, "Dig slope, rise over run", "1")
    unfold(page, "Forms and digging")
    type_into(page, "Who said so", "town office, clerk")
    type_into(page, "When", "2026-03-03")
    # The schedule is the demo's.
    expect(page.locator(".field .wrong")).to_have_count(0)
    table = page.locator("table.schedule")
    rows = demo_plan.schedules["least cost"]
    expect(table.locator("tbody tr")).to_have_count(len(rows))
    for number, row in enumerate(rows):
        line = table.locator("tbody tr").nth(number)
        expect(line).to_contain_text(row.line)
        expect(line).to_contain_text(level_text(row.bottom, "us").split(" (")[0])
