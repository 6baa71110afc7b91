"""How much foam is worth it: run on demand beside the page, shown as cards, charts and tables."""

from __future__ import annotations

import functools
import multiprocessing
import os
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from typing import Any

import ipywidgets as widgets

from foundation import units
from foundation.dashboard.fields import button, group
from foundation.dashboard.figures import Figure
from foundation.dashboard.guard import guarded
from foundation.dashboard.long_work import Cancelled, LongWork, Progress, Standing
from foundation.dashboard.pages.heat_place import inputs_of
from foundation.dashboard.sizing_tables import (
    CHOICES,
    choice_cards,
    scenario_table,
    season_table,
    sizing_notes,
)
from foundation.dashboard.state import State
from foundation.drawings.foam_charts import NAMES, answers, next_inch, trade_off
from foundation.model.sizing import Choice, FoamSet, FoamSizing, Place
from foundation.project import Project
from foundation.project.paths import location_of, value_at
from foundation.studies.foam_sizing import size_foam

PLACES = tuple((words, place) for place, words in NAMES.items())
FIELDS = {
    Place.WALL: "outside",
    Place.SLAB_EDGE: "slab_edge",
    Place.UNDER_SLAB: "under_slab",
    Place.WING: "wing",
}
"""Where the project file has the foam of each place."""
WING_WIDTH = 24 * 0.0254
"""Width that the sizing gives a wing where none is planned. [m]"""


class HeatSizing:
    """The foam sizing.

    Parameters
    ----------
    state : State
        The page's state.
    tell : callable
        Puts a sentence on the page.
    """

    def __init__(self, state: State, tell: Callable[[str], object]) -> None:
        self.state = state
        self.found: FoamSizing | None = None
        self.taken: int | None = None
        self.before: dict[str, Any] = {}
        self.shown = ""
        self.work = LongWork("Size the foam", self._size, self._done, tell)
        self.cards = [widgets.HTML() for _ in CHOICES]
        self.takes = [
            button("Take this foam", functools.partial(self._take, number), tell)
            for number in range(len(CHOICES))
        ]
        boxes = [widgets.VBox([card, take]) for card, take in zip(self.cards, self.takes, strict=True)]
        row = widgets.HBox(boxes)
        row.add_class("cards")
        row.add_class("roomy")
        self.place = widgets.Dropdown(description="Foam shown", options=PLACES, value=Place.UNDER_SLAB)
        switches = widgets.HBox([self.place])
        switches.add_class("switches")
        self.curve, self.inch, self.answers = Figure(tell), Figure(tell), Figure(tell)
        self.scenarios, self.seasons, self.words = (widgets.HTML() for _ in range(3))
        self.rest = widgets.VBox(
            [
                row,
                self.answers.box,
                switches,
                self.curve.box,
                self.inch.box,
                group("For other soils and fuel prices", lambda: [self.scenarios], folded=True),
                group("By season and by degree days", lambda: [self.seasons], folded=True),
                self.words,
            ]
        )
        self.standing = Standing(self.work, self.rest, "Inputs have changed since: size the foam again.")
        self.place.observe(guarded(lambda _change: self._charts(), tell), "value")
        self.box = widgets.VBox(
            [widgets.HTML("<h2>How much foam is worth it</h2>"), self.work.box, self.rest]
        )

    def _size(self, progress: Progress, cancelled: Cancelled) -> tuple[tuple[object, ...], FoamSizing]:
        plan, answer, weather, inputs = (
            self.state.plan,
            self.state.answer,
            self.state.weather,
            inputs_of(self.state),
        )
        if plan is None:
            raise ValueError("There is no plan yet: type the eight entries of the first picture.")
        # Processes of their own, so that the page answers meanwhile; started afresh, since this one has threads.
        with ProcessPoolExecutor(
            max(os.cpu_count() or 1, 1), mp_context=multiprocessing.get_context("spawn")
        ) as workers:
            return inputs, size_foam(plan, answer, workers, progress, cancelled, weather)

    def _done(self, result: tuple[tuple[object, ...], FoamSizing]) -> None:
        inputs, self.found = result
        self.taken = None
        self.standing.made_for(inputs)
        self._show()
        self.draw()

    def draw(self) -> None:
        """Grey what was sized for other inputs."""
        if self.found is not None and self.shown != self.state.system:
            self._show()
        self.standing.compare(inputs_of(self.state))

    def _show(self) -> None:
        assert self.found is not None  # shown when there is something
        system = self.shown = self.state.system
        choices = choice_cards(self.found, system, self.taken)
        for card, (_, _, text) in zip(self.cards, choices, strict=True):
            card.value = text
        for number, take in enumerate(self.takes):
            # What the project has already cannot be taken; the foam as planned can be taken back.
            has = number == (self.taken or 0)
            take.layout.display = "none" if has else None
        self.scenarios.value = scenario_table(self.found, system)
        self.seasons.value = season_table([(title, choice) for title, choice, _ in choices], system)
        self.words.value = sizing_notes(self.found, system)
        self.answers.show(answers(self.found))
        self._charts()

    def _choice(self, number: int) -> Choice:
        choice: Choice = getattr(self.found, CHOICES[number][1])
        return choice

    def _charts(self) -> None:
        if self.found is None:
            return
        curve, system = self.found.curves.get(self.place.value), self.state.system
        laid = self.found.planned.foam.at(self.place.value)
        planned = laid.thickness if laid else None
        self.curve.show(trade_off(curve, system, planned=planned) if curve else None)
        self.inch.show(next_inch(curve, system) if curve else None, "The same, step by step")

    def _take(self, number: int) -> None:
        """Put a choice's foam into the project, in every heated part; the first one is what was planned."""
        plan = self.state.plan
        if self.found is None or plan is None:
            return
        fits = self.standing.inputs == inputs_of(self.state)
        if self.taken is None:
            self.before = typed_foam(self.state, plan.project)
        self.state.edit(edits_for(self._choice(number).foam, plan.project) if number else self.before)
        if fits and not self.state.problems:
            self.taken = number or None
            self.standing.made_for(inputs_of(self.state))
            self._show()
            self.draw()
            name = CHOICES[number][0].lower()
            self.work.say(
                f"The project has its foam {name} now." if number else "The project has its own foam again."
            )


