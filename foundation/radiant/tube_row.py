r"""A row of tubes in a slab, in closed form: what the floor gives and how warm it gets.

Line sources at one depth, repeated sideways for ever, between two surfaces that each pass heat through a
resistance; the harmonics of the row are summed, and the tube's own wall and water film stand in series. Everything
is linear in the temperatures, so that the water for a wanted flux follows without iteration [derived].

Against two-dimensional finite elements the fluxes are right to 0.1 % and the floor's peak over the room to 0.3 %
where the tube's axis is a diameter or more inside the concrete; with less cover, or in a topping under 2 in, the peak
is right to 0.45 %. A tube that lies on the foam gives up to 0.4 % less than this says [derived]. The room and the
space below are each at one temperature; ends, U-turns and room edges are left out.
"""

from __future__ import annotations

from math import inf, log, pi
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from foundation.model.radiant import FloorBuildUp, FloorOutput
from foundation.radiant.limits import positive, within

TERMS = 200  # the last falls below 1e-20 for a tube one diameter deep at 0.4 m


class RowResistances(NamedTuple):
    """Resistances of a floor, each times the area of the floor.

    Attributes
    ----------
    water : float
        From the water to the mean of the tubes' plane; it carries the whole flux. [m²·K/W]
    up : float
        From that plane to the room. [m²·K/W]
    down : float
        From that plane to the temperature below. [m²·K/W]
    """

    water: float
    up: float
    down: float


def row_resistances(build_up: FloorBuildUp, water_film: float = inf) -> RowResistances:
    r"""Resistances of a heated floor.

    The row adds :math:`\frac{W}{2\pi\lambda} [\ln\frac{W}{\pi D} + \sum_n \frac{1}{n} \frac{g_1 + g_2 + 2 g_1 g_2}
    {1 - g_1 g_2}]` with :math:`g_i = \frac{\lambda k_n - h_i}{\lambda k_n + h_i} e^{-2 k_n d_i}` and
    :math:`k_n = 2\pi n / W` [derived].

    Parameters
    ----------
    build_up : FloorBuildUp
        The floor.
    water_film : float
        From the water to the tube, inf to leave it out. [W/(m²·K)]

    Returns
    -------
    RowResistances
        Water to slab, slab to room, slab to below.

    Raises
    ------
    ValueError
        If a number is out of its range or the tube does not fit into the slab.
    """
    _check(build_up)
    positive(water_film, "the film between water and tube", "W/(m²·K)")
    tube, slab, spacing = build_up.tube, build_up.slab_conductivity, build_up.spacing
    harmonic = _harmonics(build_up)
    image = harmonic.top + harmonic.bottom + 2 * harmonic.top * harmonic.bottom
    row = log(spacing / (pi * tube.outside_diameter))
    row += float(np.sum(image / (1 - harmonic.top * harmonic.bottom) * 2 * pi / (spacing * harmonic.wave)))
    wall = log(tube.outside_diameter / tube.inside_diameter) / tube.conductivity
    film = 2 / (tube.inside_diameter * water_film)
    return RowResistances(
        water=spacing / (2 * pi) * (row / slab + wall + film),
        up=build_up.axis_depth / slab + build_up.finish_resistance + 1 / build_up.surface_film,
        down=(build_up.slab_thickness - build_up.axis_depth) / slab + build_up.resistance_below,
    )


def floor_output(
    build_up: FloorBuildUp,
    room_temperature: float,
    below_temperature: float,
    water_temperature: float,
    water_film: float = inf,
) -> FloorOutput:
    """What a floor gives at a water temperature.

    Parameters
    ----------
    build_up : FloorBuildUp
        The floor.
    room_temperature, below_temperature : float
        Of the room, and of the ground or space below. [°C]
    water_temperature : float
        Mean of supply and return. [°C]
    water_film : float
        From the water to the tube, inf to leave it out. [W/(m²·K)]

    Returns
    -------
    FloorOutput
        Fluxes and temperatures.

    Raises
    ------
    ValueError
        If a number is out of its range or the tube does not fit into the slab.
    """
    way = row_resistances(build_up, water_film)
    slab_temperature = (
        water_temperature / way.water + room_temperature / way.up + below_temperature / way.down
    ) / (1 / way.water + 1 / way.up + 1 / way.down)
    return _output(
        build_up, way, room_temperature, below_temperature, slab_temperature, water_temperature, water_film
    )


def floor_output_for(
    build_up: FloorBuildUp,
    room_temperature: float,
    below_temperature: float,
    up: float,
    water_film: float = inf,
) -> FloorOutput:
    """The water temperature that a wanted flux takes, and all that goes with it.

    Parameters
    ----------
    build_up : FloorBuildUp
        The floor.
    room_temperature, below_temperature : float
        Of the room, and of the ground or space below. [°C]
    up : float
        Wanted flux to the room. [W/m²]
    water_film : float
        From the water to the tube, inf to leave it out. [W/(m²·K)]

    Returns
    -------
    FloorOutput
        Fluxes and temperatures.

    Raises
    ------
    ValueError
        If a number is out of its range or the tube does not fit into the slab.
    """
    way = row_resistances(build_up, water_film)
    slab_temperature = room_temperature + up * way.up
    total = up + (slab_temperature - below_temperature) / way.down
    return _output(
        build_up,
        way,
        room_temperature,
        below_temperature,
        slab_temperature,
        slab_temperature + way.water * total,
        water_film,
    )


