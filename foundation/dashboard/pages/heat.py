"""The heat page: where does the heat leave, and how much foam is worth it?"""

from __future__ import annotations

import calendar
import functools
import html
import multiprocessing
import os
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from typing import Any

import ipywidgets as widgets

from foundation import units
from foundation.dashboard.caution_panel import CautionPanel
from foundation.dashboard.chart import Click
from foundation.dashboard.drawing import Drawing
from foundation.dashboard.fields import button
from foundation.dashboard.figures import Figure
from foundation.dashboard.guard import debounced, guarded
from foundation.dashboard.heat_tables import (
    bearing_table,
    gap_table,
    loss_table,
    standards_table,
    stretch_table,
    temperature,
)
from foundation.dashboard.long_work import Cancelled, LongWork, Progress
from foundation.dashboard.pages.foam_inputs import FoamInputs
from foundation.dashboard.sizing_tables import (
    CHOICES,
    choice_cards,
    scenario_table,
    season_table,
    sizing_notes,
)
from foundation.dashboard.state import State
from foundation.drawings.developed import place_at
from foundation.drawings.foam_charts import NAMES, answers, next_inch, trade_off
from foundation.drawings.heat_charts import beside_standards, edge_heat, monthly_heat
from foundation.drawings.heat_picture import heat_scene
from foundation.drawings.profile import profile_scene
from foundation.drawings.section import section_scene
from foundation.handover.as_text import amount_text
from foundation.model.heat import ClimateUsed, HouseHeat
from foundation.model.sizing import Choice, FoamSizing, Place
from foundation.plan import Plan, PlanError
from foundation.plan.climate import climate_notices, climate_of
from foundation.plan.foam_cautions import bearings_of
from foundation.plan.frost_check import frost_check
from foundation.plan.heat import SectionView, heat_of, look_at
from foundation.studies.foam_sizing import size_foam

QUESTION = "Where does the heat leave, and how much foam is worth it?"
HOUSE_AFTER = 0.4
"""How long the page is left alone before the whole house is solved. [s]"""
MID_MONTHS = tuple((calendar.month_name[n], (n - 1) * 365 / 12) for n in range(1, 13))
"""Months, each by its middle: days after the coldest, the middle of January."""
PLACES = tuple((words, place) for place, words in NAMES.items())


