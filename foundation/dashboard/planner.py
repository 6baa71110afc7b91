"""The whole page: a strip that says what is open, and the pages in the order of the work."""

from __future__ import annotations

import base64
import functools
import html
import importlib
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any, Protocol

import ipywidgets as widgets

from foundation import __version__
from foundation.dashboard.fields import button, field
from foundation.dashboard.guard import guarded
from foundation.dashboard.pages import footings, lot
from foundation.dashboard.state import State
from foundation.handover.as_text import DISCLAIMER

PROJECT = "FOUNDATION_PROJECT"
"""Environment variable that names the project file to open."""
DEMO = "FOUNDATION_DEMO"
"""Environment variable that opens the demo lot."""


HEAT, FLOORS, ORDER = "Heat and foam", "Warm floors", "Order"
CHOICES, HAND_OVER = "Choices", "Hand over"
LATER = {
    HEAT: ("heat", "HeatPage"),
    FLOORS: ("floors", "FloorsPage"),
    ORDER: ("order", "OrderPage"),
    CHOICES: ("choices", "ChoicesPage"),
    HAND_OVER: ("hand_over", "HandOverPage"),
}
"""Pages whose modules are read when they are first turned to: their solvers take long to import."""


def _later(title: str, state: State, tell: Callable[[str], object]) -> Page:
    module, name = LATER[title]
    found = importlib.import_module(f"foundation.dashboard.pages.{module}")
    page: Page = getattr(found, name)(state, tell, title)
    return page


class Page(Protocol):
    """One page of the planner."""

    box: widgets.Box


