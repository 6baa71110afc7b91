"""What this machine has: versions, browser, fonts, a folder to write in, the port."""

from __future__ import annotations

import importlib.metadata
import os
import platform
import shutil
import socket
import subprocess
import tempfile
from pathlib import Path

from foundation import __version__, places

PACKAGES = (
    "voila",
    "ipykernel",
    "ipywidgets",
    "anywidget",
    "plotly",
    "numpy",
    "scipy",
    "pandas",
    "pydantic",
    "pint",
)
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome", "msedge", "firefox")


def browser() -> str | None:
    """A browser to look at the dashboard with.

    Returns
    -------
    str or None
        Path of the one named by FOUNDATION_BROWSER, else of the first that is found.
    """
    named = os.environ.get("FOUNDATION_BROWSER")
    if named:
        return named if shutil.which(named) else None
    return next((found for name in BROWSERS if (found := shutil.which(name))), None)


def report(port: int) -> tuple[list[str], bool]:
    """Look at this machine.

    Parameters
    ----------
    port : int
        The dashboard's port. [-]

    Returns
    -------
    lines : list of str
        One finding a line.
    sound : bool
        Whether the planner can run.
    """
    sound = True
    lines = [f"foundation {__version__} on Python {platform.python_version()}, {platform.system()}"]
    for name in PACKAGES:
        try:
            lines.append(f"ok       {name} {importlib.metadata.version(name)}")
        except importlib.metadata.PackageNotFoundError:
            lines.append(f"missing  {name}: set the environment up again by the README's first command")
            sound = False
    try:
        lines.append(f"ok       data in {places.data('demo').parent}")
    except FileNotFoundError as error:
        lines.append(f"missing  data: {error}")
        sound = False
    found = browser()
    lines.append(
        f"ok       browser {found}" if found else "note     no browser found; open the address by hand"
    )
    lines.append(_fonts())
    folder = places.user_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=folder):
            pass
        lines.append(f"ok       can write in {folder}")
    except OSError as error:
        lines.append(
            f"problem  cannot write in {folder}: {error.strerror}; set FOUNDATION_HOME to another folder"
        )
        sound = False
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
            lines.append(f"ok       port {port} is free")
        except OSError:
            lines.append(f"note     port {port} is taken; use foundation dashboard --port {port + 1}")
    return lines, sound


def _fonts() -> str:
    """Whether a sans font for the screen is known to the system."""
    lister = shutil.which("fc-list")
    if lister:
        known = subprocess.run([lister, ":", "family"], capture_output=True, text=True, check=False).stdout
        families = len({line for line in known.splitlines() if line})
        return (
            f"ok       {families} font families"
            if families
            else "note     no fonts; the browser draws its own"
        )
    here = [folder for folder in ("C:/Windows/Fonts", "/System/Library/Fonts") if Path(folder).is_dir()]
    return f"ok       fonts in {here[0]}" if here else "note     fonts not looked up: no fc-list here"
