"""The client's screen, opened from its notebook: how warm, how much, and what can't we add later?"""

from __future__ import annotations

import functools
import html
import multiprocessing
import os
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from foundation import units
from foundation.dashboard.client_cards import (
    CARDS,
    MADE,
    cards,
    cost_bars,
    ladder_numbers,
    waiting_cards,
    waiting_part,
)
from foundation.dashboard.client_pictures import heat_picture, outside_views
from foundation.dashboard.client_tools import ClientTools
from foundation.dashboard.client_work import PLACES, Choices, Job, Ladder, find_choices, find_ladder, job_of
from foundation.dashboard.fields import button
from foundation.dashboard.guard import guarded
from foundation.dashboard.long_work import Cancelled, LongWork, Progress
from foundation.dashboard.planner import DEMO, PROJECT, _stamp
from foundation.dashboard.preheat import import_ahead, when_page_opens
from foundation.dashboard.state import State
from foundation.handover.as_text import DISCLAIMER, initialled
from foundation.model.caution import Severity
from foundation.model.sizing import FoamSizing, Place
from foundation.project.options import BASE

QUESTION = "How warm, how much, and what can't we add later?"
NOW_OR_NEVER = (
    "<b>What can't be added later:</b> foam under the floor, at its edge and outside the walls below the ground. "
    "It goes in before the concrete and the earth."
)
ABOUT = (
    "All numbers are likely values. Heating here is only what goes out below, through floors and concrete walls; the "
    "rest of the house is taken as the same in every choice."
)
EMPTY = (
    "There is nothing to show yet. Open the builder's project with this screen "
    "(<code>foundation dashboard --client project.toml</code>), or look at the demo lot."
)
Stage = Callable[[Progress, Cancelled], Any]


def open_client() -> widgets.Widget:
    """Make the client's screen.

    In a kernel that is kept ready the screen is built before anybody asks for it; when it is opened the project is
    read again, and only then its long work begins.

    Returns
    -------
    ipywidgets.Widget
        What the notebook shows.
    """
    client = Client(State())
    when_page_opens(guarded(client.catch_up, client.tell))
    import_ahead("foundation.dashboard.pages.heat")
    return client.box


