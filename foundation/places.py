"""Finds what ships with the package, in a wheel and in a checkout, and the user's own folder."""

from __future__ import annotations

import os
import sys
from pathlib import Path

PACKAGE = Path(__file__).parent
_NAME = "frost-depth-foundation"


def _shipped(folder: str, parts: tuple[str, ...]) -> Path:
    # Only beside the package that is imported: an editable install can leave stale copies in site-packages.
    places = [PACKAGE / "_share" / folder, PACKAGE.parent / folder]
    for place in places:
        path = place.joinpath(*parts)
        if not path.resolve().is_relative_to(place.resolve()):
            raise ValueError(
                f'"{"/".join(parts)}" leads out of the folder {folder}: name something inside it.'
            )
        if path.exists():
            return path
    name = "/".join((folder, *parts))
    raise FileNotFoundError(
        f'"{name}" is neither in {places[0].parent} nor in {places[1].parent}: install the package again.'
    )


def data(*parts: str) -> Path:
    """Find a file or folder of the data that ships with the package.

    Parameters
    ----------
    *parts : str
        Its path inside the folder ``data``; none for the folder itself.

    Returns
    -------
    Path
        Where it is.

    Raises
    ------
    FileNotFoundError
        If it is not there.
    ValueError
        If the path leads out of the folder.
    """
    return _shipped("data", parts)


def notebooks(*parts: str) -> Path:
    """Find a notebook that ships with the package.

    Parameters
    ----------
    *parts : str
        Its path inside the folder ``notebooks``; none for the folder itself.

    Returns
    -------
    Path
        Where it is.

    Raises
    ------
    FileNotFoundError
        If it is not there.
    ValueError
        If the path leads out of the folder.
    """
    return _shipped("notebooks", parts)


def user_folder() -> Path:
    """Find the folder for what is kept for the user between visits, and make it where it is missing.

    Returns
    -------
    Path
        What the environment variable FOUNDATION_HOME names, else the platform's usual place for such files.

    Raises
    ------
    OSError
        If it cannot be made.
    """
    named = os.environ.get("FOUNDATION_HOME", "")
    if named:
        folder = Path(named).expanduser()
    elif sys.platform == "win32":
        folder = Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local") / _NAME
    elif sys.platform == "darwin":
        folder = Path.home() / "Library" / "Application Support" / _NAME
    else:
        # A relative path there is to be ignored (XDG Base Directory Specification 0.8) [memory].
        state = Path(os.environ.get("XDG_STATE_HOME", ""))
        folder = (state if state.is_absolute() else Path.home() / ".local" / "state") / _NAME
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OSError(
            f'The folder "{folder}" cannot be made ({error.strerror}): '
            "set FOUNDATION_HOME to a folder that can be written."
        ) from error
    return folder
