"""What a zone has to give on the design day: typed, or surface by surface of the room above it.

Framed layers by ISO 6946:2017, 6.7.2 [memory]: the mean of heat in parallel paths and of heat that spreads in every
layer. Beside it stands the sum over the cavity alone, as is commonly reckoned.
"""

from __future__ import annotations

from foundation.heat.sections.assemble import OUTER_FILM, WALL_FILM
from foundation.model.heat import ClimateUsed
from foundation.model.problem import Problem
from foundation.model.zones import SurfaceLoss, ZoneLoad, ZoneShape
from foundation.plan.lines import PlanError
from foundation.project.schema_floor import LayerInput, SurfaceInput, ZoneInput

AIR_HEAT = 0.33
"""Heat of a volume of air [practice]. [W·h/(m³·K)]"""


def layered_transmittance(layers: list[LayerInput], framing: float) -> float:
    """Transmittance of framed layers between a room and outdoors.

    Parameters
    ----------
    layers : list of LayerInput
        From the inside out; surfaces of 0.13 and 0.04 m²·K/W are added.
    framing : float
        Share of framing. [-]

    Returns
    -------
    float
        One over the mean of both limits of the resistance. [W/(m²·K)]
    """
    films = WALL_FILM + OUTER_FILM
    paths = [(layer.resistance, _framed(layer)) for layer in layers]
    cavity, studs = (films + sum(path) for path in zip(*paths, strict=True))
    upper = 1 / ((1 - framing) / cavity + framing / studs)
    lower = films
    for through, framed in paths:
        # A layer without resistance in one of the two paths lets all heat pass there.
        if through > 0 and framed > 0:
            lower += 1 / ((1 - framing) / through + framing / framed)
        elif framing == 0:
            lower += through
    return 2 / (upper + lower)


def nominal_transmittance(layers: list[LayerInput]) -> float:
    """Transmittance by the cavity alone.

    Parameters
    ----------
    layers : list of LayerInput
        From the inside out.

    Returns
    -------
    float
        One over the sum of their resistances and the surfaces'. [W/(m²·K)]
    """
    return 1 / (WALL_FILM + OUTER_FILM + sum(layer.resistance for layer in layers))


def zone_load(
    zone: ZoneInput,
    shape: ZoneShape,
    air: float,
    climate: ClimateUsed | None,
    into_ground: float,
) -> ZoneLoad | None:
    """What a zone has to give on the design day.

    Its own downward loss is not in it: that comes out of the water, not out of the room.

    Parameters
    ----------
    zone : ZoneInput
        What was typed.
    shape : ZoneShape
        The zone.
    air : float
        Air over it. [°C]
    climate : ClimateUsed or None
        The year; its design temperature, never its coldest day.
    into_ground : float
        What leaves through the concrete walls beside it, its share. [W]

    Returns
    -------
    ZoneLoad or None
        None where nothing was typed, or no design temperature for the surfaces.

    Raises
    ------
    PlanError
        If a surface has neither a U nor layers, or the room gains heat on the design day.
    """
    if zone.load is not None:
        total = zone.load * shape.area
        return ZoneLoad(zone.load, total, "typed, of its area", (), 0.0, 0.0, total)
    if zone.total_load is not None:
        flux = zone.total_load / shape.area
        return ZoneLoad(flux, zone.total_load, "typed, in all", (), 0.0, 0.0, zone.total_load)
    room = zone.room
    if not by_surfaces(zone) or climate is None or climate.design_temperature is None:
        return None
    drop = air - climate.design_temperature
    place = f"zones[{shape.number}].room"
    if drop <= 0:
        raise PlanError(
            (
                Problem(
                    place,
                    zone.name,
                    f"The air over zone {zone.name} is no warmer than the design day outdoors: it has no load. Check "
                    "its air and the design temperature.",
                ),
            )
        )
    surfaces = tuple(
        _surface(each, drop, f"{place}.surfaces[{n}]") for n, each in enumerate(room.surfaces, 1)
    )
    through_air = AIR_HEAT * (room.volume or 0.0) * (room.air_change or 0.0) * drop
    total = sum(each.loss for each in surfaces) + through_air + into_ground
    nominal = sum(each.nominal * each.area * drop for each in surfaces) + through_air + into_ground
    return ZoneLoad(
        total / shape.area, total, "from the room's surfaces", surfaces, through_air, into_ground, nominal
    )


def by_surfaces(zone: ZoneInput) -> bool:
    """Whether a zone's load is to come from its room's surfaces or air.

    Parameters
    ----------
    zone : ZoneInput
        The zone.

    Returns
    -------
    bool
        True where any are typed.
    """
    return bool(zone.room.surfaces) or bool(zone.room.volume and zone.room.air_change)


def _framed(layer: LayerInput) -> float:
    return layer.resistance if layer.framed is None else layer.framed


def _surface(surface: SurfaceInput, drop: float, place: str) -> SurfaceLoss:
    if surface.transmittance is not None:
        own = nominal = surface.transmittance
    elif surface.layers:
        own = layered_transmittance(surface.layers, surface.framing)
        nominal = nominal_transmittance(surface.layers)
    else:
        raise PlanError(
            (
                Problem(
                    place,
                    surface.name,
                    f"Surface {surface.name} has neither a U nor layers: give its transmittance, or its layers.",
                ),
            )
        )
    return SurfaceLoss(surface.name, surface.area, own, nominal, own * surface.area * drop)
