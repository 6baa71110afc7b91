"""What leaves through the ground of the whole house: solved beside the page once it has been left alone."""

from __future__ import annotations

from collections.abc import Callable

import ipywidgets as widgets

from foundation.dashboard.fields import group
from foundation.dashboard.figures import Figure
from foundation.dashboard.guard import debounced, guarded
from foundation.dashboard.heat_tables import loss_table, stretch_table
from foundation.dashboard.long_work import Follower
from foundation.dashboard.state import State
from foundation.drawings.heat_charts import beside_standards, edge_heat, monthly_heat
from foundation.model.heat import HouseHeat
from foundation.plan.heat import heat_of

AFTER = 0.4
"""How long the page is left alone before the whole house is solved. [s]"""
HEADING = "What leaves through the ground"


class HeatHouse:
    """The house's heat: a table, its months, its edges, and second opinions.

    Parameters
    ----------
    state : State
        The page's state.
    tell : callable
        Puts a sentence on the page.
    """

    def __init__(self, state: State, tell: Callable[[str], object]) -> None:
        self.state = state
        self.asked: tuple[object, ...] = ()
        self.heading, self.table = widgets.HTML(), widgets.HTML()
        self.edges, self.months, self.standards = Figure(tell), Figure(tell), Figure(tell)
        self.stretches = widgets.HTML()
        self.opinions = group("Second opinions: published methods", lambda: [self.standards.box], folded=True)
        stretches = group("The edge, stretch by stretch", lambda: [self.stretches], folded=True)
        self.rest = widgets.VBox([self.table, self.months.box, self.edges.box, stretches])
        self.box = widgets.VBox([self.heading, self.rest])
        self.follower = Follower(heat_of, self._show, tell)
        self.later = debounced(guarded(self._ask, tell), AFTER)
        self._say("")

    def _say(self, words: str) -> None:
        self.heading.value = f"<h2>{HEADING} <small role='status'>{words}</small></h2>"

    def draw(self) -> None:
        """Solve the house again if its plan or its climate has changed."""
        asked = (self.state.plan, self.state.answer, self.state.weather)
        if any(one is not other for one, other in zip(asked, self.asked or (None,) * 3, strict=True)):
            self._say("being solved")
            self.later()

    def _ask(self) -> None:
        self.asked = (self.state.plan, self.state.answer, self.state.weather)
        self.follower.ask(*self.asked)

    def _show(self, heat: HouseHeat | None) -> None:
        self._say("")
        self.rest.layout.display = None if heat is not None else "none"
        if heat is None:
            return
        system = self.state.system
        self.table.value = loss_table(heat, system)
        self.stretches.value = stretch_table(heat.stretches, system)
        self.months.show(monthly_heat(heat.total, system))
        self.edges.show(edge_heat(heat, system))
        self.standards.show(beside_standards(heat, system))
