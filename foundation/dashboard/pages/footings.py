"""How deep, and where does it step?"""

from __future__ import annotations

import functools
from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

from foundation.dashboard.caution_panel import CautionPanel
from foundation.dashboard.chart import Drag
from foundation.dashboard.drawing import Drawing
from foundation.dashboard.facts import layout_tables, wall_table
from foundation.dashboard.fields import button
from foundation.dashboard.guard import guarded
from foundation.dashboard.pages.footing_inputs import FootingInputs
from foundation.dashboard.state import State
from foundation.dashboard.tables import answer_card, assumption_list, schedule_table
from foundation.drawings.developed import place_at
from foundation.drawings.outside import outside_scene
from foundation.drawings.profile import profile_scene
from foundation.drawings.scene import Scene
from foundation.model.walls import Stepping
from foundation.plan import Plan
from foundation.plan.footings import OBJECTIVES
from foundation.plan.own import OWN

TITLE = "Footings"
QUESTION = "How deep, and where does it step?"
STRETCHES = (("true shape", 1.0), ("2 × height", 2.0), ("4 × height", 4.0))
VIEWS = ("profile", "seen from outside")
NOTHING = "nothing"


class FootingsPage:
    """The footings page.

    Parameters
    ----------
    state : State
        The page's state.
    tell : callable
        Puts a sentence on the page.
    """

    def __init__(self, state: State, tell: Callable[[str], object]) -> None:
        self.state, self.tell = state, tell
        names = (*OBJECTIVES, OWN)
        self.cards = [widgets.HTML() for _ in names]
        picks = [
            button(f"Show {name}", functools.partial(setattr, state, "answer", name), tell) for name in names
        ]
        boxes = [widgets.VBox([card, pick]) for card, pick in zip(self.cards, picks, strict=True)]
        self.own = boxes[-1]
        self.own.children = (*self.own.children, button("Back to the best", state.drop_own, tell))
        card_row = widgets.HBox(boxes)
        card_row.add_class("cards")
        self.walls = widgets.Dropdown(description="Walls shown")
        self.view = widgets.Dropdown(description="Drawing", options=VIEWS)
        self.stretch = widgets.Dropdown(description="Vertical scale", options=STRETCHES)
        self.beside = widgets.Dropdown(description="Compare with", options=(NOTHING, *OBJECTIVES))
        switches = widgets.HBox([self.walls, self.view, self.stretch, self.beside])
        switches.add_class("switches")
        self.drawing = Drawing(self.draw, tell, "footings")
        self.drawing.on_drag(guarded(self._dragged, tell))
        self.cautions = CautionPanel(state, tell)
        self.schedule = widgets.HTML()
        self.layout = widgets.HTML()
        self.result = widgets.VBox(
            [
                card_row,
                switches,
                self.drawing.box,
                self.cautions.box,
                widgets.HTML("<h2>Schedule</h2>"),
                self.schedule,
                self.layout,
            ]
        )
        self.result.add_class("result")
        columns = widgets.Box([FootingInputs(state, tell).box, self.result])
        columns.add_class("columns")
        self.box = widgets.VBox([widgets.HTML(f"<h1>{QUESTION}</h1>"), columns])
        self.box.add_class("page")
        self.filling = False
        redraw = guarded(lambda _change: self.draw(), tell)
        self.walls.observe(guarded(self._pick_walls, tell), "value")
        self.stretch.observe(guarded(lambda change: setattr(state, "stretch", change["new"]), tell), "value")
        self.view.observe(redraw, "value")
        self.beside.observe(redraw, "value")
        state.observe(redraw, ["plan", "page", "answer", "walls", "stretch", "lit"])
        state.observe(guarded(lambda _change: self._stale(), tell), "problems")

    def _pick_walls(self, change: dict[str, Any]) -> None:
        if not self.filling and change["new"]:
            self.state.walls = change["new"]

    def _dragged(self, drag: Drag) -> None:
        """A step was moved along its wall: the stepping becomes the user's own."""
        plan = self.state.plan
        kind, wall, station = drag.name.split("|")
        if plan is None or kind != "step":
            return
        line, to = place_at(plan, self.state.walls.split(), (drag.x0 + drag.x1) / 2)
        if line != wall:
            raise ValueError(
                f"A step stays on its own wall, {wall}: type it under Your own stepping to move it on."
            )
        self.state.move_step(wall, float(station), to)

    def _stale(self) -> None:
        """Grey the edge of what is shown while what is typed does not plan."""
        if self.state.problems:
            self.result.add_class("stale")
        else:
            self.result.remove_class("stale")

    def _wall_choices(self, plan: Plan) -> list[tuple[str, str]]:
        chains = [
            (
                f"{chain.lines[0].split('-')[0]} round to {chain.lines[-1].split('-')[1]}",
                " ".join(chain.lines),
            )
            for chain in plan.chains
            if len(chain.lines) > 1
        ]
        return chains + [(f"Wall {line.wall.name}, {line.wall.part}", line.wall.name) for line in plan.lines]

    def draw(self) -> None:
        """Show the plan, the drawing first."""
        plan = self.state.plan
        if plan is None or self.state.page != TITLE:
            return  # a hidden page draws when it is turned to
        choices = self._wall_choices(plan)
        known = [value for _, value in choices]
        if self.state.walls not in known:
            self.state.walls = known[0]
            return  # the change draws
        self.filling = True
        try:
            if self.walls.options != tuple(choices):
                self.walls.options = choices
            self.walls.value = self.state.walls
        finally:
            self.filling = False
        stepping = plan.stepping(self.state.answer)
        self.drawing.show(
            self._scene(plan, stepping), f"{self.state.walls} {self.state.stretch} {self.view.value}"
        )
        self.own.layout.display = None if len(plan.steppings) == len(self.cards) else "none"
        for card, each in zip(self.cards, plan.steppings, strict=False):
            card.value = answer_card(plan, each, chosen=each.name == stepping.name)
        self.cautions.draw()
        self.schedule.value = schedule_table(plan, stepping)
        self.layout.value = wall_table(plan, stepping.name) + layout_tables(plan) + assumption_list(plan)

    def _scene(self, plan: Plan, stepping: Stepping) -> Scene:
        names, lit = self.state.walls.split(), self.state.lit or None
        if self.view.value == VIEWS[1]:
            station = lit[1] if lit and lit[0] == names[0] else None
            return outside_scene(plan, stepping, names[0], self.drawing.width, station)
        beside = None if self.beside.value in (NOTHING, stepping.name) else plan.stepping(self.beside.value)
        shown = lit if lit and lit[0] in names else None
        return profile_scene(plan, stepping, names, self.drawing.width, self.state.stretch, shown, beside)
