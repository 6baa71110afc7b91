"""The project file's reference page, made from the schema."""

from __future__ import annotations

from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic_core import PydanticUndefined

from foundation import units
from foundation.project.check import kind_at, section_at
from foundation.project.paths import Location
from foundation.project.schema import Project


def reference_page() -> str:
    """The reference page of the project file.

    Returns
    -------
    str
        Markdown: one table for each table of the file.
    """
    parts = [
        "# The project file\n\n"
        "Made from the schema by `python -m foundation.project.reference > docs/project-file.md`; a test sees that "
        "it is up to date.\n\n"
        'A project file is TOML. Quantities are text with their unit: `"12\'-6 1/2\\""`, `"92.50 ft"`, `"48 in"`, '
        '`"1.2 m"`, `"$190/yd³"`. Shots lie in a CSV file beside it. What is left out is assumed where the last column '
        "says so, and is marked ▲ wherever it shows.\n"
    ]
    _describe(Project, (), parts)
    return "\n".join(parts)


def _describe(section: type[BaseModel], location: Location, parts: list[str]) -> None:
    title = _title(location)
    parts.append(f"## {title}\n\n{(section.__doc__ or '').strip()}\n")
    parts.append("| key | holds | what it says | left out |\n|---|---|---|---|")
    nested: list[tuple[type[BaseModel], Location]] = []
    rows = []
    for name, field in section.model_fields.items():
        key = field.alias or name
        here = (*location, key)
        inner = section_at(here)
        if inner is not None:
            many = get_origin(field.annotation)
            nested.append((inner, (*here, 0) if many is list else (*here, "NAME") if many is dict else here))
        rows.append(
            f"| `{key}` | {_holds(field.annotation, here)} | {field.description} | {_left_out(field, here)} |"
        )
    parts[-1] += "\n" + "\n".join(rows) + "\n"
    for inner, here in nested:
        _describe(inner, here, parts)


def _title(location: Location) -> str:
    if not location:
        return "Top of the file"
    names = [str(key) for key in location if not isinstance(key, int)]
    dotted = ".".join(names)
    return f"`[[{dotted}]]`" if isinstance(location[-1], int) else f"`[{dotted}]`"


def _holds(annotation: Any, here: Location) -> str:
    kind = kind_at(here)
    many = "list of " if get_origin(annotation) is list else ""
    if kind:
        return many + kind.replace("_", " ")
    parts = [annotation, *get_args(annotation)]
    for part in parts:
        if get_origin(part) is Literal:
            return ", ".join(f"`{value}`" for value in get_args(part))
    if section_at(here) is not None:
        origin = get_origin(annotation)
        return "list of tables" if origin is list else "table of tables" if origin is dict else "table"
    plain = {str: "text", bool: "true or false", int: "whole number"}
    return many + next((plain[part] for part in parts if part in plain), "text")


def _left_out(field: Any, here: Location) -> str:
    if field.is_required():
        return "never"
    extra = field.json_schema_extra
    if not isinstance(extra, dict) or "assumed" not in extra:
        default = field.default
        return f"`{default}`" if default not in (None, "", PydanticUndefined) else "–"
    return f"▲ {_value(field.default, kind_at(here))}: {extra['assumed']}"


def _value(value: Any, kind: str | None) -> str:
    if isinstance(value, list):
        return ", ".join(_value(entry, kind) for entry in value)
    if isinstance(value, bool):
        return str(value).lower()
    return units.write(value, kind) if kind else str(value)


if __name__ == "__main__":
    print(reference_page(), end="")