def edits_for(foam: FoamSet, project: Project) -> dict[str, Any]:
    """What to type into a project so that every heated part has a set of foam.

    Parameters
    ----------
    foam : FoamSet
        The set.
    project : Project
        The project.

    Returns
    -------
    dict of str to object
        For each field's path its text; None takes the field out.
    """
    edits: dict[str, Any] = {}
    for number, part in enumerate(project.parts, 1):
        if not part.is_heated:
            continue
        for place, name in FIELDS.items():
            path, board = f"parts[{number}].foam.{name}", foam.at(place)
            if board is None:
                edits[path] = None
                continue
            edits[f"{path}.board"] = board.board
            edits[f"{path}.thickness"] = units.exact(board.thickness, "length")
            if place is Place.WING and part.foam.wing is None:
                edits[f"{path}.width"] = units.exact(WING_WIDTH, "length")
    return edits


def typed_foam(state: State, project: Project) -> dict[str, Any]:
    """What to type into a project to bring back the foam that it has.

    Parameters
    ----------
    state : State
        The page's state.
    project : Project
        The project.

    Returns
    -------
    dict of str to object
        For each field's path its text, after each layer is taken out.
    """
    edits: dict[str, Any] = {}
    for number, part in enumerate(project.parts, 1):
        for name in FIELDS.values() if part.is_heated else ():
            path = f"parts[{number}].foam.{name}"
            layer = value_at(state.document, location_of(path))
            edits[path] = None
            edits |= {f"{path}.{key}": str(value) for key, value in (layer or {}).items()}
    return edits
