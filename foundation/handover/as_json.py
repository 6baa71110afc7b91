"""The whole plan as JSON, each quantity with its unit.

Units are read from the docstrings of the plan's own classes, where the contributor reads them too; a test
sees that no number lacks one.
"""

from __future__ import annotations

import dataclasses
import datetime
import functools
import json
import math
import re
from collections.abc import Mapping
from enum import Enum
from typing import Any, get_args, get_type_hints

import numpy as np
from pydantic import BaseModel

from foundation.model.floors import FloorsPlan
from foundation.model.frost import FrostCheck
from foundation.model.heat import HouseHeat
from foundation.model.sizing import FoamSizing
from foundation.plan import Plan
from foundation.project.check import kind_at
from foundation.project.paths import Location

SI_UNITS = {
    "length": "m",
    "number": "-",
    "money": "$",
    "money_per_volume": "$/m³",
    "money_per_area": "$/m²",
    "money_per_length": "$/m",
    "temperature": "°C",
    "pressure": "Pa",
    "resistance": "m²·K/W",
    "conductivity": "W/(m·K)",
    "temperature_difference": "K",
    "degree_days": "K·d",
    "density": "kg/m³",
    "force": "N",
    "percent": "-",
    "power": "W",
    "heat_flux": "W/m²",
    "transmittance": "W/(m²·K)",
    "volume": "m³",
    "area": "m²",
}
"""Unit of the SI value of each kind of typed quantity."""
BESIDE: Mapping[str, type] = {
    "heat": HouseHeat,
    "frost_check": FrostCheck,
    "foam_sizing": FoamSizing,
    "floors": FloorsPlan,
}
"""What the JSON may carry beside the plan."""
LEFT_OUT = {"picture", "surface"}
"""Temperatures over a solver's grid: megabytes that no reader asks for."""
PASSED_ON = "unit of its place"
"""A class whose unit stands where it is used says so in place of a unit."""


@functools.cache
def units_of(kind: type) -> dict[str, str]:
    """Units of a class's attributes, as its docstring gives them.

    Parameters
    ----------
    kind : type
        A dataclass with a numpydoc ``Attributes`` section.

    Returns
    -------
    dict of str to str
        For each attribute whose text ends in a unit in brackets, that unit.
    """
    units = {name: re.search(r"\[([^\[\]]+)\]\.?$", text) for name, text in _told(kind).items()}
    return {name: unit.group(1) for name, unit in units.items() if unit}


def plan_as_json(plan: Plan, beside: Mapping[str, object] | None = None) -> str:
    """The whole plan as JSON text.

    Parameters
    ----------
    plan : Plan
        The plan.
    beside : mapping of str to object, optional
        What is worked out on demand, by the names of `BESIDE`.

    Returns
    -------
    str
        An object whose keys are the plan's attributes, and those of what lies beside it; every quantity is an object
        with ``value`` and
        ``unit``, nothing is given as NaN (``null`` stands for "there is none").
    """
    whole = _plain(plan) | {name: _plain(thing) for name, thing in (beside or {}).items()}
    return json.dumps(whole, ensure_ascii=False, allow_nan=False, indent=1)


def key_reference() -> str:
    """The reference page of the JSON's keys, made from the plan's own docstrings.

    Returns
    -------
    str
        Markdown: one list for each class, with the unit of each quantity.
    """
    parts = [
        "# The plan as JSON\n\n"
        "Made from the docstrings by `python -m foundation.handover.as_json > docs/plan-json.md`; a test sees that it "
        "is up to date.\n\n"
        "`foundation plan FILE --json` prints one object: the plan, and beside it "
        + ", ".join(f"`{name}` ({kind.__name__})" for name, kind in BESIDE.items())
        + "; the sizing with `--size-foam` alone, since it takes a quarter of a minute. A quantity is an object with "
        "`value` and `unit`; `null` "
        'stands for "there is none". `project` holds the inputs by the keys of the project file, in SI units.\n'
    ]
    waiting: list[type] = [Plan, *BESIDE.values()]
    done: set[type] = set()
    while waiting:
        kind = waiting.pop(0)
        if kind in done:
            continue
        done.add(kind)
        parts.append(f"## {kind.__name__}\n\n{(kind.__doc__ or '').strip().splitlines()[0]}\n")
        hints = get_type_hints(kind)
        for field in dataclasses.fields(kind):
            if field.name in LEFT_OUT:
                continue
            inner = [part for part in _parts_of(hints[field.name]) if dataclasses.is_dataclass(part)]
            waiting += [part for part in inner if isinstance(part, type)]
            see = "".join(f" ({part.__name__})" for part in inner if isinstance(part, type))
            parts.append(f"- `{field.name}`{see}: {_told(kind).get(field.name, '')}")
        parts.append("")
    return "\n".join(parts)


