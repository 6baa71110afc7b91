"""The order page: what do we order, and what does it cost?"""

from __future__ import annotations

import datetime
from collections.abc import Callable

import ipywidgets as widgets

from foundation.dashboard.caution_panel import CautionPanel
from foundation.dashboard.fields import field, group
from foundation.dashboard.figures import Figure
from foundation.dashboard.guard import debounced, guarded
from foundation.dashboard.money_tables import count_tables, pour_table
from foundation.dashboard.records import Records
from foundation.dashboard.state import State
from foundation.drawings.money_charts import count_chart
from foundation.model.caution import Caution
from foundation.plan import PlanError
from foundation.plan.floors import floors_of
from foundation.plan.takeoff import take_off
from foundation.plan.takeoff_cautions import money_cautions

QUESTION = "What do we order, and what does it cost?"
AFTER = 0.3
"""How long the page is left alone before everything is counted anew. [s]"""


class OrderPage:
    """The order page.

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
        self.state, self.title = state, title
        self.said, self.pours, self.lines = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self.chart = Figure(tell)
        self.cautions = CautionPanel(state, tell, self._doubts)
        self.result = widgets.VBox([self.said, self.chart.box, self.pours, self.lines, self.cautions.box])
        self.result.add_class("result")
        columns = widgets.Box([self._inputs(tell), self.result])
        columns.add_class("columns")
        self.box = widgets.VBox([widgets.HTML(f"<h1>{QUESTION}</h1>"), columns])
        self.box.add_class("page")
        self.wait = debounced(guarded(self._count, tell), AFTER)
        state.observe(guarded(lambda _change: self.draw(), tell), ["plan", "page", "answer"])

    def _inputs(self, tell: Callable[[str], object]) -> widgets.Widget:
        state = self.state

        def fields(*names: tuple[str, ...]) -> Callable[[], list[widgets.Widget]]:
            return lambda: [field(state, *name) for name in names]

        bars = Records(
            state,
            "Bars, by engineer or plan",
            "bars",
            "entry",
            (
                ("lie in", "where", ""),
                ("part", "part", ""),
                ("size", "size", ""),
                ("along a footing", "count", ""),
                ("spacing", "spacing", "in"),
                ("lap", "lap", "in"),
                ("listed by", "by", ""),
            ),
            {"where": "footings", "size": "#4", "count": 2},
            tell,
        )
        pours = Records(
            state,
            "Pours",
            "pours",
            "pour",
            (
                ("which", "name", ""),
                ("state", "state", ""),
                ("since", "date", ""),
                ("mix", "mix", ""),
                ("strength", "strength", "psi"),
                ("air", "air", "%"),
            ),
            {"name": "footings", "state": "planned"},
            tell,
        )
        box = widgets.VBox(
            [
                group(
                    "Prices",
                    fields(
                        ("Concrete", "prices.concrete", "$/yd³"),
                        ("Forms, of contact", "prices.forms", "$/ft²"),
                        ("Digging", "prices.digging", "$/yd³"),
                        ("Each step", "prices.step", "$"),
                        ("Quoted", "prices.quoted"),
                        ("By", "prices.source"),
                        ("A price without a quote is off by", "prices.band", "%"),
                    ),
                ),
                group(
                    "More prices",
                    fields(
                        ("Bars", "prices.bars", "$/ft"),
                        ("Stone", "prices.stone", "$/yd³"),
                        ("Backfill", "prices.backfill", "$/yd³"),
                        ("Hauling", "prices.haul", "$/yd³"),
                        ("Drain pipe", "prices.drain", "$/ft"),
                        ("Vapor retarder", "prices.retarder", "$/ft²"),
                        ("Damp-proofing", "prices.dampproofing", "$/ft²"),
                    ),
                    folded=True,
                ),
                group(
                    "Prices of the floors",
                    fields(
                        ("Tube, laid", "prices.tube", "$/ft"),
                        ("Knobbed panel", "prices.panel", "$/ft²"),
                        ("Manifold", "prices.manifold", "$"),
                        ("Placing a slab", "prices.slab_work", "$/ft²"),
                    ),
                    folded=True,
                ),
                bars.box,
                pours.box,
                group(
                    "Waste and trucks",
                    fields(
                        ("Concrete over what is drawn", "waste.concrete", "%"),
                        ("Stone over what is drawn", "waste.stone", "%"),
                        ("Yards in a truck", "waste.truck"),
                        ("Walls fill an hour", "waste.rise_rate", "ft"),
                        ("Foam sheets, length", "waste.sheet_length", "ft"),
                        ("Foam sheets, width", "waste.sheet_width", "ft"),
                        ("Lap of the retarder", "waste.retarder_lap", "in"),
                    ),
                    folded=True,
                ),
            ]
        )
        box.add_class("inputs")
        return box

    def _doubts(self) -> tuple[Caution, ...]:
        """What is doubtful about the prices today."""
        plan = self.state.plan
        return money_cautions(plan.project, datetime.date.today()) if plan is not None else ()

    def draw(self) -> None:
        """Count anew, after what was typed is on the page."""
        if self.state.plan is not None and self.state.page == self.title:
            if not self.lines.value:
                self.said.value = "<p role='status'>Counting.</p>"
            self.wait()

    def _count(self) -> None:
        plan, state = self.state.plan, self.state
        if plan is None or state.page != self.title:
            return
        self.said.value = ""
        floors = None
        if plan.project.zones:
            try:
                floors = floors_of(plan, state.answer, state.weather)
            except PlanError:
                self.said.value = (
                    "<p class='notice'>The warm floors are not counted: see their page for what is wrong.</p>"
                )
        count = take_off(plan, state.answer, floors, datetime.date.today())
        self.chart.show(count_chart(count))
        self.pours.value = f"<h2>Pours</h2>{pour_table(count, state.system)}"
        self.lines.value = f"<h2>The count</h2>{count_tables(count, state.system)}"
        self.cautions.draw()
