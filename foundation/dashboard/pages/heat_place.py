"""Which place of which wall the heat page looks at, and in which month."""

from __future__ import annotations

import calendar
import html
from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

from foundation import units
from foundation.dashboard.chart import Click
from foundation.dashboard.guard import guarded
from foundation.dashboard.state import State
from foundation.drawings.developed import place_at
from foundation.plan import Plan

MID_MONTHS = tuple((calendar.month_name[n], (n - 1) * 365 / 12) for n in range(1, 13))
"""Months, each by its middle: days after the coldest, the middle of January. [d]"""
FROM_THE_END = 0.01
"""A section is cut no nearer to the end of a wall. [m]"""


class HeatPlace:
    """Fields for the wall, the station on it and the month.

    Parameters
    ----------
    state : State
        The page's state, whose lit place is the one that is looked at.
    tell : callable
        Puts a sentence on the page.
    """

    def __init__(self, state: State, tell: Callable[[str], object]) -> None:
        self.state = state
        self.wall = widgets.Dropdown(description="Wall")
        self.station = widgets.Text(description="Station, from its first corner", continuous_update=False)
        self.month = widgets.Dropdown(description="Month", options=MID_MONTHS, value=MID_MONTHS[1][1])
        row = widgets.HBox([self.wall, self.station, self.month])
        row.add_class("switches")
        self.message = widgets.HTML()
        self.message.add_class("field-message")
        self.box = widgets.VBox([row, self.message])
        self.filling = False
        self.written: tuple[object, ...] = ()
        self.wall.observe(guarded(self._picked, tell), "value")
        self.station.observe(guarded(self._typed, self._say), "value")

    @property
    def day(self) -> float:
        """Days after the coldest of the middle of the month that is shown. [d]"""
        return float(self.month.value)

    def _say(self, words: str) -> None:
        self.message.value = f'<p class="wrong" role="alert">{html.escape(words)}</p>' if words else ""

    def _picked(self, change: dict[str, Any]) -> None:
        plan = self.state.plan
        if not self.filling and change["new"] and plan is not None:
            self.state.light(change["new"], plan.line(change["new"]).wall.length / 2)

    def _typed(self, change: dict[str, Any]) -> None:
        plan = self.state.plan
        if self.filling or plan is None or not self.wall.value:
            return
        text = change["new"].strip()
        bare = text.replace(".", "", 1).isdigit()
        unit = "ft" if self.state.system == "us" else "m"
        station = units.read(f"{text} {unit}" if bare else text, "length")
        length = plan.line(self.wall.value).wall.length
        if not 0 <= station <= length:
            raise ValueError(
                f"Station {text} lies beyond wall {self.wall.value}: give 0 to "
                f"{units.length(length, self.state.system)}."
            )
        self.state.light(self.wall.value, station)
        self._fill(station)  # also where it was looked at already

    def _fill(self, station: float) -> None:
        self.filling = True
        try:
            self.station.value = units.length(station, self.state.system)
        finally:
            self.filling = False

    def clicked(self, click: Click) -> None:
        """Look at the place of the profile that was clicked.

        Parameters
        ----------
        click : Click
            The click.
        """
        plan = self.state.plan
        if plan is not None and isinstance(click.x, int | float):
            self.state.light(*place_at(plan, [self.wall.value], float(click.x)))

    def of(self, plan: Plan) -> tuple[str, float] | None:
        """The station that is looked at: where something is lit up, else the middle of the first warm wall.

        Parameters
        ----------
        plan : Plan
            The plan.

        Returns
        -------
        tuple of str and float, or None
            Name of the wall line and station on it [m]; None where no part is heated.
        """
        warm = {part.name for part in plan.project.parts if part.is_heated}
        lines = [
            line.wall
            for line in plan.lines
            if (line.wall.part in warm or line.wall.beyond in warm) and line.wall.part != line.wall.beyond
        ]
        if not lines:
            return None
        known = {wall.name: wall for wall in lines}
        name, station = self.state.lit or ("", 0.0)
        if name not in known:
            outdoors = next((wall for wall in lines if not wall.beyond), lines[0])
            name, station = outdoors.name, outdoors.length / 2
        station = min(max(station, FROM_THE_END), known[name].length - FROM_THE_END)
        self._write(tuple((f"{wall.name}, {wall.part}", wall.name) for wall in lines), name, station)
        return name, station

    def _write(self, options: tuple[tuple[str, str], ...], name: str, station: float) -> None:
        """Show where we are; what was typed and refused stays until the place changes."""
        shown = (options, name, station, self.state.system)
        if shown == self.written:
            return
        self.written = shown
        self.filling = True
        try:
            if self.wall.options != options:
                self.wall.options = options
            self.wall.value = name
        finally:
            self.filling = False
        self._fill(station)
        self._say("")


def inputs_of(state: State) -> tuple[object, ...]:
    """What the results of this page hang on; the units on the screen change none of them.

    Parameters
    ----------
    state : State
        The page's state.

    Returns
    -------
    tuple
        Equal for equal inputs.
    """
    project = state.plan.project.model_copy(update={"units": "us"}) if state.plan is not None else None
    return (project, state.answer, state.survey, state.weather)
