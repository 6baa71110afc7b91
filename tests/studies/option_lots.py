"""Option tables of the small slab, shared by the tests of options; every number invented."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from foundation.project.schema_money import OptionInput
from tests.studies.lots import slab_tables


def option(name: str, changes: Mapping[str, str] | None = None) -> OptionInput:
    """An option with its changes."""
    return OptionInput(name=name, changes=dict(changes or {}))


def tables(**more: Any) -> dict[str, Any]:
    """The slab's tables with a design temperature, some replaced or added to."""
    made = slab_tables()
    made["climate"]["design_temperature"] = "-9 °F"
    for name, table in more.items():
        made[name] = {**made.get(name, {}), **table} if isinstance(table, dict) else table
    return made