class Client:
    """The client's screen.

    Parameters
    ----------
    state : State
        The builder's project, which nothing here changes.
    """

    def __init__(self, state: State) -> None:
        self.state = state
        self.choices: Choices | None = None
        self.ladders: dict[Place, Ladder] = {}
        self.todo: list[tuple[Stage, Callable[[Any], object]]] = []
        self.seen = False
        self.stamp: tuple[float, ...] = ()
        self.title, self.trouble, self.cards, self.picture, self.cost, self.walls, self.open = (
            widgets.HTML() for _ in range(7)
        )
        self.title.add_class("client-title")
        self.tools = ClientTools(guarded(self._seen, self.tell))
        self.tools.observe(guarded(lambda _change: self._draw_heat(), self.tell), "width")
        self.work = LongWork("Work it out again", self._work, self._worked, self.tell)
        self.demo = button("Open the demo lot", self._demo, self.tell, main=True)
        self.slider = self._slider()
        forever = widgets.HTML(f"<p>{NOW_OR_NEVER}</p>")
        parts = [
            (self.tools, "tools"),
            (self.title, "head"),
            (self.trouble, "trouble"),
            (self.demo, "demo"),
            (self.work.box, "work"),
            (self.cards, "choices"),
            (forever, "forever"),
            (self.slider, "slider"),
            (self.picture, "heat"),
            (self.cost, "cost"),
            (self.walls, "walls"),
            (self.open, "open"),
            (widgets.HTML(f"<p>{ABOUT} {DISCLAIMER}</p>"), "foot"),
        ]
        for part, name in parts:
            part.add_class(f"client-{name}")
        self.box = widgets.VBox([part for part, _ in parts])
        self.box.add_class("client")
        self.open_given()

    def _slider(self) -> widgets.Box:
        """Slider and number field for the same thickness, and what the house comes to with it."""
        self.place = widgets.Dropdown(description="Foam")
        self.notch = widgets.IntSlider(description="Thinner or thicker", min=0, max=1, readout=False)
        self.thickness = widgets.BoundedFloatText(min=0.0, max=100.0)
        self.numbers, self.beside = widgets.HTML(), widgets.HTML()
        self.filling = False
        self.place.observe(guarded(lambda _change: self._fill_slider(), self.tell), "value")
        self.notch.observe(guarded(lambda _change: self._slid(), self.tell), "value")
        self.thickness.observe(guarded(self._typed, self.tell), "value")
        self.row = widgets.HBox([self.place, self.thickness, self.notch])
        self.row.add_class("client-row")
        box = widgets.VBox(
            [widgets.HTML("<h2>What more foam does</h2>"), self.row, self.numbers, self.beside]
        )
        box.layout.display = "none"
        return box

    # --- what is open ---

    def open_given(self) -> None:
        """Open what the command line named, if anything, and show what needs no long work."""
        named = os.environ.get(PROJECT)
        if named:
            self.stamp = _stamp(Path(named))
            self._open(functools.partial(self.state.open_file, Path(named)))
        elif os.environ.get(DEMO):
            self._open(self.state.open_demo)
        else:
            self._show()

    def catch_up(self) -> None:
        """Read the project again if its file has changed since the screen was built."""
        named = os.environ.get(PROJECT)
        if named and _stamp(Path(named)) != self.stamp:
            self.open_given()

    def _demo(self) -> None:
        self._open(self.state.open_demo)
        self._start()

    def _open(self, read: Callable[[], object]) -> None:
        try:
            read()
        except (ValueError, OSError):
            self._show()
            self.tell("The builder's project cannot be read: it opens in the builder's own pages first.")
            return
        self._show()

    def tell(self, words: str) -> None:
        """Put a sentence on the page; an empty one takes it away.

        Parameters
        ----------
        words : str
            Plain text.
        """
        self.trouble.value = f'<p class="wrong" role="alert">{html.escape(words)}</p>' if words else ""

    def _show(self) -> None:
        """What is known at once: the name, the walls, and the cards' places."""
        state, plan = self.state, self.state.plan
        self.choices, self.ladders, self.todo = None, {}, []
        names = [state.typed(each) for each in ("name", "place")]
        name, place = (html.escape(each) for each in names)
        where = f" · {place}" if place and place not in name else ""
        revision = f" · revision {html.escape(state.typed('revision') or 'A')}" if plan is not None else ""
        self.title.value = f"<p>{name or 'Your foundation'}{where}{revision}</p><h1>{QUESTION}</h1>"
        self.demo.layout.display = None if plan is None and not state.problems else "none"
        self.tell("")
        self.slider.layout.display = "none"
        self.picture.value = self.cost.value = self.open.value = ""
        if plan is None:
            self.cards.value = (
                "<p>The builder's project is not complete yet: the builder's own pages say what is missing.</p>"
                if state.problems
                else f"<p>{EMPTY}</p>"
            )
            self.walls.value = ""
            self.work.box.layout.display = "none"
            return
        own = tuple(option.name for option in plan.project.options)
        self.cards.value = waiting_cards(own if len(own) >= CARDS else (BASE, *own) if own else MADE)
        if job_of(state).sizes_foam:
            self.picture.value = waiting_part("A cold February: as planned, and without foam", "heat")
            self.cost.value = waiting_part("What each choice costs", "cost")
            self.numbers.value, self.beside.value = '<div class="client-numbers"><p>…</p></div>', ""
            self.place.options = ()
            self.row.add_class("resting")
            self.slider.layout.display = None
        self.walls.value = outside_views(plan, plan.stepping(state.answer))
        self.open.value = self._still_open()
        self.work.box.layout.display = None
        self._plan_work()

    def _still_open(self) -> str:
        """How many questions the office or an engineer still has to answer."""
        plan = self.state.plan
        assert plan is not None
        count = sum(
            caution.trap.severity is Severity.STOP and not initialled(caution, plan.project)
            for caution in plan.cautions[self.state.answer]
        )
        if not count:
            return ""
        points = f"{count} points are" if count > 1 else "One point is"
        return (
            f'<p class="notice"><b>{points} still open</b> with the local office or an engineer. '
            "What they decide may change this page.</p>"
        )

    # --- the long work, one stage after the other ---

    def _plan_work(self) -> None:
        job = job_of(self.state)
        self.todo = [(functools.partial(_choices, job), self._chosen)]
        if job.sizes_foam:
            self.todo += [
                (lambda *how, number=number: _ladder(job, self._sizing(), number, *how), self._laddered)
                for number in range(len(PLACES))
            ]

    def _sizing(self) -> FoamSizing | None:
        for ladder in self.ladders.values():
            return ladder.sizing
        return self.choices.sizing if self.choices is not None else None

    def _seen(self) -> None:
        if not self.seen:
            self.seen = True
            self._start()

    def _start(self) -> None:
        if self.todo:
            self.work.box.remove_class("resting")
            self.work.run()

    def _work(self, progress: Progress, cancelled: Cancelled) -> tuple[Callable[[Any], object], Any]:
        if not self.todo:
            self._plan_work()
        stage, shown = self.todo[0]
        return shown, stage(progress, cancelled)

    def _worked(self, result: tuple[Callable[[Any], object], Any]) -> None:
        shown, found = result
        self.todo.pop(0)
        shown(found)
        if self.todo:
            self.work.run()
        else:
            self.work.box.add_class("resting")

    def _chosen(self, choices: Choices) -> None:
        self.choices = choices
        self.cards.value = cards(choices.comparison, self.state.system)
        self.cost.value = cost_bars(choices.comparison)
        self.picture.value = ""
        self._draw_heat()

    def _draw_heat(self) -> None:
        if self.choices is not None and self.choices.view is not None:
            self.picture.value = heat_picture(self.choices.view, float(self.tools.width), self.state.system)

    # --- the slider ---

    def _laddered(self, ladder: Ladder) -> None:
        if ladder.place is None or len(ladder.notches) < 2:
            self.slider.layout.display = None if self.ladders else "none"
            return
        self.ladders[ladder.place] = ladder
        kept = self.place.value
        self.filling = True
        self.place.options = [(PLACES[place], place) for place in self.ladders]
        self.filling = False
        self.place.value = kept or ladder.place
        if kept is None:
            self._fill_slider()
            self.row.remove_class("resting")

    @property
    def _inch(self) -> tuple[float, str]:
        """The unit of thicknesses. [m]"""
        return (0.0254, "in") if self.state.system == "us" else (0.001, "mm")

    def _fill_slider(self) -> None:
        """The thicknesses of the place that is chosen, from the one of least cost."""
        if self.filling or self.place.value is None:
            return
        ladder, (unit, name) = self.ladders[self.place.value], self._inch
        self.filling = True
        try:
            self.notch.value = 0
            self.notch.max = len(ladder.notches) - 1
            self.notch.value = ladder.start
            self.thickness.description = f"Thickness, {name}"
            self.thickness.max = round(ladder.notches[-1].thickness / unit, 2)
            self.thickness.step = 0.5 if name == "in" else 10.0
        finally:
            self.filling = False
        self._slid()

    def _typed(self, change: dict[str, Any]) -> None:
        """Boards come in steps: the nearest thickness is taken."""
        if self.filling or self.place.value is None:
            return
        wanted = float(change["new"]) * self._inch[0]
        notches = self.ladders[self.place.value].notches
        self.notch.value = min(range(len(notches)), key=lambda at: abs(notches[at].thickness - wanted))
        self._slid()

    def _slid(self) -> None:
        if self.filling or self.place.value is None or self.choices is None:
            return
        place, system = self.place.value, self.state.system
        ladder = self.ladders[place]
        notch = ladder.notches[self.notch.value]
        self.filling = True
        try:
            self.thickness.value = round(notch.thickness / self._inch[0], 2)
        finally:
            self.filling = False
        self.numbers.value = ladder_numbers(notch.figures, self.choices.comparison, system)
        planned = ladder.sizing.planned.foam.at(place)
        has = "none" if planned is None else _thick(planned.thickness, system)
        others = (
            f'all other foam is as in "{MADE[1]}"'
            if self.choices.made
            else "all other foam is what costs least"
        )
        self.beside.value = f"<p>{PLACES[place].capitalize()} the plan has {has}. Here, {others}.</p>"


def _thick(metres: float, system: str) -> str:
    return units.inches(metres) if system == "us" else units.millimetres(metres)


def _workers() -> ProcessPoolExecutor:
    """Processes of their own, so that the page answers meanwhile; started afresh, since this one has threads."""
    return ProcessPoolExecutor(max(os.cpu_count() or 1, 1), mp_context=multiprocessing.get_context("spawn"))


def _choices(job: Job, progress: Progress, cancelled: Cancelled) -> Choices:
    with _workers() as workers:
        return find_choices(job, progress, cancelled, workers)


def _ladder(
    job: Job, sizing: FoamSizing | None, number: int, progress: Progress, cancelled: Cancelled
) -> Ladder:
    with _workers() as workers:
        return find_ladder(job, sizing, number, progress, cancelled, workers)
