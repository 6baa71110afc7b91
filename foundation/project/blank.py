"""A project with nothing in it yet but a rectangle that waits for its numbers."""

from __future__ import annotations

from collections.abc import Mapping

import tomlkit
import tomlkit.items

from foundation.project.schema import SCHEMA_VERSION

FIRST_ENTRIES: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Length, A to B", ("corners.B.east", "corners.C.east")),
    ("Width, A to D", ("corners.A.north", "corners.B.north")),
    ("Grade at A", ("ground.corner_grades.A.existing",)),
    ("Grade at B", ("ground.corner_grades.B.existing",)),
    ("Grade at C", ("ground.corner_grades.C.existing",)),
    ("Grade at D", ("ground.corner_grades.D.existing",)),
    ("Top of slab", ("parts[1].slab_top",)),
    ("Frost depth", ("frost.depth",)),
)
"""The eight entries that make a first picture: what each is called, and the fields it fills."""


def blank() -> tomlkit.TOMLDocument:
    """A new project: a rectangular house, corners A, B, C, D clockwise from the north-west.

    Returns
    -------
    tomlkit.TOMLDocument
        Tables that lack only the eight first entries.
    """
    document = tomlkit.document()
    document["schema"] = SCHEMA_VERSION
    document["name"] = ""
    document["frost"] = tomlkit.table()
    grades = tomlkit.table()
    corners = tomlkit.table()
    for name, known in (
        ("A", {"east": "0 ft"}),
        ("B", {}),
        ("C", {"north": "0 ft"}),
        ("D", {"east": "0 ft", "north": "0 ft"}),
    ):
        corners[name] = _table(known)
        grades[name] = tomlkit.table()
    document["ground"] = _table({"corner_grades": grades})
    document["corners"] = corners
    parts = tomlkit.aot()
    parts.append(_table({"name": "house", "use": "basement", "corners": ["A", "B", "C", "D"]}))
    document["parts"] = parts
    return document


def _table(entries: Mapping[str, object]) -> tomlkit.items.Table:
    table = tomlkit.table()
    for key, value in entries.items():
        table[key] = value
    return table
