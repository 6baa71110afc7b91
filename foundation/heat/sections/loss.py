"""What sections lose in a climate: over the year, month by month, and on the design day."""

from __future__ import annotations

import cmath
import math
from collections.abc import Collection
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foundation.model.heat import ClimateUsed, SectionResponse, Surface

NEAR = 2 * 0.3048
"""Way along the inner surface from grade within which a cold spell is felt [practice]. [m]"""
COLDEST_DAY = 14.5
"""From the start of the year to its coldest day, the middle of January [practice]. [d]"""
MONTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
DAY = 86400.0
TURN = 2 * math.pi / 365


@dataclass(frozen=True)
class Flows:
    """Heat that leaves through some faces; flows of several add up, whatever the time of their peaks.

    Attributes
    ----------
    conductance : float
        Steady, to the air outside. [W/K]
    mean : float
        Yearly mean. [W]
    swing : complex
        Complex amplitude about it; time runs from the coldest day. [W]
    near : float
        Through faces within reach of a cold spell, on the design day; nan without a design temperature. [W]
    deep_mean : float
        Yearly mean through the other faces. [W]
    deep_swing : complex
        Complex amplitude about that. [W]
    """

    conductance: float = 0.0
    mean: float = 0.0
    swing: complex = 0j
    near: float = 0.0
    deep_mean: float = 0.0
    deep_swing: complex = 0j

    def __add__(self, other: Flows) -> Flows:
        return Flows(*(a + b for a, b in zip(vars(self).values(), vars(other).values(), strict=True)))

    def times(self, factor: float) -> Flows:
        """The flows of so many metres.

        Parameters
        ----------
        factor : float
            By what they are multiplied. [-]

        Returns
        -------
        Flows
            The flows.
        """
        return Flows(*(value * factor for value in vars(self).values()))

    def like(self, few: Flows, many: Flows) -> Flows:
        """These flows, changed as other flows changed.

        Parameters
        ----------
        few, many : Flows
            The others before and after.

        Returns
        -------
        Flows
            Each flow times many over few.
        """
        return Flows(
            *(
                value * (after / before) if before else value
                for value, before, after in zip(
                    vars(self).values(), vars(few).values(), vars(many).values(), strict=True
                )
            )
        )

    @property
    def design(self) -> float:
        """On the design day; nan without a design temperature. [W]"""
        return self.near + self.deep_mean + abs(self.deep_swing)

    @property
    def peak(self) -> float:
        """Most in the mean year. [W]"""
        return self.mean + abs(self.swing)

    @property
    def peak_day(self) -> float:
        """When it is most, after the coldest day. [d]"""
        return -cmath.phase(self.swing) / TURN % 365 if self.swing else 0.0

    def monthly(self) -> tuple[float, ...]:
        """Heat of each month from January on.

        Returns
        -------
        tuple of float, length 12
            Their heat. [J]
        """
        ends = np.cumsum((0, *MONTHS)) - COLDEST_DAY
        # The integral of Re(swing e^(i turn t)) between the ends of each month.
        wave = np.real(self.swing * np.exp(1j * TURN * ends) / (1j * TURN))
        return tuple(float(v) for v in DAY * (self.mean * np.diff(ends) + np.diff(wave)))

    @property
    def yearly(self) -> float:
        """Heat of the year. [J]"""
        return self.mean * 365 * DAY