class HeatPage:
    """The heat page.

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
        self.wall = widgets.Dropdown(description="Wall")
        self.station = widgets.Text(description="Station, from its first corner", continuous_update=False)
        self.month = widgets.Dropdown(description="Month", options=MID_MONTHS, value=MID_MONTHS[1][1])
        switches = widgets.HBox([self.wall, self.station, self.month])
        switches.add_class("switches")
        self.profile = Drawing(self.draw, tell, "profile")
        self.profile.on_click(guarded(self._clicked, tell))
        self.section = Drawing(self.draw, tell, "section")
        self.picture = Drawing(self.draw, tell, "heat")
        self.facts, self.gaps = widgets.HTML(), widgets.HTML()
        self.house = widgets.HTML()
        self.edges, self.months, self.standards = Figure(tell), Figure(tell), Figure(tell)
        self.standards_words = widgets.HTML()
        self.bearings, self.notices = widgets.HTML(), widgets.HTML()
        self.cautions = CautionPanel(state, tell)
        self.sizing = _Sizing(state, tell)
        self.result = widgets.VBox(
            [
                switches,
                self.section.box,
                self.facts,
                self.gaps,
                self.picture.box,
                self.profile.box,
                self.house,
                self.months.box,
                self.edges.box,
                self.sizing.box,
                self.cautions.box,
                self.standards.box,
                self.standards_words,
                self.bearings,
                self.notices,
            ]
        )
        self.result.add_class("result")
        columns = widgets.Box([FoamInputs(state, tell).box, self.result])
        columns.add_class("columns")
        self.box = widgets.VBox([widgets.HTML(f"<h1>{QUESTION}</h1>"), columns])
        self.box.add_class("page")
        self.filling = False
        self.wait = debounced(guarded(self._house, tell), HOUSE_AFTER)
        redraw = guarded(lambda _change: self.draw(), tell)
        self.wall.observe(guarded(self._picked, tell), "value")
        self.station.observe(guarded(self._typed, tell), "value")
        self.month.observe(redraw, "value")
        state.observe(redraw, ["plan", "page", "answer", "lit"])
        state.observe(guarded(lambda _change: self._stale(), tell), "problems")

    def _stale(self) -> None:
        """Grey the edge of what is shown while what is typed does not plan."""
        if self.state.problems:
            self.result.add_class("stale")
        else:
            self.result.remove_class("stale")

    def _picked(self, change: dict[str, Any]) -> None:
        plan = self.state.plan
        if not self.filling and change["new"] and plan is not None:
            self.state.light(change["new"], plan.line(change["new"]).wall.length / 2)

    def _typed(self, change: dict[str, Any]) -> None:
        plan = self.state.plan
        if self.filling or plan is None or not self.wall.value:
            return
        text = change["new"].strip()
        station = units.read(text if not text.replace(".", "").isdigit() else f"{text} ft", "length")
        length = plan.line(self.wall.value).wall.length
        if not 0 <= station <= length:
            raise ValueError(
                f"Station {text} lies beyond wall {self.wall.value}: give 0 to "
                f"{units.length(length, self.state.system)}."
            )
        self.state.light(self.wall.value, station)

    def _clicked(self, click: Click) -> None:
        plan = self.state.plan
        if plan is not None and isinstance(click.x, int | float):
            self.state.light(*place_at(plan, [self.wall.value], float(click.x)))

    def _place(self, plan: Plan) -> tuple[str, float] | None:
        """The station that is looked at: where something is lit up, else the middle of the first warm wall."""
        warm = {part.name for part in plan.project.parts if part.is_heated}
        lines = [
            line.wall
            for line in plan.lines
            if (line.wall.part in warm or line.wall.beyond in warm) and line.wall.part != line.wall.beyond
        ]
        if not lines:
            return None
        self.filling = True
        try:
            names = tuple((f"{wall.name}, {wall.part}", wall.name) for wall in lines)
            if self.wall.options != names:
                self.wall.options = names
            known = {wall.name: wall for wall in lines}
            wall, station = self.state.lit or ("", 0.0)
            if wall not in known:
                outdoors = next((wall for wall in lines if not wall.beyond), lines[0])
                wall, station = outdoors.name, outdoors.length / 2
            station = min(max(station, 0.01), known[wall].length - 0.01)
            self.wall.value = wall
            self.station.value = units.length(station, self.state.system)
        finally:
            self.filling = False
        return wall, station

    def draw(self) -> None:
        """Show the section first, then its temperatures, then the house."""
        plan, state = self.state.plan, self.state
        if plan is None or state.page != self.title:
            return  # a hidden page draws when it is turned to
        place = self._place(plan)
        if place is None:
            self.facts.value = (
                "<p>No part is heated: say so under the lot's parts, and its heat is shown here.</p>"
            )
            return
        wrong = ""
        try:
            climate = climate_of(plan.project, state.weather)
        except PlanError as error:  # the section stands all the same
            climate, wrong = None, " ".join(problem.sentence for problem in error.problems)
        view = look_at(plan, state.answer, *place, climate)
        system = state.system
        self.section.show(
            section_scene(view.section, self.section.width, view.gaps, system=system), f"{place}"
        )
        self.gaps.value = gap_table(view.gaps, system)
        self.profile.show(
            profile_scene(
                plan, plan.stepping(state.answer), [place[0]], self.profile.width, 1.0, place, None
            ),
            place[0],
        )
        if climate is None:
            self.facts.value = (
                f'<p class="wrong" role="alert">{html.escape(wrong)}</p>'
                if wrong
                else "<p>Type the degree days of a mean year, with the freezing index of the same years if you have "
                "it: temperatures and heat are shown from then on.</p>"
            )
            self.picture.box.layout.display = "none"
        else:
            self.picture.box.layout.display = None
            self._show_temperatures(view, climate, system)
        self.cautions.draw()
        self.bearings.value = bearing_table(bearings_of(plan.project))
        self.sizing.draw()
        self.notices.value = self._notices(plan, climate)
        self.wait()

    def _notices(self, plan: Plan, climate: ClimateUsed | None) -> str:
        """What to know about the climate, and the frost depth that follows from it, beside the one that holds."""
        notices = climate_notices(plan.project, self.state.weather)
        said = [notice.sentence for notice in notices if not notice.fatal]
        check = frost_check(plan.project, climate, self.state.weather) if climate is not None else None
        if check is not None:
            amounts = {name: amount_text(each, self.state.system) for name, each in check.amounts.items()}
            said.append(check.sentence.format_map(amounts))
            said += [f"▲ Assumed for it: {check.assumed}."] if check.assumed else []
        return "".join(f'<p class="notice">{html.escape(sentence)}</p>' for sentence in said)

    def _show_temperatures(self, view: SectionView, climate: ClimateUsed, system: str) -> None:
        stretch, outside = view.stretch, view.outside
        assert stretch is not None  # a climate gives both
        assert outside is not None
        mean, swing = (
            (outside.mean, outside.amplitude) if isinstance(outside, ClimateUsed) else (outside, 0.0)
        )
        scene = heat_scene(
            view.foamed,
            view.inside,
            mean,
            swing,
            float(self.month.value),
            self.picture.width,
            view.bare,
            system,
        )
        self.picture.show(scene, f"{view.section.line} {view.section.station}")
        wet = stretch.dew_margin < 0
        facts = (
            ("Section", str(view.section.situation)),
            ("Floor 1 ft inside, coldest", temperature(stretch.floor_temperature, system)),
            ("Coldest inner surface", temperature(stretch.coldest_surface, system)),
            (
                "Over the air's dew point by",
                f"{temperature_gap(stretch.dew_margin, system)}{', wet' if wet else ''}",
            ),
            ("The year", climate.source),
            ("Assumed", climate.assumed or "nothing"),
        )
        rows = "".join(
            f"<tr><th scope='row'>{html.escape(name)}</th><td>{html.escape(value)}</td></tr>"
            for name, value in facts
        )
        solver = f"Flows within {view.foamed.error * 100:.1f} %, {view.foamed.cells:,} cells."
        self.facts.value = (
            f'<table class="facts">{rows}</table><details><summary>About these numbers</summary>'
            f"<p>{solver} Heat balance closed to {view.foamed.imbalance:.0e}.</p></details>"
        )

    def _house(self) -> None:
        """Solve the whole house, after what was asked for is on the page."""
        plan, state = self.state.plan, self.state
        if plan is None or state.page != self.title:
            return
        try:
            heat: HouseHeat | None = heat_of(plan, state.answer, state.weather)
        except PlanError:  # told where the climate is shown
            heat = None
        for figure, chart in (
            (self.months, heat and monthly_heat(heat.total, state.system)),
            (self.edges, heat and edge_heat(heat, state.system)),
            (self.standards, heat and beside_standards(heat, state.system)),
        ):
            figure.show(chart or None)
        if heat is None:
            self.house.value = self.standards_words.value = ""
            return
        self.house.value = (
            f"<h2>What leaves through the ground</h2>{loss_table(heat, state.system)}"
            f"<details><summary>The edge, stretch by stretch</summary>{stretch_table(heat.stretches, state.system)}"
            "</details>"
        )
        self.standards_words.value = standards_table(heat, state.system)


def temperature_gap(value: float, system: str) -> str:
    """A difference of temperatures as it stands in a sentence.

    Parameters
    ----------
    value : float
        The difference. [K]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        With its unit.
    """
    return f"{value * 1.8:.0f} °F" if system == "us" else f"{value:.1f} K"


class _Sizing:
    """How much foam is worth it: run on demand, beside the page."""

    def __init__(self, state: State, tell: Callable[[str], object]) -> None:
        self.state, self.tell = state, tell
        self.found: FoamSizing | None = None
        self.sized: tuple[Any, ...] = ()
        self.work = LongWork("Size the foam", self._size, self._done, tell)
        self.cards = [widgets.HTML() for _ in CHOICES]
        takes = [
            button("Take this foam", functools.partial(self._take, number), tell)
            for number in range(len(CHOICES))
        ]
        boxes = [widgets.VBox([card, take]) for card, take in zip(self.cards, takes, strict=True)]
        takes[0].layout.display = "none"  # it is the project's own
        self.row = widgets.HBox(boxes)
        self.row.add_class("cards")
        self.row.add_class("roomy")
        self.place = widgets.Dropdown(description="Foam shown", options=PLACES, value=Place.UNDER_SLAB)
        shown = widgets.HBox([self.place])
        shown.add_class("switches")
        self.curve, self.inch, self.answers = Figure(tell), Figure(tell), Figure(tell)
        self.words = widgets.HTML()
        self.rest = widgets.VBox(
            [self.row, shown, self.curve.box, self.inch.box, self.answers.box, self.words]
        )
        self.place.observe(guarded(lambda _change: self._charts(), tell), "value")
        self.box = widgets.VBox(
            [widgets.HTML("<h2>How much foam is worth it</h2>"), self.work.box, self.rest]
        )
        self.rest.layout.display = "none"

    def draw(self) -> None:
        """Grey what was sized for other inputs."""
        if self.found is None:
            return
        if self.sized == (self.state.plan, self.state.answer):
            self.rest.remove_class("stale")
        else:
            self.rest.add_class("stale")
            self.work.words.value = (
                "<span role='status'>Inputs have changed since: size the foam again.</span>"
            )

    def _size(self, progress: Progress, cancelled: Cancelled) -> Any:
        plan, answer = self.state.plan, self.state.answer
        if plan is None:
            raise ValueError("There is no plan yet: type the eight entries of the first picture.")
        # Processes of their own, so that the page answers meanwhile; started afresh, since this one has threads.
        with ProcessPoolExecutor(
            max(os.cpu_count() or 1, 1), mp_context=multiprocessing.get_context("spawn")
        ) as workers:
            sizing = size_foam(plan, answer, workers, progress, cancelled, self.state.weather)
        return plan, answer, sizing

    def _done(self, result: tuple[Plan, str, FoamSizing]) -> None:
        plan, answer, self.found = result
        self.sized = (plan, answer)
        system = self.state.system
        for card, (_, _, text) in zip(self.cards, choice_cards(self.found, system), strict=True):
            card.value = text
        named = [(title, choice) for title, choice, _ in choice_cards(self.found, system)]
        tables = scenario_table(self.found, system) + season_table(named, system)
        self.words.value = tables + sizing_notes(self.found, system)
        self.answers.show(answers(self.found))
        self.rest.layout.display = None
        self._charts()
        self.draw()

    def _charts(self) -> None:
        if self.found is None:
            return
        curve = self.found.curves.get(self.place.value)
        laid = self.found.planned.foam.at(self.place.value)
        self.curve.show(
            trade_off(curve, self.state.system, planned=laid.thickness if laid else None) if curve else None
        )
        self.inch.show(next_inch(curve, self.state.system) if curve else None)

    def _take(self, number: int) -> None:
        """Put a choice's foam into the project, in every heated part."""
        if self.found is None:
            return
        choice: Choice = getattr(self.found, CHOICES[number][1])
        fields = {Place.WALL: "outside", Place.SLAB_EDGE: "slab_edge", Place.UNDER_SLAB: "under_slab"}
        edits: dict[str, Any] = {}
        plan = self.state.plan
        assert plan is not None
        for n, part in enumerate(plan.project.parts, 1):
            if not part.is_heated:
                continue
            for place, name in (*fields.items(), (Place.WING, "wing")):
                laid = choice.foam.at(place)
                path = f"parts[{n}].foam.{name}"
                if laid is None:
                    edits[path] = None
                    continue
                edits[f"{path}.board"] = laid.board
                edits[f"{path}.thickness"] = units.exact(laid.thickness, "length")
                if place is Place.WING and part.foam.wing is None:
                    edits[f"{path}.width"] = "24 in"
        self.state.edit(edits)
