"""Nouns of warm floors: tube, floor, what the floor gives, and the water that carries it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


@dataclass(frozen=True)
class Tube:
    """A size of tube.

    Attributes
    ----------
    name : str
        Its nominal size.
    outside_diameter, inside_diameter : float
        Outside, and average inside. [m]
    conductivity : float
        Of its wall. [W/(m·K)]
    bend_radius : float
        Tightest bend, to the centre line. [m]
    longest_loop : float
        Longest loop that the list of the trade allows. [m]
    """

    name: str
    outside_diameter: float
    inside_diameter: float
    conductivity: float
    bend_radius: float
    longest_loop: float


@dataclass(frozen=True)
class FloorBuildUp:
    """A slab with a row of tubes, and what lies over and under it.

    Attributes
    ----------
    slab_thickness : float
        Concrete alone. [m]
    slab_conductivity : float
        Of the concrete. [W/(m·K)]
    axis_depth : float
        Axis of the tubes below the top of slab. [m]
    spacing : float
        Between the axes of neighbouring tubes. [m]
    tube : Tube
        The tube.
    finish_resistance : float
        Of what covers the slab, 0 for bare concrete. [m²·K/W]
    resistance_below : float
        From the underside of the slab to where the temperature below is taken: foam, or foam and ground. [m²·K/W]
    surface_film : float
        From the floor to the room, radiation and air; 10.8 by EN 1264-2 [read]. [W/(m²·K)]
    """

    slab_thickness: float
    slab_conductivity: float
    axis_depth: float
    spacing: float
    tube: Tube
    finish_resistance: float
    resistance_below: float
    surface_film: float = 10.8


@dataclass(frozen=True)
class FloorOutput:
    """What a heated floor gives, steadily.

    Attributes
    ----------
    room_temperature, below_temperature : float
        Of the room, and of the ground or space below. [°C]
    water_temperature : float
        Mean of supply and return. [°C]
    water_film : float
        From the water to the tube, inf where it is left out. [W/(m²·K)]
    up, down : float
        Flux to the room, and downward; the water gives the sum. [W/m²]
    slab_temperature : float
        Mean over the plane of the tubes. [°C]
    floor_mean, floor_peak, floor_least : float
        Surface of the finish: mean, over a tube, and midway between two. [°C]
    """

    room_temperature: float
    below_temperature: float
    water_temperature: float
    water_film: float
    up: float
    down: float
    slab_temperature: float
    floor_mean: float
    floor_peak: float
    floor_least: float


@dataclass(frozen=True)
class SecondOpinion:
    """The same quantity by a standard or a rule of the trade.

    Attributes
    ----------
    quantity : str
        What is compared.
    source : str
        Whose opinion it is.
    unit : str
        Unit of both numbers.
    ours : float
        By the row of tubes. [in its unit]
    theirs : float or None
        By the other method; None where it does not hold. [in its unit]
    difference : float or None
        Ours over theirs, less 1. [-]
    note : str
        Why there is no number, "" otherwise.
    """

    quantity: str
    source: str
    unit: str
    ours: float
    theirs: float | None
    difference: float | None
    note: str


@dataclass(frozen=True)
class Fluid:
    """What runs in the tubes.

    Attributes
    ----------
    name : str
        What it is, with its strength by volume and by mass.
    glycol_mass_fraction : float
        Propylene glycol over all, by mass; 0 for water. [-]
    """

    name: str
    glycol_mass_fraction: float


@dataclass(frozen=True)
class FluidState:
    """Properties of a fluid at one temperature.

    Attributes
    ----------
    temperature : float
        The temperature. [°C]
    density : float
        Mass of a volume. [kg/m³]
    heat_capacity : float
        Of a mass. [J/(kg·K)]
    viscosity : float
        Dynamic. [Pa·s]
    conductivity : float
        Thermal. [W/(m·K)]
    """

    temperature: float
    density: float
    heat_capacity: float
    viscosity: float
    conductivity: float


class Regime(StrEnum):
    """How a fluid runs in a tube."""

    LAMINAR = "laminar"
    """Re below 2300."""
    TRANSITION = "transition"
    """Re from 2300 to 4000: head and film are between the two, and uncertain."""
    TURBULENT = "turbulent"
    """Re from 4000."""


@dataclass(frozen=True)
class PipeFlow:
    """Flow in a straight tube.

    Attributes
    ----------
    mass_flow : float
        The flow. [kg/s]
    velocity : float
        Mean over the bore. [m/s]
    reynolds : float
        Reynolds number. [-]
    regime : Regime
        What that makes of it.
    friction_factor : float
        Darcy's. [-]
    gradient : float
        Pressure lost per length. [Pa/m]
    film : float
        From the fluid to the tube. [W/(m²·K)]
    """

    mass_flow: float
    velocity: float
    reynolds: float
    regime: Regime
    friction_factor: float
    gradient: float
    film: float


@dataclass(frozen=True)
class Loop:
    """One loop of tube, from manifold to manifold.

    Attributes
    ----------
    name : str
        What it is called.
    tube : Tube
        Its tube.
    length : float
        With both leaders. [m]
    heat : float
        What it has to give, up and down. [W]
    delta_t : float
        Supply over return that is wanted. [K]
    """

    name: str
    tube: Tube
    length: float
    heat: float
    delta_t: float


@dataclass(frozen=True)
class LoopFlow:
    """What runs through one loop.

    Attributes
    ----------
    loop : Loop
        The loop.
    flow : PipeFlow
        In its tube.
    volume_flow : float
        At the mean temperature. [m³/s]
    delta_t : float
        Supply over return: the loop's heat over flow and heat capacity. [K]
    pressure : float
        Lost along the tube. [Pa]
    valve : float
        What its valve adds, so that all loops lose the same. [Pa]
    """

    loop: Loop
    flow: PipeFlow
    volume_flow: float
    delta_t: float
    pressure: float
    valve: float


@dataclass(frozen=True)
class ManifoldFlow:
    """All loops of one manifold.

    Attributes
    ----------
    loops : tuple of LoopFlow
        In the order of the loops.
    fluid : Fluid
        What runs.
    state : FluidState
        At the mean temperature.
    mass_flow : float
        All loops together. [kg/s]
    volume_flow : float
        The same at the mean temperature. [m³/s]
    heat : float
        All loops together. [W]
    delta_t : float
        Supply over the mixed return. [K]
    pressure : float
        What the pump has to add for the loops, without heater, mains and open valves. [Pa]
    head : float
        The same as a height of the fluid. [m]
    """

    loops: tuple[LoopFlow, ...]
    fluid: Fluid
    state: FluidState
    mass_flow: float
    volume_flow: float
    heat: float
    delta_t: float
    pressure: float
    head: float
