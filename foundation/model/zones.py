"""Nouns of zones of heated floor: where they are, what they have to give, and what lies under them."""

from __future__ import annotations

from dataclasses import dataclass

from foundation.model.loops import FloorArea


@dataclass(frozen=True, eq=False)
class ZoneShape:
    """A zone of heated floor on the plan.

    Attributes
    ----------
    name, part, use : str
        What it is called, the part whose slab it is in, and what the floor is used for.
    number : int
        Its place among the project's zones, from 1. [-]
    area : float
        Between walls and other zones. [m²]
    covered : float
        That area without posts, drains and free strips. [m²]
    areas : tuple of FloorArea
        Pieces of it that hang together.
    """

    name: str
    part: str
    use: str
    number: int
    area: float
    covered: float
    areas: tuple[FloorArea, ...]


@dataclass(frozen=True)
class GroundResponse:
    """What a floor sees below its slab: a resistance, and the temperature beyond it.

    Attributes
    ----------
    resistance : float
        From the underside of the slab to that temperature: foam and ground, and what leaves at the edge. [m²·K/W]
    foam : float
        Of the foam alone, as it is counted in the ground. [m²·K/W]
    temperature : float
        Beyond the resistance, at the design season. [°C]
    mean : float
        Yearly mean of it. [°C]
    swing : float
        Its swing over the mean year. [K]
    lag : float
        When it is coldest, days after the coldest day outdoors. [d]
    spell : float
        Share of the heat that leaves where a cold spell is felt, within 2 ft of grade. [-]
    solved : bool
        Whether the sections were solved for it; False where there is no climate and the foam stands alone on ground of
        an assumed temperature.
    """

    resistance: float
    foam: float
    temperature: float
    mean: float
    swing: float
    lag: float
    spell: float
    solved: bool


@dataclass(frozen=True)
class SurfaceLoss:
    """What a room loses through one surface above.

    Attributes
    ----------
    name : str
        Which wall, window, door, ceiling.
    area : float
        Its area. [m²]
    transmittance : float
        Its U, with framing by ISO 6946. [W/(m²·K)]
    nominal : float
        The same by its cavity alone, as is commonly reckoned. [W/(m²·K)]
    loss : float
        On the design day. [W]
    """

    name: str
    area: float
    transmittance: float
    nominal: float
    loss: float


@dataclass(frozen=True)
class ZoneLoad:
    """What a zone has to give on the design day.

    Attributes
    ----------
    flux : float
        Of its area. [W/m²]
    total : float
        In all. [W]
    source : str
        Whether typed, or from the room's surfaces.
    surfaces : tuple of SurfaceLoss
        The surfaces above, none where the load was typed.
    air_change : float
        Through air that comes in. [W]
    ground : float
        Through concrete walls into the ground, by the heat model; what the floor loses downward is the boiler's. [W]
    nominal : float
        The total with the surfaces' nominal U; the total itself where the load was typed. [W]
    """

    flux: float
    total: float
    source: str
    surfaces: tuple[SurfaceLoss, ...]
    air_change: float
    ground: float
    nominal: float
