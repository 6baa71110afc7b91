"""How deep, and where does it step?"""

from __future__ import annotations

import functools
from collections.abc import Callable

import ipywidgets as widgets

from foundation.dashboard.caution_panel import CautionPanel
from foundation.dashboard.chart import Chart, drawing_width
from foundation.dashboard.facts import layout_tables, wall_table
from foundation.dashboard.fields import button, field, group
from foundation.dashboard.guard import guarded
from foundation.dashboard.records import Records
from foundation.dashboard.state import State
from foundation.dashboard.tables import answer_card, assumption_list, schedule_table
from foundation.drawings.profile import profile_scene
from foundation.drawings.to_plotly import figure
from foundation.plan import Plan
from foundation.plan.footings import OBJECTIVES
from foundation.plan.own import OWN
from foundation.plan.rules import OWN as OWN_RULES
from foundation.plan.rules import rule_sets

TITLE = "Footings"
QUESTION = "How deep, and where does it step?"
STRETCHES = (("true shape", 1.0), ("2 × height", 2.0), ("4 × height", 4.0))


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
        self.heading = widgets.HTML(f"<h1>{QUESTION}</h1>")
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
        self.stretch = widgets.Dropdown(description="Vertical scale", options=STRETCHES)
        self.walls.observe(guarded(self._pick_walls, tell), "value")
        self.stretch.observe(guarded(lambda change: setattr(state, "stretch", change["new"]), tell), "value")
        switches = widgets.HBox([self.walls, self.stretch])
        switches.add_class("switches")
        self.caption = widgets.HTML()
        self.caption.add_class("caption")
        self.chart = Chart()
        self.chart.observe(guarded(lambda _change: self.draw(), tell), "width")
        drawing = widgets.Box([self.chart])
        drawing.add_class("drawing")
        self.schedule = widgets.HTML()
        self.cautions = CautionPanel(state, tell)
        self.layout = widgets.HTML()
        self.no_steps = Records(
            state,
            "Stretches without a step",
            "rules.no_steps",
            "stretch",
            (
                ("wall, by its corners", "line", ""),
                ("from", "start", ""),
                ("to", "end", ""),
                ("why", "why", ""),
            ),
            {"line": "A-B", "start": "0 ft", "end": "4 ft"},
            tell,
        )
        self.own_runs = Records(
            state,
            "Your own stepping",
            "own_runs",
            "run",
            (
                ("wall, by its corners", "line", ""),
                ("from", "start", ""),
                ("to", "end", ""),
                ("bottom", "bottom", "ft"),
            ),
            {"line": "A-B", "start": "0 ft", "end": "4 ft", "bottom": "100 ft"},
            tell,
        )
        self.wall_sizes = Records(
            state,
            "Walls of the house that differ",
            "parts[1].walls",
            "wall",
            (
                ("by its corners", "line", ""),
                ("thickness", "thickness", ""),
                ("low top of concrete", "low_top", "ft"),
                ("carries a wall of", "carries", ""),
                ("ledge, level", "ledge.level", "ft"),
                ("ledge, wall above", "ledge.upper", ""),
                ("ledge, foam", "ledge.foam", ""),
                ("ledge, bearing", "ledge.bearing", ""),
            ),
            {"line": "A-B", "thickness": "10 in"},
            tell,
        )
        self.openings = Records(
            state,
            "Openings, pockets, sleeves",
            "openings",
            "opening",
            (
                ("name", "name", ""),
                ("kind", "kind", ""),
                ("wall, by its corners", "line", ""),
                ("near side", "start", ""),
                ("width", "width", ""),
                ("lower edge, level", "bottom", "ft"),
                ("height", "height", ""),
            ),
            {
                "name": "door",
                "line": "A-B",
                "start": "4 ft",
                "width": "3 ft",
                "bottom": "100 ft",
                "height": "6'-8\"",
            },
            tell,
        )
        self.filling = False
        result = widgets.VBox(
            [
                card_row,
                switches,
                self.caption,
                drawing,
                self.cautions.box,
                widgets.HTML("<h2>Schedule</h2>"),
                self.schedule,
                self.layout,
            ]
        )
        result.add_class("result")
        self.result = result
        inputs = widgets.VBox(self._groups())
        inputs.add_class("inputs")
        columns = widgets.Box([inputs, result])
        columns.add_class("columns")
        self.box = widgets.VBox([self.heading, columns])
        self.box.add_class("page")
        state.observe(
            guarded(lambda _change: self.draw(), tell), ["plan", "page", "answer", "walls", "stretch", "lit"]
        )
        state.observe(guarded(lambda _change: self._stale(), tell), "problems")

    def _groups(self) -> list[widgets.Widget]:
        state = self.state
        return [
            group(
                "Frost",
                lambda: [
                    field(state, "Frost depth", "frost.depth"),
                    field(state, "Who said so", "frost.source"),
                    field(state, "When", "frost.date"),
                    field(state, "Measured to", "frost.measured_to"),
                    field(state, "New fill counts", "frost.fill_counts"),
                    field(state, "Into undisturbed ground", "frost.into_undisturbed"),
                    field(state, "Bearing ground at level", "frost.bearing_level"),
                ],
            ),
            group(
                "Step rules",
                lambda: [
                    field(state, "Rule set", "rules.set", choices=(*rule_sets(), OWN_RULES)),
                    field(state, "Most rise of a step", "rules.rise"),
                    field(state, "Least run", "rules.run"),
                    field(state, "Most rise over run", "rules.rise_over_run"),
                    field(state, "Module of rises", "rules.module"),
                    field(state, "Stations every", "rules.station_grid"),
                    field(state, "Least distance from a corner", "rules.corner_clearance"),
                ],
                folded=True,
            ),
            self.no_steps.box,
            self.own_runs.box,
            self.wall_sizes.box,
            self.openings.box,
            group(
                "Stage and safety",
                lambda: [
                    field(state, "Stands a winter", "stage.stands_winter"),
                    field(state, "Wall tops held before backfill", "stage.deck_before_backfill"),
                    field(state, "Wall feet held before backfill", "stage.slab_before_backfill"),
                    field(state, "People in the dig protected by", "stage.dig_protection"),
                    field(state, "Coldest air at a pour", "stage.air_at_pour"),
                    field(state, "Ground or backfill is frozen", "stage.frozen_ground"),
                    field(state, "Heaters in the closed basement", "stage.temporary_heaters"),
                ],
                folded=True,
            ),
            group(
                "Forms and digging",
                lambda: [
                    field(state, "Form panel heights", "forms.heights"),
                    field(state, "Form panel widths", "forms.widths"),
                    field(state, "Tallest wall", "rules.tallest_wall"),
                    field(state, "Nothing is dug below", "digging.deepest"),
                    field(state, "Soil class of the dig", "digging.soil_class"),
                    field(state, "Dig slope, rise over run", "digging.slope"),
                    field(state, "Working room", "digging.working_room"),
                    field(state, "Dig may wander", "digging.over_dig"),
                ],
                folded=True,
            ),
            group(
                "Prices",
                lambda: [
                    field(state, "Concrete", "prices.concrete"),
                    field(state, "Forms, per contact area", "prices.forms"),
                    field(state, "Digging", "prices.digging"),
                    field(state, "Each step", "prices.step"),
                    field(state, "Day of the quote", "prices.quoted"),
                    field(state, "Who quoted", "prices.source"),
                ],
                folded=True,
            ),
        ]

    def _pick_walls(self, change: dict[str, str]) -> None:
        if not self.filling and change["new"]:
            self.state.walls = change["new"]

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
        lines = [(f"Wall {line.wall.name}, {line.wall.part}", line.wall.name) for line in plan.lines]
        return chains + lines

    def draw(self) -> None:
        """Show the plan."""
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
            self.walls.options = choices
            self.walls.value = self.state.walls
        finally:
            self.filling = False
        stepping = plan.stepping(self.state.answer)
        scene = profile_scene(
            plan, stepping, self.state.walls.split(), drawing_width(self.chart), self.state.stretch
        )
        self.caption.value = f"<h2>{scene.title}</h2>"
        self.chart.show(figure(scene, f"{self.state.walls} {self.state.stretch}"), scene.summary)
        self.own.layout.display = None if len(plan.steppings) == len(self.cards) else "none"
        for card, each in zip(self.cards, plan.steppings, strict=False):
            card.value = answer_card(plan, each, chosen=each.name == stepping.name)
        self.schedule.value = schedule_table(plan, stepping)
        self.layout.value = wall_table(plan, stepping.name) + layout_tables(plan) + assumption_list(plan)
