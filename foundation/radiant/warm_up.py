"""How long a slab takes to warm: the slab as one lump of one temperature, between water, room and ground.

Room and ground keep their temperature, and the ground stores nothing; a floor on wet soil without foam is slower.
The slowest time constant of two-dimensional conduction is 0 to 12 % longer for a tube at mid-depth, and up to a third
longer or a tenth shorter for one elsewhere [derived]: an estimate, to be shown as about.
"""

from __future__ import annotations

from math import inf, log

from foundation.model.radiant import FloorBuildUp
from foundation.radiant.limits import positive
from foundation.radiant.tube_row import row_resistances


def time_constant(build_up: FloorBuildUp, heat_capacity: float, water_film: float = inf) -> float:
    """Time in which the slab covers 63 % of its way, with water of one temperature running.

    Parameters
    ----------
    build_up : FloorBuildUp
        The floor.
    heat_capacity : float
        Of a volume of the slab, > 0. [J/(m³·K)]
    water_film : float
        From the water to the tube, inf to leave it out. [W/(m²·K)]

    Returns
    -------
    float
        Capacity over conductance to water, room and ground. [s]

    Raises
    ------
    ValueError
        If a number is out of its range or the tube does not fit into the slab.
    """
    positive(heat_capacity, "the heat capacity of the slab", "J/(m³·K)")
    way = row_resistances(build_up, water_film)
    return heat_capacity * build_up.slab_thickness / (1 / way.water + 1 / way.up + 1 / way.down)


def warm_up_time(
    build_up: FloorBuildUp,
    heat_capacity: float,
    heat_input: float,
    room_temperature: float,
    below_temperature: float,
    start_temperature: float,
    target_temperature: float,
) -> float:
    """Time to warm the slab with all that the heater has.

    Parameters
    ----------
    build_up : FloorBuildUp
        The floor.
    heat_capacity : float
        Of a volume of the slab, > 0. [J/(m³·K)]
    heat_input : float
        From the heater, over the floor's area, > 0. [W/m²]
    room_temperature, below_temperature : float
        Of the room, and of the ground or space below. [°C]
    start_temperature, target_temperature : float
        Of the slab. [°C]

    Returns
    -------
    float
        Time; 0 where the slab is as warm already, inf where the heater never gets there. [s]

    Raises
    ------
    ValueError
        If a number is out of its range or the tube does not fit into the slab.
    """
    positive(heat_capacity, "the heat capacity of the slab", "J/(m³·K)")
    positive(heat_input, "the heat input", "W/m²")
    if target_temperature <= start_temperature:
        return 0.0
    way = row_resistances(build_up)
    loss = 1 / way.up + 1 / way.down
    end = (heat_input + room_temperature / way.up + below_temperature / way.down) / loss
    if end <= target_temperature:
        return inf
    lag = heat_capacity * build_up.slab_thickness / loss
    return lag * log((end - start_temperature) / (end - target_temperature))
