"""Frost at the footing: the design winter at the section, and a shallow footing that foam protects."""

from __future__ import annotations

import html
from collections.abc import Callable
from contextlib import suppress

import ipywidgets as widgets

from foundation.dashboard.drawing import Drawing
from foundation.dashboard.frost_tables import shallow_table, winter_facts
from foundation.dashboard.long_work import Cancelled, LongWork, Progress, Standing
from foundation.dashboard.pages.heat_place import inputs_of
from foundation.dashboard.state import State
from foundation.drawings.winter_picture import winter_scene
from foundation.handover.as_text import amount_text
from foundation.model.winter import DesignWinter, ShallowAlternative
from foundation.plan import PlanError
from foundation.plan.shallow import shallow_alternative
from foundation.plan.winter import no_winter, winter_at

NO_PLAN = "There is no plan yet: type the eight entries of the first picture."


class HeatWinter:
    """What the design winter freezes at the section that is looked at.

    Parameters
    ----------
    state : State
        The page's state.
    tell : callable
        Puts a sentence on the page.
    """

    def __init__(self, state: State, tell: Callable[[str], object]) -> None:
        self.state = state
        self.where: tuple[str, float] = ("", 0.0)
        self.found: DesignWinter | None = None
        self.work = LongWork("Run the design winter", self._run, self._done, tell)
        self.why = widgets.HTML()
        self.picture = Drawing(self._show, tell, "design-winter")
        self.facts = widgets.HTML()
        rest = widgets.VBox([self.picture.box, self.facts])
        self.standing = Standing(self.work, rest, "This was another place or other inputs: run it again.")
        self.box = widgets.VBox(
            [widgets.HTML("<h2>Frost at the footing</h2>"), self.why, self.work.box, rest]
        )

    def draw(self, line: str, station: float) -> None:
        """Say whether there is a design winter at a place, and whether the one that is shown is its own.

        Parameters
        ----------
        line : str
            Name of the wall line.
        station : float
            Station on it. [m]
        """
        plan = self.state.plan
        self.where = (line, station)
        why = ""
        if plan is not None:
            with suppress(PlanError):  # told where the climate is
                why = no_winter(plan, line, self.state.weather)
        self.why.value = f'<p class="quiet">{html.escape(why)}</p>' if why else ""
        self.work.box.layout.display = "none" if why else None
        self.standing.compare((*inputs_of(self.state), self.where))
        self._show()

    def _run(
        self, progress: Progress, _cancelled: Cancelled
    ) -> tuple[tuple[object, ...], DesignWinter | None]:
        plan, inputs = self.state.plan, (*inputs_of(self.state), self.where)
        if plan is None:
            raise ValueError(NO_PLAN)
        progress(0.5, "Freezing the ground day by day.")
        return inputs, winter_at(plan, self.state.answer, *self.where, self.state.weather)

    def _done(self, result: tuple[tuple[object, ...], DesignWinter | None]) -> None:
        inputs, self.found = result
        if self.found is not None:
            self.standing.made_for(inputs)
            self._show()
        self.standing.compare((*inputs_of(self.state), self.where))

    def _show(self) -> None:
        plan, found, system = self.state.plan, self.found, self.state.system
        if found is None or plan is None:
            return
        scene = winter_scene(found, self.picture.width, system, plan.project.frost.depth)
        self.picture.show(scene, f"{found.section.line} {found.section.station}")
        self.facts.value = winter_facts(found, system)


class HeatShallow:
    """The frost-protected shallow footing along the wall that is looked at, beside the planned one.

    Parameters
    ----------
    state : State
        The page's state.
    tell : callable
        Puts a sentence on the page.
    """

    def __init__(self, state: State, tell: Callable[[str], object]) -> None:
        self.state = state
        self.line = ""
        self.found: ShallowAlternative | None = None
        self.shown = ""
        self.work = LongWork("Price a frost-protected footing", self._run, self._done, tell)
        self.words = widgets.HTML()
        rest = widgets.VBox([self.words])
        self.standing = Standing(self.work, rest, "This was another wall or other inputs: price it again.")
        self.box = widgets.VBox(
            [widgets.HTML("<h2>A shallow footing that foam keeps from frost</h2>"), self.work.box, rest]
        )

    def draw(self, line: str) -> None:
        """Say whether what is shown is that of a wall.

        Parameters
        ----------
        line : str
            Name of the wall line.
        """
        self.line = line
        self.standing.compare((*inputs_of(self.state), line))
        if self.found is not None and self.shown != self.state.system:
            self._show()

    def _run(self, progress: Progress, cancelled: Cancelled) -> tuple[tuple[object, ...], ShallowAlternative]:
        plan, state, line = self.state.plan, self.state, self.line
        if plan is None:
            raise ValueError(NO_PLAN)
        inputs = (*inputs_of(state), line)
        return inputs, shallow_alternative(plan, state.answer, line, state.weather, progress, cancelled)

    def _done(self, result: tuple[tuple[object, ...], ShallowAlternative]) -> None:
        inputs, self.found = result
        self.standing.made_for(inputs)
        self._show()
        self.standing.compare((*inputs_of(self.state), self.line))

    def _show(self) -> None:
        found, system = self.found, self.state.system
        if found is None:
            return
        self.shown = system
        amounts = {name: amount_text(each, system) for name, each in found.amounts.items()}
        sentence = f"<p><b>{html.escape(found.sentence.format_map(amounts))}</b></p>"
        cautions = "".join(f"<li>{html.escape(caution)}</li>" for caution in found.cautions)
        table = shallow_table(found, system) if found.design is not None else ""
        self.words.value = sentence + table + (f"<ul>{cautions}</ul>" if cautions else "")
