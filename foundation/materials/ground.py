"""The ground: what it conducts, stores and freezes, with its band."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from math import sqrt
from types import MappingProxyType

from foundation.materials.checks import in_range
from foundation.materials.conductivity import (
    johansen_conductivity,
    kersten_conductivity,
    kersten_holds,
    saturated_moisture,
)
from foundation.model.section import Material
from foundation.tables import load

FUSION = 334e3  # latent heat of water [J/kg]
SPECIFIC = 4186.8  # one Btu/(lb·°F) [J/(kg·K)]
MOISTURE_BAND = 0.25  # what moisture is uncertain by, as a share of it [practice] [-]


@dataclass(frozen=True)
class GroundClass:
    """A class of ground, with what is usual of it.

    Attributes
    ----------
    name : str
        ``clay or silt``, ``sand or gravel`` or ``rock``.
    low, conductivity, high : float
        Conductivity, unfrozen: dry, as the standard has it, wet. [W/(m·K)]
    heat_capacity : float
        Of a volume, unfrozen. [J/(m³·K)]
    dry_density : float
        Usual dry density. [kg/m³]
    moisture : float
        Usual water by dry mass. [-]
    quartz : float
        Usual quartz in the solids. [-]
    """

    name: str
    low: float
    conductivity: float
    high: float
    heat_capacity: float
    dry_density: float
    moisture: float
    quartz: float

    @property
    def is_fine(self) -> bool:
        """Whether it is fine-grained."""
        return self.name == "clay or silt"

    @property
    def is_soil(self) -> bool:
        """Whether it has pores whose water counts."""
        return self.moisture > 0


@cache
def ground_classes() -> Mapping[str, GroundClass]:
    """The classes of ground.

    Returns
    -------
    mapping of str to GroundClass
        By name.

    Examples
    --------
    >>> ground_classes()["clay or silt"].conductivity
    1.5
    """
    table = load("iso_13370_2017_ground")
    numbers = ("low", "conductivity", "high", "heat_capacity", "dry_density", "moisture", "quartz")
    return MappingProxyType(
        {
            row["ground"]: GroundClass(row["ground"], **{name: float(row[name]) for name in numbers})
            for row in table.rows
        }
    )


def soil_of(
    ground: str,
    conductivity: float | None = None,
    dry_density: float | None = None,
    moisture: float | None = None,
) -> Material:
    """Ground of a class, as it conducts, stores and freezes.

    Without a conductivity it is the mean of both methods where density and moisture are given, else the class's.
    Frozen, it conducts more (or less) in the ratio of the methods' frozen and unfrozen means. All its water freezes:
    clay keeps some of it unfrozen, so that it frees a little less.

    Parameters
    ----------
    ground : str
        Name of the class.
    conductivity : float or None
        Unfrozen, as measured. [W/(m·K)]
    dry_density : float or None
        Dry density; usual for the class when left out. [kg/m³]
    moisture : float or None
        Water by dry mass; usual for the class when left out. What the pores do not hold is not counted. [-]

    Returns
    -------
    Material
        The ground; its name says where its conductivity comes from.

    Raises
    ------
    KeyError
        If there is no such class.
    ValueError
        If a number is out of its range.
    """
    kind = _ground(ground)
    known = kind.is_soil and dry_density is not None and moisture is not None
    density = kind.dry_density if dry_density is None else dry_density
    water = min(kind.moisture if moisture is None else moisture, saturated_moisture(density))
    frozen, latent, capacity = 1.0, 0.0, kind.heat_capacity
    if kind.is_soil:
        frozen = _mean(kind, density, water, frozen=True) / _mean(kind, density, water, frozen=False)
        latent = FUSION * density * water
    if known:
        capacity = SPECIFIC * density * (0.17 + water)  # 0.17 Btu/(lb·°F): solids, UFC 3-130-06 [memory]
    if conductivity is not None:
        in_range(conductivity, "the conductivity of the ground", "W/(m·K)")
        likely, origin = conductivity, "as typed"
    elif known:
        likely, origin = _mean(kind, density, water, frozen=False), "by density and moisture"
        if not kersten_holds(water, fine=kind.is_fine):
            origin += " (Johansen alone)"
    else:
        likely, origin = kind.conductivity, "by its class"
    return Material(f"{ground}, {origin}", likely, capacity, likely * frozen, latent)


def soil_band(
    ground: str,
    dry_density: float | None = None,
    moisture: float | None = None,
    low: float | None = None,
    likely: float | None = None,
    high: float | None = None,
) -> tuple[Material, Material, Material]:
    """Ground with low, likely and high conductivity; all three hold and freeze the same water.

    Typed values win. With density and moisture the band reaches from the lower method at a quarter less water to the
    higher at a quarter more; else it is the class's. About a typed likely value it keeps its proportions.

    Parameters
    ----------
    ground : str
        Name of the class.
    dry_density : float or None
        Dry density. [kg/m³]
    moisture : float or None
        Water by dry mass. [-]
    low, likely, high : float or None
        Conductivity as typed, in rising order. [W/(m·K)]

    Returns
    -------
    tuple of Material, length 3
        Rising or equal in conductivity.

    Raises
    ------
    KeyError
        If there is no such class.
    ValueError
        If a number is out of its range, or the typed ones do not rise.
    """
    kind = _ground(ground)
    middle = soil_of(ground, None, dry_density, moisture)
    centre, lower, upper = middle.conductivity, kind.low, kind.high
    if kind.is_soil and dry_density is not None and moisture is not None:
        full = saturated_moisture(dry_density)
        water = min(moisture, full)
        # Where the drier end has Johansen's alone, it may lie above the mean: then the band has no lower half.
        lower = min(centre, *_methods(kind, dry_density, water * (1 - MOISTURE_BAND), frozen=False))
        upper = max(
            centre, *_methods(kind, dry_density, min(full, water * (1 + MOISTURE_BAND)), frozen=False)
        )
    typed = [value for value in (low, likely, high) if value is not None]
    for value in typed:
        in_range(value, "the conductivity of the ground", "W/(m·K)")
    if typed != sorted(typed):
        raise ValueError(
            f"the ground's conductivities {', '.join(f'{value:g}' for value in typed)} W/(m·K) do not rise "
            "from low over likely to high"
        )
    found = likely if likely is not None else _between(centre, low, high, centre / lower, centre / upper)
    ends = (
        low if low is not None else found * lower / centre,
        found,
        high if high is not None else found * upper / centre,
    )
    named = replace(middle, name=f"{ground}, as typed") if likely is not None else middle
    share = middle.frozen_conductivity / middle.conductivity
    dry, likeliest, wet = (replace(named, conductivity=k, frozen_conductivity=k * share) for k in ends)
    return dry, likeliest, wet


def _between(
    centre: float, low: float | None, high: float | None, above_low: float, below_high: float
) -> float:
    """The likely value where only an end or both are typed: the centre, moved as far as they ask."""
    if low is not None and high is not None:
        return centre if low <= centre <= high else sqrt(low * high)
    if low is not None:
        return centre if low <= centre else low * above_low
    if high is not None:
        return centre if centre <= high else high * below_high
    return centre


def _methods(kind: GroundClass, density: float, water: float, *, frozen: bool) -> tuple[float, ...]:
    """Both methods; Johansen's alone where the soil is too dry for Kersten's."""
    johansen = johansen_conductivity(density, water, kind.quartz, fine=kind.is_fine, frozen=frozen)
    if not kersten_holds(water, fine=kind.is_fine):
        return (johansen,)
    return (johansen, kersten_conductivity(density, water, fine=kind.is_fine, frozen=frozen))


def _mean(kind: GroundClass, density: float, water: float, *, frozen: bool) -> float:
    found = _methods(kind, density, water, frozen=frozen)
    return sum(found) / len(found)


def _ground(name: str) -> GroundClass:
    known = ground_classes()
    if name not in known:
        raise KeyError(f'there is no ground "{name}"; there are: {", ".join(known)}')
    return known[name]