class Planner:
    """The whole page.

    Parameters
    ----------
    state : State
        The visitor's project.
    """

    def __init__(self, state: State) -> None:
        self.state = state
        self.trouble = widgets.HTML()
        self.trouble.add_class("trouble")
        self.title = widgets.HTML()
        self.title.add_class("title")
        self.download = widgets.HTML()
        self.makers: dict[str, Callable[[State, Callable[[str], object]], Page]] = {
            lot.TITLE: lot.LotPage,
            footings.TITLE: footings.FootingsPage,
            **{title: functools.partial(_later, title) for title in LATER},
        }
        self.pages: dict[str, Page] = {}
        self.tabs = [
            button(title, functools.partial(self.turn_to, title), self.tell) for title in self.makers
        ]
        upload = widgets.FileUpload(description="Open a project", accept=".toml,.csv", multiple=True)
        upload.observe(guarded(self._uploaded, self.tell), "value")
        self.save = button("Save", lambda: self.tell_well(state.save()), self.tell, main=True)
        tools = widgets.HBox(
            [
                field(state, "Units", "units"),
                upload,
                self.save,
                self.download,
                button("Open the demo lot", self._demo, self.tell),
            ]
        )
        tools.add_class("tools")
        tabs = widgets.HBox(self.tabs)
        tabs.add_class("tabs")
        strip = widgets.VBox([widgets.HBox([self.title, tools]), tabs])
        strip.add_class("strip")
        self.welcome = widgets.HTML(
            '<p class="welcome">Type the eight entries of the first picture, or open the demo lot or a project. '
            "Levels take decimal feet, feet and inches, or metres, always with their unit.</p>"
        )
        footer = widgets.HTML(f'<p class="disclaimer">{DISCLAIMER}</p>')
        self.box = widgets.VBox([strip, self.trouble, self.welcome, footer])
        self.box.add_class("planner")
        state.observe(guarded(lambda _change: self.refresh(), self.tell), ["edits", "saved"])
        self.stamp: tuple[float, ...] = ()
        self.refresh()
        self._open_given()
        if not self.pages:
            self.turn_to(lot.TITLE)

    def _open_given(self) -> None:
        """Open what the command line named, if anything."""
        named = os.environ.get(PROJECT)
        if not named:
            if os.environ.get(DEMO):
                self._demo()
            return
        self.stamp = _stamp(Path(named))
        try:
            self.state.open_file(Path(named))
        except (ValueError, OSError) as error:
            self.tell(str(error))
            return
        if self.state.plan is not None:
            self.turn_to(footings.TITLE)

    def catch_up(self) -> None:
        """Read the project again if its file has changed since the page was built."""
        named = os.environ.get(PROJECT)
        if named and _stamp(Path(named)) != self.stamp:
            self._open_given()
            self.refresh()

    def _demo(self) -> None:
        self.state.open_demo()
        self.turn_to(footings.TITLE)

    def _uploaded(self, change: dict[str, Any]) -> None:
        texts: dict[str, str] = {}
        for upload in change["new"]:
            try:
                texts[str(upload["name"])] = bytes(upload["content"]).decode("utf-8-sig")
            except UnicodeDecodeError:
                raise ValueError(f"{upload['name']} is not plain text.") from None
        projects = [name for name in texts if name.endswith(".toml")]
        if not texts:
            return
        if len(projects) != 1:
            raise ValueError(
                "Choose one project file (.toml), with its shot and weather files (.csv) if it has any."
            )
        text = texts.pop(projects[0])
        # A weather file goes by the name that the project gives it; the other one is the shots.
        weather = next(
            (name for name in texts if f'"{name}"' in text and "weather" in _line_of(text, name)), ""
        )
        shots = [content for name, content in texts.items() if name != weather]
        self.state.open_text(text, shots[0] if shots else "", weather=texts.get(weather, ""))

    def turn_to(self, title: str) -> None:
        """Show one page.

        Parameters
        ----------
        title : str
            Its title.
        """
        if title not in self.pages:  # made when it is first turned to: most visits see one page
            self.pages[title] = self.makers[title](self.state, self.tell)
            *others, footer = self.box.children
            self.box.children = (*others, self.pages[title].box, footer)
        self.state.page = title
        for name, page in self.pages.items():
            page.box.layout.display = None if name == title else "none"
        for name, tab in zip(self.makers, self.tabs, strict=True):
            if name == title:
                tab.add_class("current")
            else:
                tab.remove_class("current")

    def tell(self, words: str) -> None:
        """Put a sentence on the page; an empty one takes it away.

        Parameters
        ----------
        words : str
            Plain text.
        """
        self.trouble.value = (
            f'<p class="wrong" role="alert">{html.escape(words)}</p>' if words else self._problems()
        )

    def tell_well(self, words: str) -> None:
        """Say that something went well.

        Parameters
        ----------
        words : str
            Plain text.
        """
        self.title.value = self._title(words)

    def _problems(self) -> str:
        """Problems that belong to no field of the open pages, or all of them in short."""
        if self.state.untouched or not self.state.problems:
            return ""
        count = len(self.state.problems)
        words = "".join(f"<li>{html.escape(problem.sentence)}</li>" for problem in self.state.problems[:5])
        more = f"<li>and {count - 5} more</li>" if count > 5 else ""
        lead = (
            "What is shown is the last plan that worked."
            if self.state.plan is not None
            else "Not enough to plan yet."
        )
        return f'<div class="wrong" role="status"><b>{lead}</b><ul>{words}{more}</ul></div>'

    def refresh(self) -> None:
        """Show what is open and whether it is saved."""
        state = self.state
        self.title.value = self._title()
        self.trouble.value = self._problems()
        self.save.disabled = state.path is None
        link = f"data:application/toml;base64,{base64.b64encode(state.text().encode()).decode()}"
        self.download.value = f'<a class="download" download="project.toml" href="{link}">Download</a>'
        self.welcome.layout.display = None if state.untouched else "none"

    def _title(self, words: str = "") -> str:
        state = self.state
        name = html.escape(state.typed("name") or "New job")
        place = html.escape(state.typed("place"))
        revision = html.escape(state.typed("revision") or "A")
        saved = words or ("saved" if state.saved else "not saved")
        where = f" · {place}" if place and place not in name else ""
        return (
            f"<b>{name}</b>{where} · revision {revision} · "
            f'<span class="{"calm" if state.saved else "unsaved"}">{html.escape(saved)}</span>'
            f" <small>planner {__version__}</small>"
        )


def _stamp(path: Path) -> tuple[float, ...]:
    """When a project file and the shot files beside it last changed; empty while there is no file."""
    try:
        return tuple(file.stat().st_mtime for file in (path, *sorted(path.parent.glob("*.csv"))))
    except OSError:
        return ()


def _line_of(text: str, name: str) -> str:
    """The line of a project file that names another file."""
    return next((line for line in text.splitlines() if f'"{name}"' in line), "")
