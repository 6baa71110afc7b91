"""ISO 13370:2017 [formulae memory] against sections made by its own assumptions.

Plain ground of 1.5 W/(m·K), a floor and a basement wall of one resistance each, nothing above grade but a wall that
lets no heat through. Such sections lose 3 to 6 % more than the standard's slabs, and 0 to 12 % more than its basements
for floors of 6 m and wider: 20 to 32 % more through the wall, 2 to 22 % less through the floor. What our houses lose
beyond that is concrete that the standard leaves to junctions.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from foundation.heat.sections.respond import respond
from foundation.heat.standard import (
    INSIDE_HORIZONTAL,
    basement_floor_transmittance,
    basement_wall_transmittance,
    equivalent_thickness,
    slab_transmittance,
)
from foundation.model.section import Block, BlockKind, GradeStep, Material, Section, Situation, SoilLayer

GROUND, WALL, LAYER = 1.5, 0.254, 0.01  # the standard gives a floor no thickness
SOIL = Material("ground", GROUND, 3.0e6, GROUND)
DEAD = Material("nothing", 1e-4, 1e5, 1e-4)


def layer(thickness: float, resistance: float) -> Material:
    return Material("layer", thickness / resistance, 1e6, thickness / resistance)


def section(half_width: float, depth: float, floor: float, wall: float) -> Section:
    """Floor and wall of a resistance each [m²·K/W], the wall cut off at grade."""
    left = -WALL - half_width
    blocks = [
        Block("dead wall", BlockKind.FRAME, DEAD, -WALL, 0.0, 0.0, 0.5),
        Block("floor", BlockKind.STONE, layer(LAYER, floor), left, -WALL, -depth - LAYER, -depth),
    ]
    if depth:
        blocks.append(Block("wall", BlockKind.CONCRETE, layer(WALL, wall), -WALL, 0.0, -depth - LAYER, 0.0))
    return Section(
        line="edge",
        station=0.0,
        situation=Situation.BASEMENT if depth else Situation.EDGE,
        inside="house",
        outside="",
        floor=-depth,
        bed=-depth - LAYER,
        half_width=half_width,
        inner_face=-WALL,
        divide=-WALL / 2,
        top=0.5,
        concrete_top=0.0,
        grade=(GradeStep(0.0, 0.0),),
        soil=(SoilLayer(math.inf, SOIL),),
        blocks=tuple(blocks),
    )


def flow(made: Section, name: str) -> float:
    surface = respond(made, 0.003).surface
    return float(surface.flow_steady[np.array(surface.group) == name].sum())


def floor_thickness(resistance: float) -> float:
    return equivalent_thickness(GROUND, resistance, wall_thickness=WALL)


@pytest.mark.parametrize("half_width", [1.6, 3.0, 6.0])
@pytest.mark.parametrize("resistance", [LAYER / GROUND, 0.5, 1.5, 3.0])
def test_slab(half_width: float, resistance: float) -> None:
    standard = half_width * slab_transmittance(2 * half_width, floor_thickness(resistance), GROUND)
    assert 1.03 < flow(section(half_width, 0.0, resistance, 1.0), "floor") / standard < 1.065


@pytest.mark.parametrize("half_width", [3.0, 6.0])
@pytest.mark.parametrize("depth", [1.2, 2.1])
@pytest.mark.parametrize(("floor", "wall"), [(0.1, 0.15), (0.1, 1.5), (1.5, 1.5), (1.5, 3.0)])
def test_basement(half_width: float, depth: float, floor: float, wall: float) -> None:
    under = floor_thickness(floor)
    upright = equivalent_thickness(GROUND, wall, inside=INSIDE_HORIZONTAL)
    by_floor = half_width * basement_floor_transmittance(2 * half_width, under, GROUND, depth)
    by_wall = depth * basement_wall_transmittance(under, upright, GROUND, depth)
    made = section(half_width, depth, floor, wall)
    floors, walls = flow(made, "floor"), flow(made, "wall")
    assert 0.78 < floors / by_floor < 0.98
    assert 1.19 < walls / by_wall < 1.32
    assert 0.995 < (floors + walls) / (by_floor + by_wall) < 1.12
