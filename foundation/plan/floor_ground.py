"""What lies under a zone of heated floor, by the sections round its part: a resistance and a temperature.

A section tells for every face of its floor how much heat goes out for a kelvin between the air inside and outdoors, in
the mean and over the yearly wave. One over that, less the surface and the slab, is what a heated floor finds under its
slab; and the temperature beyond follows from the same answer, since all of it is linear. Round the part every place of
the floor belongs to the exposed wall nearest to it, at the distance that leaves as much floor nearer to walls as there
is in the section, so that the zones of a part add up to what its floor loses.

In the section the air beside wall and floor has one temperature. A heated floor is warmer, and some of its heat comes
round through the concrete to the wall's inner face: it stays in the room and counts as given by the floor. What leaves
for good is what the section tells, by reciprocity. Heat that the ground stores while the floor warms is left out.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon

from foundation import materials
from foundation.foam.boards import board_types
from foundation.foam.choice import LYING, resistance
from foundation.heat.sections.assemble import FLOOR_FILM
from foundation.heat.sections.loss import NEAR, TURN
from foundation.model.heat import ClimateUsed, SectionResponse
from foundation.model.loops import FloorArea
from foundation.model.zones import GroundResponse, ZoneShape
from foundation.plan.floor_zones import PartFloor
from foundation.plan.heat import answer_of
from foundation.project import Project
from foundation.project.schema import Part

Array = NDArray[np.float64]

GROUND = (50 - 32) / 1.8
"""Ground right under the foam where there is no climate to solve for, 50 °F [practice]. [°C]"""
POINTS = 6000
"""Places that a part's floor is looked at. [-]"""
LEAST = 0.02
"""Least resistance below a slab: bare concrete that meets the outdoors at once. [m²·K/W]"""


def foam_resistance(project: Project, part: Part) -> float:
    """Resistance of the foam under a part's slab, as it is counted in the ground.

    Parameters
    ----------
    project : Project
        The project.
    part : Part
        The part.

    Returns
    -------
    float
        Its resistance, 0 without foam. [m²·K/W]
    """
    under = part.foam.under_slab
    if under is None:
        return 0.0
    return resistance(board_types()[under.board], under.thickness, LYING, project.foam_basis)


def ground_response(
    project: Project, floor: PartFloor, zone: ZoneShape, climate: ClimateUsed | None
) -> GroundResponse:
    """What a zone finds under its slab.

    On the design day what lies within reach of a cold spell has the design temperature outside, the rest is as cold as
    it gets over the mean year, as for the heat of the house.

    Parameters
    ----------
    project : Project
        The project.
    floor : PartFloor
        Floor of its part.
    zone : ZoneShape
        The zone.
    climate : ClimateUsed or None
        The year outdoors.

    Returns
    -------
    GroundResponse
        Resistance and temperature; the foam alone over ground at 50 °F [practice] without a climate.
    """
    foam = foam_resistance(project, floor.part)
    if climate is None or not floor.placed:
        return GroundResponse(max(foam, LEAST), foam, GROUND, GROUND, 0.0, 0.0, 0.0, solved=False)
    steady, annual, near = _conductances(floor, zone)
    transmittance = float(steady.mean())
    slab = floor.part.slab_thickness / materials.CONCRETE.conductivity
    swing = climate.amplitude * complex(annual.mean()) / transmittance
    spell = float(steady[near].sum() / steady.sum())
    design = climate.design_temperature
    if design is None:
        coldest = climate.mean - abs(swing)
    else:
        deep = climate.amplitude * complex(annual[~near].sum()) / steady.sum()
        coldest = spell * design + (1 - spell) * climate.mean - abs(deep)
    return GroundResponse(
        resistance=max(1 / transmittance - FLOOR_FILM - slab, LEAST),
        foam=foam,
        temperature=coldest,
        mean=climate.mean,
        swing=abs(swing),
        lag=-math.atan2(swing.imag, swing.real) / TURN % 365,
        spell=spell,
        solved=True,
    )


def floor_loss(project: Project, floor: PartFloor, climate: ClimateUsed | None) -> float:
    """What the whole floor of a part would lose on the design day if it were as warm as the air and no warmer.

    Parameters
    ----------
    project : Project
        The project.
    floor : PartFloor
        Floor of the part.
    climate : ClimateUsed or None
        The year outdoors.

    Returns
    -------
    float
        Loss, 0 without a climate. [W]
    """
    part = floor.part
    outline = np.asarray(floor.floor.exterior.coords[:-1])
    whole = ZoneShape(
        "", part.name, "", 0, floor.floor.area, floor.floor.area, (FloorArea("", outline, (), ()),)
    )
    ground = ground_response(project, floor, whole, climate)
    if not ground.solved:
        return 0.0
    through = ground.resistance + FLOOR_FILM + part.slab_thickness / materials.CONCRETE.conductivity
    return floor.floor.area * (part.air - ground.temperature) / through


