"""What a project left out: each assumed value with its reason, to be marked wherever it shows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from foundation.project.check import kind_at
from foundation.project.paths import Location, path_text
from foundation.project.schema import Project


@dataclass(frozen=True)
class Assumption:
    """A value that was not typed.

    Attributes
    ----------
    place : str
        Path of the field.
    kind : str or None
        Kind of quantity, such as ``length``; None for choices and text.
    value : object
        What is taken, in SI units.
    why : str
        Where it comes from.
    description : str
        What the field says.
    """

    place: str
    kind: str | None
    value: Any
    why: str
    description: str


def assumptions(project: Project) -> tuple[Assumption, ...]:
    """Everything that a project leaves to an assumption.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    tuple of Assumption
        In the order of the file.
    """
    found: list[Assumption] = []
    _collect(project, (), found)
    return tuple(found)


def _collect(section: BaseModel, location: Location, found: list[Assumption]) -> None:
    for name, field in type(section).model_fields.items():
        here = (*location, field.alias or name)
        value = getattr(section, name)
        extra = field.json_schema_extra
        if isinstance(extra, dict) and "assumed" in extra and name not in section.model_fields_set:
            found.append(
                Assumption(
                    path_text(here), kind_at(here), value, str(extra["assumed"]), field.description or ""
                )
            )
        elif isinstance(value, BaseModel):
            _collect(value, here, found)
        elif isinstance(value, list):
            for position, entry in enumerate(value):
                if isinstance(entry, BaseModel):
                    _collect(entry, (*here, position), found)