def largest_flux(
    build_up: FloorBuildUp, room_temperature: float, below_temperature: float, peak_limit: float
) -> float:
    """Flux to the room at which the floor over a tube is as warm as it may be.

    Parameters
    ----------
    build_up : FloorBuildUp
        The floor.
    room_temperature, below_temperature : float
        Of the room, and of the ground or space below. [°C]
    peak_limit : float
        Warmest that the floor may be anywhere. [°C]

    Returns
    -------
    float
        Largest flux to the room; it is less than 0 where a limit close to the room leaves nothing to give. [W/m²]

    Raises
    ------
    ValueError
        If a number is out of its range or the tube does not fit into the slab.
    """
    # The peak is linear in the flux, so two fluxes tell where it meets the limit.
    none = floor_output_for(build_up, room_temperature, below_temperature, 0.0).floor_peak
    one = floor_output_for(build_up, room_temperature, below_temperature, 1.0).floor_peak
    return (peak_limit - none) / (one - none)


def floor_profile(
    build_up: FloorBuildUp, output: FloorOutput, distance: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Temperature of the floor across the tubes.

    Parameters
    ----------
    build_up : FloorBuildUp
        The floor.
    output : FloorOutput
        What it gives.
    distance : ndarray, shape (n,)
        From the axis of a tube, square to it. [m]

    Returns
    -------
    ndarray, shape (n,)
        Surface of the finish. [°C]
    """
    return output.floor_mean + _ripple(build_up, distance) * (output.up + output.down)


class _Harmonics(NamedTuple):
    """Wave numbers, and what the two faces of the slab throw back to the tubes' plane."""

    wave: NDArray[np.float64]
    top: NDArray[np.float64]
    bottom: NDArray[np.float64]


def _harmonics(build_up: FloorBuildUp) -> _Harmonics:
    wave: NDArray[np.float64] = 2 * pi / build_up.spacing * np.arange(1.0, TERMS + 1)
    rise = build_up.slab_conductivity * wave
    over = 1 / (build_up.finish_resistance + 1 / build_up.surface_film)
    under = 1 / build_up.resistance_below
    below = build_up.slab_thickness - build_up.axis_depth
    return _Harmonics(
        wave,
        (rise - over) / (rise + over) * np.exp(-2 * wave * build_up.axis_depth),
        (rise - under) / (rise + under) * np.exp(-2 * wave * below),
    )


def _ripple(build_up: FloorBuildUp, distance: NDArray[np.float64]) -> NDArray[np.float64]:
    """Floor over its mean for each W/m² of the whole flux. [m²·K/W]"""
    wave, top, bottom = _harmonics(build_up)
    over = 1 / (build_up.finish_resistance + 1 / build_up.surface_film)
    # 1 + G of the top's reflection, written so that nothing grows for a deep tube.
    passed = 2 * build_up.slab_conductivity * wave / (build_up.slab_conductivity * wave + over)
    size = np.exp(-wave * build_up.axis_depth) * passed * (1 + bottom)
    size /= build_up.slab_conductivity * wave * (1 - top * bottom)
    return np.cos(np.multiply.outer(distance, wave)) @ size * (over / build_up.surface_film)


def _output(
    build_up: FloorBuildUp,
    way: RowResistances,
    room_temperature: float,
    below_temperature: float,
    slab_temperature: float,
    water_temperature: float,
    water_film: float,
) -> FloorOutput:
    up = (slab_temperature - room_temperature) / way.up
    down = (slab_temperature - below_temperature) / way.down
    floor_mean = room_temperature + up / build_up.surface_film
    peak, least = _ripple(build_up, np.array([0.0, build_up.spacing / 2])) * (up + down)
    return FloorOutput(
        room_temperature=room_temperature,
        below_temperature=below_temperature,
        water_temperature=water_temperature,
        water_film=water_film,
        up=up,
        down=down,
        slab_temperature=slab_temperature,
        floor_mean=floor_mean,
        floor_peak=floor_mean + float(peak),
        floor_least=floor_mean + float(least),
    )


def _check(build_up: FloorBuildUp) -> None:
    tube = build_up.tube
    positive(build_up.slab_thickness, "the thickness of the slab", "m")
    positive(build_up.slab_conductivity, "the conductivity of the slab", "W/(m·K)")
    positive(build_up.surface_film, "the film between floor and room", "W/(m²·K)")
    positive(build_up.resistance_below, "the resistance below the slab", "m²·K/W")
    within(build_up.finish_resistance, 0.0, inf, "the resistance of the finish", "m²·K/W")
    positive(tube.conductivity, "the conductivity of the tube", "W/(m·K)")
    positive(tube.inside_diameter, "the inside diameter of the tube", "m")
    positive(tube.outside_diameter - tube.inside_diameter, "outside less inside diameter of the tube", "m")
    radius = tube.outside_diameter / 2
    # A nanometre of slack, so that a tube placed flush by its own radius passes.
    within(
        build_up.axis_depth,
        radius - 1e-9,
        build_up.slab_thickness - radius + 1e-9,
        "the depth of the tube's axis below the top of the slab",
        "m",
    )
    within(build_up.spacing, tube.outside_diameter, inf, "the spacing of the tubes", "m")