def flows_of(
    response: SectionResponse, inside: float, outside: ClimateUsed | float, groups: Collection[str]
) -> Flows:
    """Heat that leaves through a metre of a section.

    Parameters
    ----------
    response : SectionResponse
        How the section answers.
    inside : float
        Air inside. [°C]
    outside : ClimateUsed or float
        The year outdoors, or the steady air of another part. [°C]
    groups : collection of str
        Groups of faces that count, such as ``floor``.

    Returns
    -------
    Flows
        Their heat, per metre of wall.
    """
    surface = response.surface
    counted = np.isin(surface.group, list(groups))
    steady = surface.flow_steady[counted]
    if not isinstance(outside, ClimateUsed):
        through = float(steady.sum()) * (inside - outside)
        return Flows(float(steady.sum()), through, 0j, 0.0, through, 0j)
    annual = surface.flow_annual[counted]
    # Faces that reach beyond count in part: by their middles alone the design day would jump with the grid.
    reach = NEAR - surface.exposure[counted]
    near = np.clip(reach / surface.area[counted] + 0.5, 0, 1)
    drop = inside - outside.mean
    design = math.nan if outside.design_temperature is None else inside - outside.design_temperature
    return Flows(
        conductance=float(steady.sum()),
        mean=float(steady.sum()) * drop,
        swing=complex(annual.sum()) * outside.amplitude,
        near=float(np.sum(steady * near)) * design,
        deep_mean=float(np.sum(steady * (1 - near))) * drop,
        deep_swing=complex(np.sum(annual * (1 - near))) * outside.amplitude,
    )


def below_grade(response: SectionResponse, groups: Collection[str]) -> float:
    """Steady conductance of what lies below grade.

    Parameters
    ----------
    response : SectionResponse
        How the section answers.
    groups : collection of str
        Groups of faces that count.

    Returns
    -------
    float
        Its conductance, per metre of wall. [W/(m·K)]
    """
    surface = response.surface
    return float(surface.flow_steady[np.isin(surface.group, list(groups)) & (surface.exposure > 0)].sum())


def coldest(surface: Surface, inside: float, outside: ClimateUsed | float) -> NDArray[np.float64]:
    """Temperature of each face of an inner surface when it is coldest.

    Parameters
    ----------
    surface : Surface
        The surface.
    inside : float
        Air inside. [°C]
    outside : ClimateUsed or float
        The year outdoors, or the steady air of another part. [°C]

    Returns
    -------
    ndarray, shape (k,)
        On the design day where a cold spell is felt and a design temperature is given, else at the face's coldest
        time of the mean year. [°C]
    """
    if not isinstance(outside, ClimateUsed):
        return inside + surface.steady * (outside - inside)
    by_season = inside + surface.steady * (outside.mean - inside) - outside.amplitude * np.abs(surface.annual)
    if outside.design_temperature is None:
        return by_season
    cold_spell = inside + surface.steady * (outside.design_temperature - inside)
    return np.where(surface.exposure <= NEAR, np.minimum(cold_spell, by_season), by_season)


def floor_temperature(
    response: SectionResponse, inside: float, outside: ClimateUsed | float, distance: float
) -> float:
    """Floor at a distance from the wall, coldest.

    Parameters
    ----------
    response : SectionResponse
        How the section answers.
    inside : float
        Air inside. [°C]
    outside : ClimateUsed or float
        The year outdoors, or the steady air of another part. [°C]
    distance : float
        From the wall's inner face. [m]

    Returns
    -------
    float
        Temperature of the floor's surface. [°C]
    """
    surface = response.surface
    floor = np.array(surface.group) == "floor"
    order = np.argsort(surface.x[floor])
    temperature = coldest(surface, inside, outside)[floor][order]
    at = response.section.inner_face - distance
    return float(np.interp(at, surface.x[floor][order], temperature))


def dew_point(temperature: float, humidity: float) -> float:
    """Dew point of moist air, Magnus with 17.62 and 243.12 °C (reference to water, -45 to 60 °C) [memory].

    Parameters
    ----------
    temperature : float
        Of the air. [°C]
    humidity : float
        Relative, above 0. [-]

    Returns
    -------
    float
        Dew point. [°C]

    Examples
    --------
    >>> round(dew_point(20.0, 0.5), 2)
    9.26
    """
    strength = math.log(humidity) + 17.62 * temperature / (243.12 + temperature)
    return 243.12 * strength / (17.62 - strength)
