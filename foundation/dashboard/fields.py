"""Fields of a page: each shows what is typed at one place of the project, and what is wrong with it."""

from __future__ import annotations

import html
import re
from collections.abc import Callable, Sequence
from typing import Any, Literal, get_args, get_origin

import ipywidgets as widgets

from foundation import units
from foundation.dashboard.guard import guarded
from foundation.dashboard.state import State
from foundation.project.check import field_at, kind_at
from foundation.project.paths import location_of, value_at

BARE = re.compile(r"^\s*[-+−]?\d+(\.\d*)?\s*$")


def field(
    state: State, label: str, paths: str | Sequence[str], unit: str = "", choices: Sequence[str] = ()
) -> widgets.Widget:
    """A field for one input, whatever its type.

    Parameters
    ----------
    state : State
        The page's state.
    label : str
        What it is called.
    paths : str or sequence of str
        The place in the project, or several that take the same text.
    unit : str
        Unit that a bare number gets, for numbers that come from a survey; "" where a unit must be typed.
    choices : sequence of str
        Names to choose from, where the schema takes any text.

    Returns
    -------
    ipywidgets.Widget
        The labelled field with room for a sentence under it.
    """
    places = [paths] if isinstance(paths, str) else list(paths)
    return _Field(state, label, places, unit, choices).box


class _Field:
    def __init__(
        self, state: State, label: str, places: list[str], unit: str, choices: Sequence[str]
    ) -> None:
        self.state, self.places, self.unit = state, places, unit
        self.schema = field_at(location_of(places[0]))
        self.choices = [(name, name) for name in choices] or _choices(self.schema)
        self.input = self._input(label)
        self.message = widgets.HTML()
        self.message.add_class("field-message")
        self.box = widgets.VBox([self.input, self.message])
        self.box.add_class("field")
        self.quiet = False
        self.input.observe(guarded(self._typed, self._tell), "value")
        state.observe(self._edited, "edits")
        self.refresh()

    def _edited(self, _change: Any) -> None:
        if self.box.comm is None:  # its page was laid out anew
            self.state.unobserve(self._edited, "edits")
        else:
            self.refresh()

    def _input(self, label: str) -> Any:
        annotation = self.schema.annotation if self.schema is not None else str
        if self.choices:
            return widgets.Dropdown(options=self.choices, description=label)
        if annotation is bool:
            return widgets.Checkbox(description=label, indent=False)
        box = widgets.Text(description=label, continuous_update=False, placeholder=self._assumed())
        if self.schema is not None and self.schema.description:
            box.tooltip = self.schema.description
        return box

    def _assumed(self) -> str:
        """What is taken while nothing is typed, marked as assumed."""
        extra = self.schema.json_schema_extra if self.schema is not None else None
        if self.schema is None or not isinstance(extra, dict) or "assumed" not in extra:
            return ""
        return (
            f"▲ {shown(self.schema.default, kind_at(location_of(self.places[0])), self.state.system)} assumed"
        )

    def _typed(self, change: Any) -> None:
        if self.quiet:
            return
        value: Any = change["new"]
        if isinstance(value, str):
            value = value.strip()
            if self.unit and BARE.match(value):
                value = f"{value} {self.unit}"
            if self._is_list():
                value = [part.strip() for part in value.split(",") if part.strip()]
            value = value if value not in ("", []) else None
        self.state.edit(dict.fromkeys(self.places, value))

    def _is_list(self) -> bool:
        return (
            getattr(self.schema.annotation, "__origin__", None) is list if self.schema is not None else False
        )

    def _tell(self, words: str) -> None:
        self.message.value = (
            f'<p class="wrong" role="alert">{html.escape(words)}</p>' if words else self._problem()
        )

    def _problem(self) -> str:
        if self.state.untouched:
            return ""  # nothing is wrong with a page that nobody has typed in
        for problem in self.state.problems:
            if any(problem.place == place or problem.place.startswith(f"{place}[") for place in self.places):
                return f'<p class="wrong" role="alert">{html.escape(problem.sentence)}</p>'
        return ""

    def refresh(self) -> None:
        """Show what stands in the project, and what is wrong with it."""
        typed = self.state.typed(self.places[0])
        self.quiet = True
        try:
            if isinstance(self.input, widgets.Checkbox):
                default = bool(self.schema.default) if self.schema is not None else False
                self.input.value = typed == "True" if typed else default
            elif isinstance(self.input, widgets.Dropdown):
                known = [value for _, value in self.input.options]
                raw = value_at(self.state.document, location_of(self.places[0]))
                value = (
                    raw if raw is not None else self.schema.default if self.schema is not None else known[0]
                )
                self.input.value = value if value in known else known[0]
            else:
                self.input.value = (
                    ", ".join(_entries(self.state, self.places[0])) if self._is_list() else typed
                )
                self.input.placeholder = self._assumed()
        finally:
            self.quiet = False
        self.message.value = self._problem()


