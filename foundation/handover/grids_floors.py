"""Warm floors as a table: zones, with their loops folded away under them."""

from __future__ import annotations

from foundation.handover.grid import Cell, Column, Fact, Formula, Grid, shown
from foundation.model.floors import FloorsPlan, ZoneFloor


def zones_grid(floors: FloorsPlan, system: str) -> Grid:
    """Zones of the warm floors and their loops.

    Parameters
    ----------
    floors : FloorsPlan
        The warm floors.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    Grid
        The table; a zone's tube is the sum of its loops.
    """
    length, area, power = (shown(kind, system) for kind in ("length", "area", "power"))
    flux, degrees = shown("heat_flux", system), shown("temperature", system)
    grid = Grid(
        "zones",
        "zones of the warm floors; unfold a line for its loops",
        (
            Column("zone", "zone or loop", width=24),
            Column("part", "part", width=16),
            Column("use", "use", width=14),
            Column("finish", "finish", width=16),
            Column("area", "area", area.unit, "area"),
            Column("load", "load", power.unit, "number"),
            Column("flux", "load", flux.unit, "number"),
            Column("gives", "can give", flux.unit, "number"),
            Column("carries", "carries its load", width=10),
            Column("floor", "hottest floor allowed", degrees.unit, "number"),
            Column("supply", "water out", degrees.unit, "number"),
            Column("back", "water back", degrees.unit, "number"),
            Column("spacing", "rows apart", length.unit, "length"),
            Column("loops", "loops", "-", "whole", 8),
            Column("tube", "tube", length.unit, "length"),
            Column("manifold", "manifold", width=20),
        ),
        [Fact("assumed", said) for said in floors.assumed],
    )
    for zone in floors.zones:
        loops = [loop for laying in zone.layings for loop in laying.loops]
        row, case = grid.next_row, zone.cases[0]
        tube: Cell = None
        if loops:
            ends = f"{grid.at('tube', row + 1)}:{grid.at('tube', row + len(loops))}"
            tube = Formula(f"=SUM({ends})", sum(length.of(loop.length) for loop in loops))
        grid.add(
            {
                "zone": zone.shape.name,
                "part": zone.shape.part,
                "use": zone.shape.use,
                "finish": case.finish,
                "area": area.of(zone.shape.area),
                "load": power.of(zone.load.total) if zone.load else None,
                "flux": flux.of(zone.load.flux) if zone.load else None,
                "gives": flux.of(case.can_give),
                "carries": _carries(zone),
                "floor": degrees.of(zone.limit),
                "supply": degrees.of(case.supply),
                "back": degrees.of(case.back),
                "spacing": length.of(zone.spacing),
                "loops": len(loops),
                "tube": tube,
                "manifold": zone.manifold,
            }
        )
        for loop in loops:
            grid.add({"zone": loop.name, "area": area.of(loop.area), "tube": length.of(loop.length)}, level=1)
    if grid.rows:
        zones = [grid.header_row + 1 + place for place, row in enumerate(grid.rows) if row.level == 0]
        grid.total = {"zone": "all"} | {
            key: Formula(
                "=" + "+".join(grid.at(key, row) for row in zones),
                sum(_number(grid, key, row) for row in zones),
            )
            for key in ("area", "tube", "loops")
        }
    return grid


def _number(grid: Grid, key: str, row: int) -> float:
    cell = grid.rows[row - grid.header_row - 1].cells.get(key)
    found = cell.value if isinstance(cell, Formula) else cell
    return found if isinstance(found, int | float) else 0.0


def _carries(zone: ZoneFloor) -> str:
    carries = zone.cases[0].carries
    return "–" if carries is None else "yes" if carries else "no"
