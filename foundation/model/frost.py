"""Nouns of the frost depth's cross-check."""

from __future__ import annotations

from dataclasses import dataclass

from foundation.model.caution import Amount
from foundation.model.heat import Band


@dataclass(frozen=True)
class FrostDepth:
    """How deep frost goes under one kind of surface.

    Attributes
    ----------
    surface : str
        What covers the ground.
    n_factor : float
        Freezing index of the surface over that of the air. [-]
    stefan : Band
        By Stefan's formula, too deep rather than too shallow. [m]
    berggren : Band or None
        By modified Berggren; None where the yearly mean is below freezing and the ground never thaws. [m]
    """

    surface: str
    n_factor: float
    stefan: Band
    berggren: Band | None


@dataclass(frozen=True)
class FrostCheck:
    """Frost depth computed from the freezing index: beside the depth that was asked for, never in its place.

    Attributes
    ----------
    index : float
        Freezing index of the air. [K·d]
    index_source : str
        Where it comes from, in words.
    days : float
        Days that such a year freezes. [d]
    mean : float
        Yearly mean of the air. [°C]
    dry_density : float
        Of the soil. [kg/m³]
    moisture : float
        Water by dry mass. [-]
    conductivity : Band
        Mean of frozen and unfrozen soil. [W/(m·K)]
    assumed : str
        What of the soil had to be assumed, "" for nothing.
    asked : float
        Frost depth as the local office asks for it. [m]
    turf : FrostDepth
        Under turf without snow.
    paving : FrostDepth or None
        Under paving that is kept free of snow; None where there is none.
    sentence : str
        All of it in words; names in braces stand for amounts.
    amounts : dict of str to Amount
        The numbers of the sentence.
    """

    index: float
    index_source: str
    days: float
    mean: float
    dry_density: float
    moisture: float
    conductivity: Band
    assumed: str
    asked: float
    turf: FrostDepth
    paving: FrostDepth | None
    sentence: str
    amounts: dict[str, Amount]
