"""Edge factors of slabs on grade, as ratios to the bare slab: WAC 51-11C, Table A106.1, unheated slabs [read].

F is heat per foot of edge and degree between inside and outdoors. The table tells little of how it was made: 6 in slab
at grade, soil 0.75 Btu/(h·ft·°F), rows of the whole slab with an R-10 edge, level rows without an edge break. Taken
here: the floor of a 28 by 55 ft house, the usual one of its time [memory], so that half of area over half the
perimeter is 9.3 ft; top of slab 4 in above grade; foam of R-5 an inch, upright foam on the outer face from the top of
the slab down; a framed wall on the edge; films of ISO 6946. The level of F hangs on its definition and is not checked
here: ours is 40 % above the bare slab's 0.73 as steady conductance, 25 % as heat over the season's difference. With a
wider floor the rows of the whole slab save less (R-30 under 30 ft of half width: half as much again as the table has).
"""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
import pytest

from foundation.heat.sections.respond import respond
from foundation.model.section import Block, BlockKind, GradeStep, Material, Section, Situation, SoilLayer

FOOT, INCH, R = 0.3048, 0.0254, 0.176110  # the last: h·ft²·°F/Btu in m²·K/W
HALF = 28 * 55 / (28 + 55) / 2 * FOOT
TOP, SLAB = 4 * INCH, 6 * INCH
SOIL = Material("soil", 0.75 * 1.730735, 2.0e6, 1.3)
CONCRETE = Material("concrete", 1.73, 2.0e6, 1.73)
FRAME = Material("framed wall", 5.5 * INCH / (19 * R), 1e5, 0.04)
FOAM = Material("foam", INCH / (5 * R), 4e4, 0.03)

ROWS = {
    "none": 0.73,
    "2 ft upright R-5": 0.58,
    "2 ft upright R-10": 0.54,
    "2 ft upright R-15": 0.52,
    "4 ft upright R-5": 0.54,
    "4 ft upright R-10": 0.48,
    "4 ft upright R-15": 0.45,
    "4 ft level R-5": 0.67,
    "4 ft level R-10": 0.64,
    "4 ft level R-15": 0.63,
    "whole R-10": 0.36,
    "whole R-15": 0.31,
    "whole R-20": 0.26,
    "whole R-30": 0.21,
}


def slab(row: str) -> Section:
    left, low = -HALF, TOP - SLAB
    blocks = [
        Block("slab", BlockKind.CONCRETE, CONCRETE, left, 0.0, low, TOP),
        Block("framed wall", BlockKind.FRAME, FRAME, -5.5 * INCH, 0.0, TOP, TOP + 0.5),
    ]

    def foam(start: float, end: float, bottom: float, top: float) -> None:
        blocks.append(Block("foam", BlockKind.FOAM, FOAM, start, end, bottom, top))

    bed = low
    if row != "none":
        thickness = float(row.split("R-")[1]) / 5 * INCH
        if "upright" in row:
            foam(0.0, thickness, TOP - float(row[0]) * FOOT, TOP)
        elif "level" in row:
            foam(-4 * FOOT, 0.0, low - thickness, low)
        else:
            bed = low - thickness
            foam(left, 0.0, bed, low)
            foam(0.0, 2 * INCH, bed, TOP)
    return Section(
        line="edge",
        station=0.0,
        situation=Situation.EDGE,
        inside="house",
        outside="",
        floor=TOP,
        bed=bed,
        half_width=HALF,
        inner_face=0.0,
        divide=-2 * INCH,
        top=TOP + 0.5,
        concrete_top=TOP,
        grade=(GradeStep(0.0, 0.0),),
        soil=(SoilLayer(math.inf, SOIL),),
        blocks=tuple(blocks),
    )


def factors() -> dict[str, tuple[float, float]]:
    """Steady, and heat over the difference in the season, both W/(m·K): below 65 °F of a year of 9 ± 13 °C."""
    inside, mean, swing = 21.1, 9.0, 13.0
    turn = 2 * math.pi * np.arange(365) / 365
    air = mean - swing * np.cos(turn)
    season = air < 18.3
    found = {}
    for row in ROWS:
        surface = respond(slab(row)).surface
        below = np.array(surface.group) != "frame"
        still, wave = surface.flow_steady[below].sum(), surface.flow_annual[below].sum()
        flow = still * (inside - mean) + swing * np.real(wave * np.exp(1j * turn))
        found[row] = float(still), float(flow[season].mean() / (inside - air[season]).mean())
    return found


@pytest.fixture(scope="module")
def found() -> dict[str, tuple[float, float]]:
    return factors()


@pytest.mark.parametrize("definition", [0, 1], ids=["steady", "season"])
def test_ratios_to_the_bare_slab(found: dict[str, tuple[float, float]], definition: int) -> None:
    ours = {row: found[row][definition] / found["none"][definition] for row in ROWS}
    for row, factor in ROWS.items():
        assert ours[row] == pytest.approx(factor / ROWS["none"], rel=0.10), row


@pytest.mark.parametrize("definition", [0, 1], ids=["steady", "season"])
def test_order(found: dict[str, tuple[float, float]], definition: int) -> None:
    """Rows that the table sets apart stand in its order."""
    for one, other in combinations(ROWS, 2):
        if ROWS[one] != ROWS[other]:
            assert (ROWS[one] > ROWS[other]) == (found[one][definition] > found[other][definition]), (
                one,
                other,
            )


if __name__ == "__main__":
    for name, values in factors().items():
        print(name, ROWS[name], *(round(value / 1.730735, 3) for value in values))