def _parts_of(annotation: Any) -> list[Any]:
    inner = [part for argument in get_args(annotation) for part in _parts_of(argument)]
    return inner or [annotation]


@functools.cache
def _told(kind: type) -> dict[str, str]:
    """What a class's docstring says of each attribute."""
    section = re.split(r"\n\s*Attributes\n\s*-+\n", kind.__doc__ or "")
    if len(section) < 2:
        return {}
    body = re.split(r"\n\s*[A-Z][a-z]+\n\s*-{3,}\n", section[1])[0]
    found: dict[str, str] = {}
    for names, text in re.findall(
        r"^    ([\w, ]+) : [^\n]*\n((?:^(?:        .*)?\n?)+)", body + "\n", re.MULTILINE
    ):
        found |= {name.strip(): " ".join(text.split()) for name in names.split(",")}
    return found


def _plain(thing: Any, unit: str | None = None) -> Any:
    if isinstance(thing, BaseModel):
        return _section(thing, ())
    if dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        units = {name: unit if own == PASSED_ON else own for name, own in units_of(type(thing)).items()}
        return {
            field.name: _plain(getattr(thing, field.name), units.get(field.name))
            for field in dataclasses.fields(thing)
            if field.name not in LEFT_OUT
        }
    if isinstance(thing, np.ndarray):
        return {"value": _numbers(thing.tolist()), "unit": unit} if unit else _numbers(thing.tolist())
    if isinstance(thing, Mapping):
        return {str(key): _plain(value, unit) for key, value in thing.items()}
    if isinstance(thing, tuple | list):
        if unit and thing and all(isinstance(value, int | float) for value in thing):
            return {"value": _numbers(list(thing)), "unit": unit}
        return [_plain(value, unit) for value in thing]
    if isinstance(thing, Enum):
        return thing.name if isinstance(thing, int) else thing.value
    if isinstance(thing, datetime.date):
        return thing.isoformat()
    if isinstance(thing, bool) or thing is None or isinstance(thing, str):
        return thing
    number = _numbers(thing.item() if isinstance(thing, np.generic) else thing)
    return {"value": number, "unit": unit} if unit else number


def _section(section: BaseModel, location: Location) -> dict[str, Any]:
    """A table of the inputs; its units follow the kind of each field."""
    result: dict[str, Any] = {}
    for name, field in type(section).model_fields.items():
        key = field.alias or name
        here = (*location, key)
        value = getattr(section, name)
        unit = SI_UNITS.get(kind_at(here) or "")
        if isinstance(value, BaseModel):
            result[key] = _section(value, here)
        elif isinstance(value, dict):
            result[key] = {k: _section(v, (*here, k)) for k, v in value.items()}
        elif isinstance(value, list) and value and isinstance(value[0], BaseModel):
            result[key] = [_section(v, (*here, i)) for i, v in enumerate(value)]
        else:
            result[key] = _plain(value, unit)
    return result


def _numbers(value: Any) -> Any:
    """Numbers as JSON has them: none that is not finite."""
    if isinstance(value, list):
        return [_numbers(entry) for entry in value]
    return value if not isinstance(value, float) or math.isfinite(value) else None


if __name__ == "__main__":
    print(key_reference(), end="")
