"""The cautions of the answer that is shown: worst three first, each shows its place, each can be initialled."""

from __future__ import annotations

import datetime
import functools
from collections.abc import Callable, Iterable
from typing import Any

import ipywidgets as widgets

from foundation.cautions import worst_first
from foundation.dashboard.fields import button
from foundation.dashboard.guard import guarded
from foundation.dashboard.state import State
from foundation.dashboard.tables import caution_entry, cautions_below
from foundation.handover.as_text import initialled, place_text, tripping_number
from foundation.model.caution import Caution, Severity

NOTHING = "nothing"
SHOWN = 3
"""Cautions that are shown unfolded."""
ROLES = ("builder", "designer", "office", "engineer")


class CautionPanel:
    """The cautions of the shown answer.

    Parameters
    ----------
    state : State
        The page's state.
    tell : callable
        Puts a sentence on the page.
    more : callable, optional
        Cautions of what the page works out on demand, beside those of the plan.
    """

    def __init__(
        self,
        state: State,
        tell: Callable[[str], object],
        more: Callable[[], Iterable[Caution]] = tuple,
    ) -> None:
        self.state, self.tell, self.more_found = state, tell, more
        self.found: tuple[Caution, ...] = ()
        self.texts = [widgets.HTML() for _ in range(SHOWN)]
        places = [button("Show where", functools.partial(self._light, place), tell) for place in range(SHOWN)]
        self.slots = [widgets.HBox([text, place]) for text, place in zip(self.texts, places, strict=True)]
        for slot in self.slots:
            slot.add_class("caution-slot")
        self.more = widgets.HTML()
        self.others = widgets.Dropdown(description="Show where, of the others")
        self.others.observe(guarded(self._light_other, tell), "value")
        self.others.add_class("others")
        self.unread = widgets.Dropdown(description="STOP to initial")
        self.who = widgets.Text(description="Initials or name", continuous_update=False)
        self.role = widgets.Dropdown(description="Who you are", options=ROLES)
        self.row = widgets.HBox(
            [self.unread, self.who, self.role, button("I have read it", self._initial, tell)]
        )
        self.row.add_class("initials")
        self.box = widgets.VBox(
            [
                widgets.HTML("<h2>Cautions</h2>"),
                *self.slots,
                self.more,
                self.others,
                self.row,
            ]
        )
        self.box.add_class("cautions")

    def draw(self) -> None:
        """Show the cautions of the plan."""
        plan = self.state.plan
        if plan is None:
            return
        self.found = worst_first([*plan.cautions[self.state.answer], *self.more_found()])
        for place, (text, slot) in enumerate(zip(self.texts, self.slots, strict=True)):
            there = place < len(self.found)
            slot.layout.display = None if there else "none"
            if there:
                text.value = caution_entry(plan, self.found[place])
                slot.children[1].layout.visibility = "visible" if self.found[place].line else "hidden"
        self.more.value = (
            cautions_below(plan, self.found[SHOWN:]) if self.found else "<p>No caution on these inputs.</p>"
        )
        others = [
            (f"{caution.trap.severity.name} {place_text(caution, plan.project.units)}", number)
            for number, caution in enumerate(self.found)
            if number >= SHOWN and caution.line
        ]
        choices = ((NOTHING, -1), *others)
        if self.others.options != choices:
            self.others.options = choices
        self.others.layout.display = None if others else "none"
        unread = [
            (f"{place_text(caution, plan.project.units)}", number)
            for number, caution in enumerate(self.found)
            if caution.trap.severity is Severity.STOP and initialled(caution, plan.project) is None
        ]
        self.row.layout.display = None if unread else "none"
        if self.unread.options != tuple(unread):
            self.unread.options = unread
            self.unread.index = 0 if unread else None

    def _light(self, place: int) -> None:
        if place < len(self.found):
            caution = self.found[place]
            self.state.light(caution.line, caution.station)

    def _light_other(self, change: dict[str, Any]) -> None:
        if change["new"] is not None and change["new"] >= 0:
            self._light(change["new"])

    def _initial(self) -> None:
        who = self.who.value.strip()
        if not who:
            raise ValueError(
                "Type your initials, or the engineer's name, before you say that you have read it."
            )
        if self.unread.value is None:
            raise ValueError("Choose which STOP you have read.")
        caution = self.found[self.unread.value]
        needs_engineer = "engineer" in caution.trap.decides
        if needs_engineer and self.role.value != "engineer":
            raise ValueError(
                f"{caution.trap.decides.capitalize()} decides this one: write the engineer's name and choose engineer."
            )
        count = len(self.state.document.get("initials", ()))
        place = f"initials[{count + 1}]"
        self.state.edit(
            {
                f"{place}.caution": f"{caution.trap.key} {caution.where}",
                f"{place}.number": tripping_number(caution),
                f"{place}.who": who,
                f"{place}.date": datetime.date.today(),
                f"{place}.role": self.role.value,
            }
        )
