"""The warm-floor page: will each floor carry its room, how hot must the water be, and where does the tube go?"""

from __future__ import annotations

import html
from collections.abc import Callable

import ipywidgets as widgets

from foundation.dashboard.caution_panel import CautionPanel
from foundation.dashboard.chart import Click
from foundation.dashboard.drawing import Drawing
from foundation.dashboard.figures import Figure
from foundation.dashboard.floor_tables import (
    coil_table,
    manifold_table,
    opinion_table,
    shortfall_list,
    zone_table,
)
from foundation.dashboard.guard import debounced, guarded
from foundation.dashboard.pages.floor_inputs import FloorInputs
from foundation.dashboard.state import State
from foundation.drawings.floor_charts import across_tubes, load_and_output, water_by_weather
from foundation.drawings.floor_plan import floor_scene
from foundation.model.floors import FloorsPlan
from foundation.plan import PlanError
from foundation.plan.floors import floors_of

QUESTION = "Will each floor carry its room, how hot must the water be, and where does the tube go?"
AFTER = 0.15
"""How long the page is left alone before the floors are worked out anew. [s]"""


class FloorsPage:
    """The warm-floor page.

    Parameters
    ----------
    state : State
        The page's state.
    tell : callable
        Puts a sentence on the page.
    title : str
        The page's title; it draws while that page is turned to.
    """

    def __init__(self, state: State, tell: Callable[[str], object], title: str) -> None:
        self.state, self.tell, self.title = state, tell, title
        self.found: FloorsPlan | None = None
        self.zone = widgets.Dropdown(description="Zone")
        switches = widgets.HBox([self.zone])
        switches.add_class("switches")
        self.said = widgets.HTML()
        self.drawing = Drawing(self._draw_plan, tell, "floors")
        self.drawing.on_click(guarded(self._clicked, tell))
        self.zones, self.short, self.manifolds, self.rest = (widgets.HTML() for _ in range(4))
        self.load, self.stripe, self.reset = Figure(tell), Figure(tell), Figure(tell)
        self.cautions = CautionPanel(
            state, tell, lambda: self.found.cautions if self.found is not None else ()
        )
        self.shown = widgets.VBox(
            [
                self.drawing.box,
                self.zones,
                self.short,
                self.load.box,
                switches,
                self.stripe.box,
                self.manifolds,
                self.reset.box,
                self.cautions.box,
                self.rest,
            ]
        )
        self.shown.layout.display = "none"
        self.result = widgets.VBox([self.said, self.shown])
        self.result.add_class("result")
        columns = widgets.Box([FloorInputs(state, tell).box, self.result])
        columns.add_class("columns")
        self.box = widgets.VBox([widgets.HTML(f"<h1>{QUESTION}</h1>"), columns])
        self.box.add_class("page")
        self.filling = False
        self.wait = debounced(guarded(self._work, tell), AFTER)
        self.zone.observe(guarded(lambda _change: self._draw_zone(), tell), "value")
        state.observe(guarded(lambda _change: self.draw(), tell), ["plan", "page", "answer"])
        state.observe(guarded(lambda _change: self._stale(bool(state.problems)), tell), "problems")

    def _stale(self, stale: bool) -> None:
        """Grey the edge of what is shown while it does not stand for what is typed."""
        if stale:
            self.result.add_class("stale")
        else:
            self.result.remove_class("stale")

    def _clicked(self, click: Click) -> None:
        names = [name for name, _ in self.zone.options]
        if click.customdata in names:
            self.zone.value = click.customdata

    def draw(self) -> None:
        """Work the floors out anew, after what was typed is on the page."""
        if self.state.plan is not None and self.state.page == self.title:
            if self.found is None:
                self.said.value = (
                    "<p role='status'>Working out the floors: the ground under them comes first.</p>"
                )
            self.wait()

    def _work(self) -> None:
        plan, state = self.state.plan, self.state
        if plan is None or state.page != self.title:
            return
        if not plan.project.zones:
            self.found = None
            self.said.value = (
                "<p>Add a zone of heated floor: its part, and the load that it has to carry.</p>"
            )
            self.drawing.box.layout.display = "none"
            for each in (self.zones, self.short, self.manifolds, self.rest):
                each.value = ""
            for figure in (self.load, self.stripe, self.reset):
                figure.show(None)
            self.cautions.draw()
            return
        try:
            self.found = floors_of(plan, state.answer, state.weather)
        except PlanError as error:
            told = "".join(
                f"<p class='wrong' role='alert'>{html.escape(p.sentence)}</p>" for p in error.problems
            )
            self.said.value = told
            self._stale(True)
            return
        self._stale(bool(state.problems))
        floors, system = self.found, state.system
        self.said.value = "".join(
            f'<p class="notice">{html.escape(notice.sentence)}</p>' for notice in floors.notices
        )
        self.shown.layout.display = None
        self.filling = True
        try:
            names = [(zone.shape.name, zone.shape.name) for zone in floors.zones]
            if self.zone.options != tuple(names):
                before = self.zone.value
                self.zone.options = names
                known = [name for name, _ in names]
                self.zone.value = before if before in known else known[0]
        finally:
            self.filling = False
        self._draw_plan()
        self.zones.value = zone_table(floors, system)
        self.short.value = shortfall_list(floors, system)
        self._draw_zone()
        self.load.show(load_and_output(floors, system))
        self.manifolds.value = "<h2>For the plumber</h2>" + "".join(
            manifold_table(manifold, system) for manifold in floors.manifolds
        )
        self.reset.show(water_by_weather(floors, system))
        self.cautions.draw()
        assumed = "".join(f"<li>▲ {html.escape(sentence)}</li>" for sentence in floors.assumed)
        reasons = "".join(
            f"<li>{html.escape(zone.shape.name)}: {html.escape(reason)}</li>"
            for zone in floors.zones
            for laying in zone.layings
            for reason in laying.reasons
        )
        self.rest.value = (
            f"{coil_table(floors, system)}{opinion_table(floors.zones, system)}"
            + (f"<h2>How the tube was laid</h2><ul>{reasons}</ul>" if reasons else "")
            + (f"<details><summary>Assumed</summary><ul>{assumed}</ul></details>" if assumed else "")
        )

    def _draw_plan(self) -> None:
        if self.found is not None and self.state.plan is not None:
            scene = floor_scene(self.state.plan, self.found, self.drawing.width, self.zone.value or "")
            self.drawing.show(scene, "floors")

    def _draw_zone(self) -> None:
        """The zone that is looked at: lit up on the plan, its surface across two tubes."""
        if self.found is None or self.filling or not self.zone.value:
            return
        self._draw_plan()
        self.stripe.show(across_tubes(self.found.zone(self.zone.value), self.state.system))