def _entries(state: State, path: str) -> list[str]:
    value = value_at(state.document, location_of(path))
    return [str(entry) for entry in value] if isinstance(value, list) else []


def _choices(schema: Any) -> list[tuple[str, Any]]:
    """Choices of a field that has a fixed set of them; a field that may stay empty offers that first."""
    if schema is None:
        return []
    annotation = schema.annotation
    if annotation == bool | None:
        return [("by its use", None), ("yes", True), ("no", False)]
    options: list[tuple[str, Any]] = []
    parts = get_args(annotation) if get_origin(annotation) is not Literal else (annotation,)
    for part in parts:
        if get_origin(part) is Literal:
            options += [(str(value), value) for value in get_args(part)]
    if options and type(None) in parts:
        options.insert(0, ("–", None))
    return options


def shown(value: Any, kind: str | None, system: str) -> str:
    """A value as a field shows it.

    Parameters
    ----------
    value : object
        SI value, choice or list.
    kind : str or None
        Kind of quantity, None for plain text and choices.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Text with its unit.
    """
    if isinstance(value, list | tuple):
        return ", ".join(shown(entry, kind, system) for entry in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if kind == "length":
        return units.length(value, system)
    if kind is not None and kind != "date":
        return units.write(value, kind, system)
    return str(value)


def group(
    title: str,
    make: Callable[[], Sequence[widgets.Widget]],
    *,
    folded: bool = False,
    turned: dict[str, bool] | None = None,
) -> widgets.Widget:
    """Fields that belong together, under a title that folds them away.

    Parameters
    ----------
    title : str
        What they are about.
    make : callable
        Makes the fields, at most seven; called when they are first seen, since most pages are opened to look.
    folded : bool
        Whether it starts folded.
    turned : dict of str to bool, optional
        What the user has folded (False) and unfolded (True), by title, for a page that is laid out anew.

    Returns
    -------
    ipywidgets.Widget
        The group.
    """
    kept = {} if turned is None else turned
    head, inside = widgets.Button(), widgets.VBox()
    head.add_class("group-head")
    inside.add_class("group-inside")

    def show(opened: bool) -> None:
        if opened and not inside.children:
            inside.children = list(make())
        head.description = f"{'▾' if opened else '▸'} {title}"
        inside.layout.display = None if opened else "none"

    def turn(_button: Any) -> None:
        kept[title] = inside.layout.display == "none"
        show(kept[title])

    show(kept.get(title, not folded))
    head.on_click(turn)
    box = widgets.VBox([head, inside])
    box.add_class("group")
    return box


def close(widget: widgets.Widget) -> None:
    """Take a widget and all inside it off the page for good.

    Parameters
    ----------
    widget : Widget
        The widget.
    """
    for child in getattr(widget, "children", ()):
        close(child)
    widget.close()


def button(
    label: str, act: Callable[[], object], tell: Callable[[str], object], *, main: bool = False
) -> widgets.Button:
    """A button whose action is guarded.

    Parameters
    ----------
    label : str
        What it does.
    act : callable
        What it does, without arguments.
    tell : callable
        Puts a sentence on the page.
    main : bool
        True for the one that is pressed next.

    Returns
    -------
    ipywidgets.Button
        The button.
    """
    made = widgets.Button(description=label)
    made.add_class("main" if main else "plain")
    made.on_click(guarded(lambda _button: act(), tell))
    return made
