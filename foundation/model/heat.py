"""Nouns of ground heat: how a section answers to the outdoor air, and what the house loses."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foundation.model.section import InsulationGap, Section


@dataclass(frozen=True)
class Band:
    """A number with what the soil makes uncertain about it; its unit stands where it is used.

    Attributes
    ----------
    low, likely, high : float
        With the low, likely and high soil, rising or equal. [unit of its place]
    """

    low: float
    likely: float
    high: float


@dataclass(frozen=True, eq=False)
class Surface:
    """Inner surface of a section, face by face; k faces.

    A factor is 0 where a point follows the inner air and 1 where it follows the outer; with inside air at Ti and
    outside air Tm - A cos(2πt/year), the temperature is
    Ti + steady (Tm - Ti) - A Re(annual e^(2πi t/year)).

    Attributes
    ----------
    x, z : ndarray, shape (k,)
        Middle of each face. [m]
    area : ndarray, shape (k,)
        Its area, per metre of wall. [m]
    group : tuple of str, length k
        What it belongs to: ``floor``, ``wall`` (concrete and what lines it), ``frame`` (sill and framed wall).
    exposure : ndarray, shape (k,)
        Way along the inner surface from the level of grade outside, downward and then inward over the floor; 0 above
        grade. [m]
    steady : ndarray, shape (k,)
        Factor of the mean. [-]
    annual : ndarray of complex, shape (k,)
        Factor of the yearly wave. [-]
    flow_steady : ndarray, shape (k,)
        Heat into the construction through the face, per kelvin of mean difference. [W/(m·K)]
    flow_annual : ndarray of complex, shape (k,)
        The same per kelvin of yearly amplitude; the flow is its part of -A Re(flow_annual e^(2πi t/year)), with the
        sign of steady flow: more when it is colder outside, so that the sum is
        flow_steady (Ti - Tm) + A Re(flow_annual e^(2πi t/year)). [W/(m·K)]
    """

    x: NDArray[np.float64]
    z: NDArray[np.float64]
    area: NDArray[np.float64]
    group: tuple[str, ...]
    exposure: NDArray[np.float64]
    steady: NDArray[np.float64]
    annual: NDArray[np.complex128]
    flow_steady: NDArray[np.float64]
    flow_annual: NDArray[np.complex128]


@dataclass(frozen=True, eq=False)
class Picture:
    """Factors over the grid of a section, for the temperature picture.

    Attributes
    ----------
    x, z : ndarray, shapes (m + 1,) and (n + 1,)
        Grid lines. [m]
    steady : ndarray, shape (m, n)
        Factor of the mean at each cell's centre, not a number in the air. [-]
    annual : ndarray of complex, shape (m, n)
        Factor of the yearly wave. [-]
    """

    x: NDArray[np.float64]
    z: NDArray[np.float64]
    steady: NDArray[np.float64]
    annual: NDArray[np.complex128]


@dataclass(frozen=True, eq=False)
class SectionResponse:
    """How a section answers to the air outside, whatever the climate.

    Attributes
    ----------
    section : Section
        The section.
    surface : Surface
        Its inner surface.
    picture : Picture
        Factors over the grid.
    error : float
        Estimated error of the flow through the inner surface, over it, the greater of steady and annual. [-]
    imbalance : float
        Worst imbalance of the solves. [-]
    cells : int
        Cells of the finest grid. [-]
    """

    section: Section
    surface: Surface
    picture: Picture
    error: float
    imbalance: float
    cells: int


@dataclass(frozen=True)
class ClimateUsed:
    """The year and the design winter that the heat is computed for.

    Attributes
    ----------
    mean : float
        Yearly mean of the outdoor air. [°C]
    amplitude : float
        Of its yearly wave. [K]
    degree_days : float
        Heating degree days of that wave, base 18.3 °C (65 °F). [K·d]
    freezing_index : float
        Freezing index of that wave. [K·d]
    design_temperature : float or None
        Outdoor design temperature as entered. [°C]
    design_index : float or None
        Design winter's freezing index as entered. [K·d]
    source : str
        Where it comes from, in words.
    assumed : str
        What had to be assumed, "" for nothing.
    """

    mean: float
    amplitude: float
    degree_days: float
    freezing_index: float
    design_temperature: float | None
    design_index: float | None
    source: str
    assumed: str


@dataclass(frozen=True)
class Loss:
    """What goes out through some part of the house.

    Attributes
    ----------
    conductance : Band
        Steady, to the outdoor air. [W/K]
    design : Band or None
        On the design day: what is exposed within 2 ft of grade at the design temperature, deeper by season; None
        without a design temperature. [W]
    mean, peak : Band
        Yearly mean, and most in the mean year. [W]
    peak_day : float
        When it is most, days after the coldest day. [d]
    monthly : tuple of Band, length 12
        From January on, the coldest day taken as 15 January. [J]
    yearly : Band
        Heat that leaves over the year; what comes in is taken off. [J]
    """

    conductance: Band
    design: Band | None
    mean: Band
    peak: Band
    peak_day: float
    monthly: tuple[Band, ...]
    yearly: Band


@dataclass(frozen=True, eq=False)
class StretchHeat:
    """A stretch of wall line that one section stands for.

    Attributes
    ----------
    line : str
        Name of the wall line.
    start, end : float
        Stations of its ends. [m]
    response : SectionResponse
        The section in its middle, with the likely soil.
    edge_factor : Band
        Heat through floor and concrete wall per metre of edge and kelvin: the edge's F-factor. [W/(m·K)]
    bare_edge_factor : float
        The same without any foam, likely soil. [W/(m·K)]
    coldest_surface : float
        Coldest inner surface: on the design day where a cold spell is felt, else when the mean year is coldest
        there. [°C]
    coldest_at : tuple of float
        x and z of it. [m]
    floor_temperature : float
        Floor 1 ft inside the wall, coldest in the same way. [°C]
    dew_margin : float
        Coldest inner surface less dew point of the inner air, negative where water condenses. [K]
    gaps : tuple of InsulationGap
        Breaks of the line of insulation.
    """

    line: str
    start: float
    end: float
    response: SectionResponse
    edge_factor: Band
    bare_edge_factor: float
    coldest_surface: float
    coldest_at: tuple[float, float]
    floor_temperature: float
    dew_margin: float
    gaps: tuple[InsulationGap, ...]


@dataclass(frozen=True)
class EdgeHeat:
    """Neighbouring stretches of one wall line in one situation, taken together.

    Attributes
    ----------
    line : str
        Name of the wall line.
    situation : str
        ``slab edge``, ``basement wall``, ``wall between two parts`` or ``door``.
    start, end : float
        Stations of its ends. [m]
    edge_factor : Band
        Its F-factor, the mean along it. [W/(m·K)]
    bare_edge_factor : float
        The same without any foam, likely soil. [W/(m·K)]
    """

    line: str
    situation: str
    start: float
    end: float
    edge_factor: Band
    bare_edge_factor: float


@dataclass(frozen=True, eq=False)
class HouseHeat:
    """What leaves through the ground.

    Attributes
    ----------
    climate : ClimateUsed
        The year it is computed for.
    soil : str
        The soil in words, with its band.
    conductivity : Band
        Soil conductivity. [W/(m·K)]
    stretches : tuple of StretchHeat
        Round the house.
    edges : tuple of EdgeHeat
        The stretches, taken together where only depth changes.
    parts : mapping of str to Loss
        For each heated part, floor and walls below its frame.
    floors : mapping of str to Loss
        For each heated part, its floor alone.
    walls : mapping of str to Loss
        For each wall line, floor and wall that its sections stand for.
    total : Loss
        All heated parts.
    below_grade : mapping of str to float
        For each heated part, steady conductance of its floor and of what of its walls lies below grade, which is what
        the methods beside it reckon. [W/K]
    standard : mapping of str to float
        For each heated part, steady conductance by ISO 13370:2017. [W/K]
    residential : mapping of str to float
        For each heated basement, steady conductance by the residential below-grade method; its temperature difference
        is to the coldest ground surface. [W/K]
    """

    climate: ClimateUsed
    soil: str
    conductivity: Band
    stretches: tuple[StretchHeat, ...]
    edges: tuple[EdgeHeat, ...]
    parts: Mapping[str, Loss]
    floors: Mapping[str, Loss]
    walls: Mapping[str, Loss]
    total: Loss
    below_grade: Mapping[str, float]
    standard: Mapping[str, float]
    residential: Mapping[str, float]
