"""Lists of like entries on a page: marks, turning points, pads, stretches without steps."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import ipywidgets as widgets

from foundation.dashboard.fields import button, close, field, group
from foundation.dashboard.guard import guarded
from foundation.dashboard.state import State
from foundation.project.paths import location_of, value_at


class Records:
    """A group of fields for each entry of a list, with buttons that add one and take the last away.

    Parameters
    ----------
    state : State
        The page's state.
    title : str
        What the list is of.
    place : str
        Path of the list in the project.
    entry : str
        What one entry is called.
    fields : sequence of tuple of str
        Label, key and the unit of a bare number ("" for none) of each field.
    fresh : mapping of str to object
        What a new entry says until it is typed over.
    tell : callable
        Puts a sentence on the page.
    """

    def __init__(
        self,
        state: State,
        title: str,
        place: str,
        entry: str,
        fields: Sequence[tuple[str, str, str]],
        fresh: Mapping[str, Any],
        tell: Callable[[str], object],
    ) -> None:
        self.state, self.place, self.entry = state, place, entry
        self.fields, self.fresh, self.tell = fields, fresh, tell
        self.count = -1
        self.inside = widgets.VBox()
        self.box = group(title, self._unfold, folded=True)

    def _unfold(self) -> list[widgets.Widget]:
        self.state.observe(guarded(lambda _change: self.refresh(), self.tell), "edits")
        self.refresh()
        return [self.inside]

    def refresh(self) -> None:
        """Lay the fields out anew where entries have come or gone."""
        entries = value_at(self.state.document, location_of(self.place)) or []
        if len(entries) == self.count:
            return
        self.count = len(entries)
        children: list[widgets.Widget] = []
        for number in range(1, self.count + 1):
            children += [
                field(self.state, f"{self.entry} {number}: {label}", f"{self.place}[{number}].{key}", unit)
                for label, key, unit in self.fields
            ]
        children.append(button(f"Add a {self.entry}", self._add, self.tell))
        if self.count:
            children.append(button(f"Take the last {self.entry} away", self._drop, self.tell))
        old, self.inside.children = self.inside.children, children
        for each in old:
            close(each)

    def _add(self) -> None:
        place = f"{self.place}[{self.count + 1}]"
        self.state.edit({f"{place}.{key}": value for key, value in self.fresh.items()})

    def _drop(self) -> None:
        self.state.edit({f"{self.place}[{self.count}]": None})
