"""The heat page: where does the heat leave, and how much foam is worth it?"""

from __future__ import annotations

import html
from collections.abc import Callable
from contextlib import suppress

import ipywidgets as widgets

from foundation.dashboard.caution_panel import CautionPanel
from foundation.dashboard.drawing import Drawing
from foundation.dashboard.fields import group
from foundation.dashboard.guard import guarded
from foundation.dashboard.heat_tables import bearing_table, gap_table, section_facts
from foundation.dashboard.pages.foam_inputs import FoamInputs
from foundation.dashboard.pages.heat_frost import HeatShallow, HeatWinter
from foundation.dashboard.pages.heat_house import HeatHouse
from foundation.dashboard.pages.heat_place import HeatPlace
from foundation.dashboard.pages.heat_sizing import HeatSizing
from foundation.dashboard.state import State
from foundation.drawings.heat_picture import heat_scene
from foundation.drawings.profile import profile_scene
from foundation.drawings.section import section_scene
from foundation.handover.as_text import amount_text
from foundation.model.heat import ClimateUsed
from foundation.model.problem import Problem
from foundation.plan import Plan, PlanError
from foundation.plan.climate import climate_notices, climate_of
from foundation.plan.foam_cautions import bearings_of
from foundation.plan.frost_check import frost_check
from foundation.plan.heat import SectionView, look_at

