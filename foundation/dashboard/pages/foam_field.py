"""One layer of foam as a field: the type of board and, beside it, one of its stock thicknesses."""

from __future__ import annotations

import html
from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

from foundation import units
from foundation.dashboard.guard import guarded
from foundation.dashboard.state import State
from foundation.foam.boards import board_types
from foundation.project.paths import location_of, value_at

NO_FOAM = "no foam"
USUAL_BOARD, USUAL = "XPS IV", 2 * 0.0254
"""Board and thickness that come first. [-, m]"""


class FoamField:
    """One layer of foam: the type of board and, beside it, one of its stock thicknesses.

    Parameters
    ----------
    state : State
        The page's state.
    label : str
        Where the foam lies.
    path : str
        Path of the layer in the project.
    tell : callable
        Puts a sentence on the page.
    """

    def __init__(self, state: State, label: str, path: str, tell: Callable[[str], object]) -> None:
        self.state, self.path = state, path
        self.quiet = False
        self.board = widgets.Dropdown(description=label, options=(NO_FOAM, *board_types()))
        self.thickness = widgets.Dropdown(description=f"{label}, thickness")
        pair = widgets.HBox([self.board, self.thickness])
        pair.add_class("foam-pair")
        self.message = widgets.HTML()
        self.message.add_class("field-message")
        self.box = widgets.VBox([pair, self.message])
        self.box.add_class("field")
        self.board.observe(guarded(self._board_chosen, tell), "value")
        self.thickness.observe(guarded(self._thickness_chosen, tell), "value")
        self.quietly = guarded(lambda _change: self.refresh(), tell)
        state.observe(self.quietly, "edits")
        self.refresh()

    def _typed(self, key: str) -> Any:
        return value_at(self.state.document, location_of(f"{self.path}.{key}"))

    def _board_chosen(self, change: dict[str, Any]) -> None:
        if self.quiet:
            return
        if change["new"] == NO_FOAM:
            self.state.edit({self.path: None})
            return
        edits: dict[str, Any] = {f"{self.path}.board": change["new"]}
        if self._typed("thickness") is None:
            edits[f"{self.path}.thickness"] = units.exact(usual_thickness(change["new"]), "length")
        self.state.edit(edits)

    def _thickness_chosen(self, change: dict[str, Any]) -> None:
        if not self.quiet and change["new"]:
            self.state.edit({f"{self.path}.thickness": change["new"]})

    def refresh(self) -> None:
        """Show what stands in the project, and what is wrong with it."""
        if self.box.comm is None:  # its page was laid out anew
            self.state.unobserve(self.quietly, "edits")
            return
        self.quiet = True
        try:
            typed = self._typed("thickness")
            board = str(self._typed("board") or (USUAL_BOARD if typed else NO_FOAM))
            known = (NO_FOAM, *board_types())
            boards = known if board in known else (*known, board)  # a name typed in the file is not lost
            if self.board.options != boards:
                self.board.options = boards
            self.board.value = board
            choices = stock_thicknesses(board, self.state.system)
            value = None if typed is None else as_written(str(typed))
            if value is not None and value not in [text for _, text in choices]:
                choices.append((str(typed), value))  # typed in the file, no stock board
            if self.thickness.options != tuple(choices):
                self.thickness.options = choices
            self.thickness.value = value
            self.thickness.layout.display = None if typed is not None else "none"
        finally:
            self.quiet = False
        self.message.value = "".join(
            f'<p class="wrong" role="alert">{html.escape(problem.sentence)}</p>'
            for problem in self.state.problems
            if problem.place == self.path
            or problem.place.startswith((f"{self.path}.board", f"{self.path}.thick"))
        )


def usual_thickness(board: str) -> float:
    """Thickness that a board is first given: the one in stock that is nearest to the usual.

    Parameters
    ----------
    board : str
        Name of the board's type.

    Returns
    -------
    float
        The thickness. [m]

    Examples
    --------
    >>> round(usual_thickness("XPS IV") / 0.0254, 3)
    2.0
    """
    return min(board_types()[board].thicknesses, key=lambda thickness: abs(thickness - USUAL))


def stock_thicknesses(board: str, system: str) -> list[tuple[str, str]]:
    """The thicknesses that a board is sold in.

    Parameters
    ----------
    board : str
        Name of the board's type; an unknown one is sold in none.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    list of tuple of str
        As it is read, and as the project file has it.
    """
    stock = board_types()[board].thicknesses if board in board_types() else ()
    show = units.inches if system == "us" else units.millimetres
    return [(show(each), units.exact(each, "length")) for each in stock]


def as_written(typed: str) -> str:
    """A thickness as the project file would have it from this page.

    Parameters
    ----------
    typed : str
        As it was typed.

    Returns
    -------
    str
        The same thickness in the one spelling; what is no length stays as it is.

    Examples
    --------
    >>> as_written("2 in") == as_written('2"'), as_written("thick")
    (True, 'thick')
    """
    try:
        return units.exact(units.read(typed, "length"), "length")
    except units.UnitsError:
        return typed
