"""Frost depth computed from the freezing index, beside the depth that the local office asks for."""

from __future__ import annotations

from foundation import materials
from foundation.climate import AnnualWave, wave_from_mean
from foundation.frost.depth import latent_heat, modified_berggren_depth, stefan_depth
from foundation.materials.conductivity import saturated_moisture
from foundation.materials.ground import ground_classes
from foundation.model.caution import Amount
from foundation.model.frost import FrostCheck, FrostDepth
from foundation.model.heat import Band, ClimateUsed
from foundation.plan.climate import climate_details
from foundation.project import Project

INCH = 0.0254
TURF = 0.5
"""Freezing n-factor of turf, UFC 3-130-06 table 2-4 [read]. [-]"""
PAVING = 0.75
"""Freezing n-factor of concrete without snow, the same table; bituminous paving has 0.7 [read]. [-]"""


def frost_check(project: Project, climate: ClimateUsed, weather_text: str = "") -> FrostCheck | None:
    """Depth of frost by Stefan's and the modified Berggren formula: a cross-check, never the frost depth.

    The index is the design winter's, else the weather file's coldest winter, else the mean wave's. Such a year is taken
    to freeze as long as a wave of the same mean with this index.

    Parameters
    ----------
    project : Project
        The project.
    climate : ClimateUsed
        The year outdoors.
    weather_text : str
        Text of the weather file, "" for none.

    Returns
    -------
    FrostCheck or None
        The depths; None where it does not freeze, and on rock, which holds no water.

    Raises
    ------
    PlanError
        If no year can be read from the weather file.
    """
    index, source = _index(project, climate, weather_text)
    kind = ground_classes()[project.soil.ground]
    if index <= 0 or not kind.is_soil:
        return None
    # Below a mean of 0 °C the ground never thaws, and the length of the season enters no formula.
    wave = (
        wave_from_mean(climate.mean, index)
        if climate.mean >= 0
        else AnnualWave(climate.mean, climate.amplitude)
    )
    soil = project.soil
    assumed = [name for name in ("dry_density", "moisture") if getattr(soil, name) is None]
    density = soil.dry_density or kind.dry_density
    moisture = min(soil.moisture or kind.moisture, saturated_moisture(density))
    grounds = materials.soil_band(
        soil.ground,
        dry_density=soil.dry_density,
        moisture=soil.moisture,
        low=soil.conductivity_low,
        likely=soil.conductivity,
        high=soil.conductivity_high,
    )
    # The manuals take the mean of frozen and unfrozen soil.
    conductivity = [(each.conductivity + each.frozen_conductivity) / 2 for each in grounds]

    def depth(surface: str, factor: float) -> FrostDepth:
        latent = latent_heat(density, moisture)
        stefan = Band(*(stefan_depth(factor * index, each, latent) for each in conductivity))
        if climate.mean < 0:
            return FrostDepth(surface, factor, stefan, None)
        days = wave.days_below(0.0)
        berggren = (
            modified_berggren_depth(factor * index, days, climate.mean, each, density, moisture)
            for each in conductivity
        )
        return FrostDepth(surface, factor, stefan, Band(*berggren))

    turf = depth("turf", TURF)
    paving = depth("paving kept free of snow", PAVING) if project.surroundings.melted else None
    sentence, amounts = _words(turf, paving, index, source, project.frost.depth)
    return FrostCheck(
        index=index,
        index_source=source,
        days=wave.days_below(0.0),
        mean=climate.mean,
        dry_density=density,
        moisture=moisture,
        conductivity=Band(*conductivity),
        assumed=" and ".join(name.replace("_", " ") for name in assumed),
        asked=project.frost.depth,
        turf=turf,
        paving=paving,
        sentence=sentence,
        amounts=amounts,
    )


def _index(project: Project, climate: ClimateUsed, weather_text: str) -> tuple[float, str]:
    if climate.design_index is not None:
        return climate.design_index, "the design winter"
    weather = climate_details(project, weather_text)
    if weather is not None:
        return weather.worst_by_curve, "the coldest winter of the weather file, by the curve"
    return climate.freezing_index, "the mean year, no design winter"


def _words(
    turf: FrostDepth, paving: FrostDepth | None, index: float, source: str, asked: float
) -> tuple[str, dict[str, Amount]]:
    """One or two sentences that set the computed depth beside the asked one."""
    shown = turf.berggren or turf.stefan
    amounts = {
        "depth": _whole_inches(shown.likely),
        "low": _whole_inches(shown.low),
        "high": _whole_inches(shown.high),
        "stefan": _whole_inches(turf.stefan.likely),
        "index": Amount(index, "degree_days"),
        "asked": Amount(asked, "inches"),
    }
    begins = f"With {{index}} ({source}) frost goes {{depth}} deep under turf by"
    if turf.berggren is None:
        return (
            f"{begins} Stefan's formula, {{low}} to {{high}} with the soil. The yearly mean is below freezing, "
            "where the ground may never thaw and no frost depth holds. A cross-check: the {asked} that the office asks "
            "for stand.",
            amounts,
        )
    sentence = (
        f"{begins} the modified Berggren formula, {{low}} to {{high}} with the soil, {{stefan}} by Stefan's."
    )
    deepest = shown.likely
    if paving and paving.berggren:
        deepest = paving.berggren.likely
        amounts["paving"] = _whole_inches(deepest)
        sentence += " Under paving kept free of snow it goes {paving} deep."
    sentence += " A cross-check: the {asked} that the office asks for stand."
    if deepest > asked:
        sentence += " They are less than computed: show it to the office."
    return sentence, amounts


def _whole_inches(depth: float) -> Amount:
    """The soil alone moves it by a third either way."""
    return Amount(round(depth / INCH) * INCH, "inches")