QUESTION = "Where does the heat leave, and how much foam is worth it?"
NO_PLAN = (
    "There is no plan to cut yet: type the eight entries on the Lot page first, or open the demo lot. "
    "The section is drawn from then on."
)
NO_HEAT = (
    "No part is heated, so no heat is lost: say on the Lot page which part is heated, and its sections and their heat "
    "are shown here."
)
NO_CLIMATE = (
    "Temperatures and heat need a climate: type the degree days of a mean year under Climate, with the freezing index "
    "of the same years if you have it."
)
LAST_YEAR = "Temperatures and heat are shown with the last climate that made a year."
INPUTS = "heat-inputs"
"""Where the fields are, on a phone far below the drawings."""
WIDER = 8
"""A drawing is drawn anew when its width changes by so much. [px]"""


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
        self.state, self.title = state, title
        self.climate: ClimateUsed | None = None
        self.sound = False
        self.view: SectionView | None = None
        self.inputs = FoamInputs(state, tell)
        self.place = HeatPlace(state, tell)
        self.section, self.profile, self.picture = (
            Drawing(self._widened, tell, name) for name in ("section", "profile", "heat")
        )
        self.profile.on_click(guarded(self.place.clicked, tell))
        self.widths: tuple[float, ...] = ()
        self.first, self.year, self.facts, self.frost = (widgets.HTML() for _ in range(4))
        self.gaps, self.bearings = widgets.HTML(), widgets.HTML()
        self.house = HeatHouse(state, tell)
        self.sizing = HeatSizing(state, tell)
        self.winter, self.shallow = HeatWinter(state, tell), HeatShallow(state, tell)
        self.cautions = CautionPanel(state, tell)
        self.warm = widgets.VBox([self.picture.box, self.facts])
        self.all = widgets.VBox([self.house.box, self.sizing.box])
        self.cold = widgets.VBox([self.winter.box, self.frost])
        hint = widgets.HTML('<p class="quiet">Click on the wall to cut it there.</p>')
        to_inputs = widgets.HTML(f'<a class="to-inputs" href="#{INPUTS}">Change foam and climate</a>')
        self.parts = (
            self.place.box,
            to_inputs,
            self.section.box,
            group("Breaks in the insulation line", lambda: [self.gaps], folded=True),
            self.year,
            self.warm,
            widgets.VBox([self.profile.box, hint]),
            self.cold,
            self.all,
            self.shallow.box,
            group("What the foam under the slabs bears", lambda: [self.bearings], folded=True),
            self.house.opinions,
            self.cautions.box,
        )
        self.result = widgets.VBox([self.first])
        self.result.add_class("result")
        self.result.add_class("in-order")
        column = widgets.VBox([widgets.HTML(f'<span id="{INPUTS}"></span>'), self.inputs.box])
        columns = widgets.Box([column, self.result])
        columns.add_class("columns")
        self.box = widgets.VBox([widgets.HTML(f"<h1>{QUESTION}</h1>"), columns])
        self.box.add_class("page")
        self.place.month.observe(guarded(lambda _change: self._show_picture(), tell), "value")
        state.observe(guarded(lambda _change: self.draw(), tell), ["plan", "page", "answer", "lit"])
        state.observe(guarded(lambda _change: self._mark(), tell), "problems")

    def _widened(self) -> None:
        """Place the texts anew where the page has given a drawing another width."""
        if any(abs(new - old) >= WIDER for new, old in zip(self._widths(), self.widths, strict=False)):
            self.draw()

    def _widths(self) -> tuple[float, ...]:
        return tuple(each.width for each in (self.section, self.profile, self.picture))

    def _mark(self, bad_year: bool = False) -> None:
        """Grey the edge of what is shown while what is typed does not plan, or makes no year."""
        if self.state.problems or bad_year:
            self.result.add_class("stale")
        else:
            self.result.remove_class("stale")

    def draw(self) -> None:
        """Show the section first, then its temperatures, then the house."""
        plan = self.state.plan
        if plan is None:  # another project is being opened
            self.climate = None
            for each in (self.sizing, self.winter, self.shallow):
                each.standing.forget()
        if self.state.page != self.title:
            return  # a hidden page draws when it is turned to
        where = self.place.of(plan) if plan is not None else None
        if plan is None or where is None:
            self.first.value = f'<p class="welcome">{NO_PLAN if plan is None else NO_HEAT}</p>'
            self.result.children = (self.first,)
            return
        if self.result.children != self.parts:
            self.result.children = self.parts
        self.widths = self._widths()
        climate = self._climate(plan)
        self._show_section(plan, where, climate)
        for box in (self.warm, self.cold, self.all, self.shallow.box):
            box.layout.display = None if climate else "none"
        if climate is not None:
            self._show_picture()
            self.frost.value = self._frost(plan, climate)
            if self.sound:
                self.house.draw()
            self.sizing.draw()
            self.winter.draw(*where)
            self.shallow.draw(where[0])
        self.bearings.value = bearing_table(bearings_of(plan.project))
        self.cautions.draw()

    def _climate(self, plan: Plan) -> ClimateUsed | None:
        """The year outdoors, else the last one that was sound, with what there is to say about it at its fields."""
        notices = climate_notices(plan.project, self.state.weather)
        wrong = [notice for notice in notices if notice.fatal]
        self.sound = not wrong
        if self.sound:
            self.climate = climate_of(plan.project, self.state.weather)
        self.inputs.say(notices)
        self._mark(bool(wrong))
        said = [_sentence(notice) for notice in notices]
        if wrong and self.climate is not None:
            said.append(f'<p class="quiet">{LAST_YEAR}</p>')
        if not wrong and self.climate is None:
            said.append(f'<p class="welcome">{NO_CLIMATE}</p>')
        self.year.value = "".join(said)
        return self.climate

    def _show_section(self, plan: Plan, where: tuple[str, float], climate: ClimateUsed | None) -> None:
        state, system = self.state, self.state.system
        view = self.view = look_at(plan, state.answer, *where, climate)
        scene = section_scene(view.section, self.section.width, view.gaps, system=system)
        self.section.show(scene, f"{where}")
        stepping = plan.stepping(state.answer)
        self.profile.show(
            profile_scene(plan, stepping, [where[0]], self.profile.width, 1.0, where, None), where[0]
        )
        self.gaps.value = gap_table(view.gaps, system)

    def _show_picture(self) -> None:
        """Temperatures of the section, in the month that is chosen."""
        view, climate, system = self.view, self.climate, self.state.system
        if view is None or climate is None or view.stretch is None or view.outside is None:
            return
        outside = view.outside
        mean, swing = (
            (outside.mean, outside.amplitude) if isinstance(outside, ClimateUsed) else (outside, 0.0)
        )
        scene = heat_scene(
            view.foamed, view.inside, mean, swing, self.place.day, self.picture.width, view.bare, system
        )
        self.picture.show(scene, f"{view.section.line} {view.section.station}")
        self.facts.value = section_facts(view.stretch, view.foamed, climate, system)

    def _frost(self, plan: Plan, climate: ClimateUsed) -> str:
        """The frost depth that follows from the climate, beside the one that holds."""
        check = None
        with suppress(PlanError):  # told where the climate is
            check = frost_check(plan.project, climate, self.state.weather)
        if check is None:
            return ""
        amounts = {name: amount_text(each, self.state.system) for name, each in check.amounts.items()}
        words = check.sentence.format_map(amounts)
        assumed = f" ▲ Assumed for it: {check.assumed}." if check.assumed else ""
        return f'<p class="notice">{html.escape(words + assumed)}</p>'


def _sentence(notice: Problem) -> str:
    kind = 'class="wrong" role="alert"' if notice.fatal else 'class="notice"'
    return f"<p {kind}>{html.escape(notice.sentence)}</p>"
