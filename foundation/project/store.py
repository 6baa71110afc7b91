"""Project files: read, edited with their comments kept, saved whole or not at all."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import tomlkit
import tomlkit.exceptions

from foundation import files
from foundation.model.problem import Problem
from foundation.project.check import check
from foundation.project.paths import location_of
from foundation.project.schema import Project


class ProjectError(ValueError):
    """A project file that nothing can be planned from.

    Parameters
    ----------
    file : str
        Name of the file.
    problems : sequence of Problem
        All that is wrong with it.
    """

    def __init__(self, file: str, problems: Sequence[Problem]) -> None:
        self.file = file
        self.problems = tuple(problems)
        super().__init__("\n".join(f"{file}: {problem.sentence}" for problem in problems))


@dataclass(frozen=True)
class Job:
    """A project as read from disk.

    Attributes
    ----------
    project : Project
        Its inputs.
    survey : str
        Text of its shot file, "" where it names none.
    weather : str
        Text of its weather file, "" where it names none.
    """

    project: Project
    survey: str = ""
    weather: str = ""


def load(path: Path) -> Job:
    """Read a project file and the shot and weather files beside it.

    Parameters
    ----------
    path : Path
        The project file.

    Returns
    -------
    Job
        The project, its survey and its weather.

    Raises
    ------
    ProjectError
        If it cannot be read; all that is wrong with it comes together.
    """
    name = Path(path).name
    try:
        document = tomllib.loads(files.read_text(path))
    except tomllib.TOMLDecodeError as error:
        raise ProjectError(name, [Problem("", "", f"not readable as TOML: {error}.")]) from None
    except (OSError, ValueError) as error:
        raise ProjectError(name, [Problem("", "", str(error))]) from None
    project, problems = check(document)
    if project is None:
        raise ProjectError(name, problems)
    folder = Path(path).parent
    return Job(project, survey_text(project, folder, name), weather_text(project, folder, name))


def survey_text(project: Project, folder: Path, name: str) -> str:
    """Text of the shot file that a project names.

    Parameters
    ----------
    project : Project
        The project.
    folder : Path
        The project file's folder; shot files lie beside it.
    name : str
        The project file's name, for the error.

    Returns
    -------
    str
        The text, "" where the project names no shot file.

    Raises
    ------
    ProjectError
        If the file cannot be read.
    """
    return _text_beside("ground.shots", project.ground.shots, folder, name)


def weather_text(project: Project, folder: Path, name: str) -> str:
    """Text of the weather file that a project names.

    Parameters
    ----------
    project : Project
        The project.
    folder : Path
        The project file's folder; weather files lie beside it.
    name : str
        The project file's name, for the error.

    Returns
    -------
    str
        The text, "" where the project names no weather file.

    Raises
    ------
    ProjectError
        If the file cannot be read.
    """
    return _text_beside("climate.weather", project.climate.weather, folder, name)


def _text_beside(place: str, file: str, folder: Path, name: str) -> str:
    if not file:
        return ""
    try:
        return files.read_text(folder / file)
    except (OSError, ValueError) as error:
        raise ProjectError(name, [Problem(place, file, f"{place}: {error}")]) from None


def read_document(text: str) -> tomlkit.TOMLDocument:
    """A project file's text as tables that keep their comments and order.

    Parameters
    ----------
    text : str
        The file's text.

    Returns
    -------
    tomlkit.TOMLDocument
        The tables.

    Raises
    ------
    ValueError
        If the text is not TOML; the sentence says where.
    """
    try:
        return tomlkit.parse(text)
    except tomlkit.exceptions.ParseError as error:
        raise ValueError(f"not readable as TOML: {error}.") from None


def set_value(document: tomlkit.TOMLDocument, path: str, value: Any) -> None:
    """Put a value at a path, making the tables on the way; None takes the key out.

    Parameters
    ----------
    document : tomlkit.TOMLDocument
        Changed in place; comments and order stay.
    path : str
        Such as ``parts[1].wall_top``; a list's next free position adds an entry.
    value : object
        What is typed there: text, a truth value, a number, a list or a table; None to take it out.

    Raises
    ------
    KeyError
        If the path leads through something that is no table, or past the end of a list.
    """
    location = location_of(path)
    last = location[-1]
    here: Any = document
    for key, following in zip(location[:-1], location[1:], strict=True):
        if isinstance(key, int):
            if key == len(here):
                here.append(tomlkit.table())
            if not 0 <= key < len(here):
                raise KeyError(f"{path}: there is no entry {key + 1}.")
        elif key not in here:
            here[key] = tomlkit.aot() if isinstance(following, int) else tomlkit.table()
        here = here[key]
    if value is None:
        if isinstance(last, int) or last in here:
            del here[last]
    elif isinstance(last, int) and last == len(here):
        here.append(value)
    else:
        here[last] = value


def save(path: Path, document: tomlkit.TOMLDocument) -> None:
    """Write the tables to a file, whole or not at all.

    Parameters
    ----------
    path : Path
        The project file.
    document : tomlkit.TOMLDocument
        What to write; comments are kept.
    """
    files.write_atomically(path, tomlkit.dumps(document))