def ground_temperature(ground: GroundResponse, day: Array) -> Array:
    """Temperature beyond the resistance over the mean year.

    Parameters
    ----------
    ground : GroundResponse
        What lies under the slab.
    day : ndarray, shape (n,)
        Days after the coldest day outdoors. [d]

    Returns
    -------
    ndarray, shape (n,)
        Temperature. [°C]
    """
    return np.asarray(ground.mean - ground.swing * np.cos(TURN * (day - ground.lag)))


def _conductances(
    floor: PartFloor, zone: ZoneShape
) -> tuple[Array, NDArray[np.complex128], NDArray[np.bool_]]:
    """Steady and annual conductance [W/(m²·K)] at places of the zone, and whether a cold spell is felt there."""
    points, nearest, distance = _places(floor)
    # Rank among all places of the part: the share of the floor that lies nearer to walls.
    share = (np.argsort(np.argsort(distance)) + 0.5) / len(distance)
    inside = np.zeros(len(points), dtype=bool)
    for area in zone.areas:
        whole = Polygon(area.outline)
        shapely.prepare(whole)
        inside |= shapely.contains_xy(whole, points[:, 0], points[:, 1])
    if not inside.any():  # a zone smaller than what lies between two places
        middle = shapely.union_all([Polygon(area.outline) for area in zone.areas]).representative_point()
        inside[np.argmin(np.hypot(points[:, 0] - middle.x, points[:, 1] - middle.y))] = True
    steady = np.zeros(len(points))
    annual = np.zeros(len(points), dtype=complex)
    near = np.zeros(len(points), dtype=bool)
    for number, placed in enumerate(floor.placed):
        here = inside & (nearest == number)
        if here.any():
            found = _across(answer_of(placed.section), share[here])
            steady[here], annual[here], near[here] = found
    return steady[inside], annual[inside], near[inside]


def _across(
    response: SectionResponse, share: Array
) -> tuple[Array, NDArray[np.complex128], NDArray[np.bool_]]:
    """Conductances of a section's floor at shares of its half width from the wall."""
    surface = response.surface
    # The top of a wall that is as low as the slab counts as floor in the section, but no tube lies in it.
    floor = (np.array(surface.group) == "floor") & (surface.x < response.section.inner_face)
    order = np.argsort(-surface.x[floor])
    area = surface.area[floor][order]
    ends = np.cumsum(area)
    face = np.searchsorted(ends, share * ends[-1]).clip(0, len(area) - 1)
    return (
        (surface.flow_steady[floor][order] / area)[face],
        (surface.flow_annual[floor][order] / area)[face],
        (surface.exposure[floor][order] <= NEAR)[face],
    )


def _places(floor: PartFloor) -> tuple[Array, NDArray[np.intp], Array]:
    """Places all over a part's floor, the stretch nearest to each, and how far it is."""
    lines = dict(floor.sides)
    segments = []
    for placed in floor.placed:
        first, second = (np.array(end) for end in lines[placed.section.line])
        whole = max(each.end for each in floor.placed if each.section.line == placed.section.line)
        segments.append(
            (
                tuple((first + (second - first) * placed.start / whole).tolist()),
                tuple((first + (second - first) * placed.end / whole).tolist()),
            )
        )
    return _nearest(shapely.to_wkb(floor.floor), tuple(segments))


@lru_cache(maxsize=60)
def _nearest(
    floor: bytes, segments: Sequence[tuple[tuple[float, float], tuple[float, float]]]
) -> tuple[Array, NDArray[np.intp], Array]:
    whole = shapely.from_wkb(floor)
    left, low, right, high = whole.bounds
    count = int(POINTS * (right - left) * (high - low) / whole.area)
    # Scattered evenly by powers of the plastic number, so that no two places lie equally far from a wall.
    step = np.array([0.7548776662466927, 0.5698402909980532])
    scatter = (0.5 + np.arange(1, count + 1)[:, None] * step) % 1
    points = np.array([left, low]) + scatter * np.array([right - left, high - low])
    shapely.prepare(whole)
    points = points[shapely.contains_xy(whole, points[:, 0], points[:, 1])]
    far = shapely.distance(
        shapely.points(points)[None, :], np.array([LineString(each) for each in segments])[:, None]
    )
    nearest = np.argmin(far, axis=0)
    return points, nearest, far[nearest, np.arange(len(points))]
