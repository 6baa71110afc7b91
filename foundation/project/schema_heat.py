"""Inputs of heat and foam: climate, soil, foam, what stands on the wall, fuel and money."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, field_validator, model_validator

from foundation.project.fields import (
    Conductivity,
    Date,
    DegreeDays,
    Density,
    Force,
    Length,
    Money,
    MoneyPerArea,
    MoneyPerVolume,
    Number,
    Percent,
    Resistance,
    Section,
    Temperature,
    TemperatureDifference,
    assumed,
)

INCH = 0.0254
POUND = 4.4482216152605
F = 1 / 1.8


class ClimateInput(Section):
    """The year outdoors: degree days with the same year's freezing index, or monthly means, or a weather file."""

    degree_days: DegreeDays | None = Field(
        None, gt=0, le=9000, description="Heating degree days of a mean year."
    )
    base: Temperature = assumed(65 * F - 32 * F, "65 °F [practice]", "Base of the degree days.", gt=0, le=30)
    freezing_index: DegreeDays | None = Field(
        None, ge=0, le=5000, description="Freezing index of the same year; never a design winter's."
    )
    swing: TemperatureDifference = assumed(
        29 * F,
        "29 °F, 25 to 33 in cold climates [practice]",
        "Half of what lies between the coldest and the warmest day, where no freezing index is given.",
        gt=0,
        le=35,
    )
    monthly: list[Temperature] = Field(
        default_factory=list, max_length=12, description="Mean temperature of each month from January on."
    )
    weather: str = Field(
        "",
        max_length=200,
        description="Name of a file of hourly or daily temperatures, beside the project file.",
    )
    source: str = Field("", max_length=200, description="Where the climate comes from.")
    design_temperature: Temperature | None = Field(
        None, ge=-60, le=20, description="Outdoor design temperature for heating, from office or handbook."
    )
    design_source: str = Field("", max_length=200, description="Who gave the design temperature.")
    design_index: DegreeDays | None = Field(
        None,
        gt=0,
        le=6000,
        description="Freezing index of the design winter, for the freezing picture alone.",
    )

    @field_validator("monthly")
    @classmethod
    def _twelve(cls, values: list[float]) -> list[float]:
        if values and len(values) != 12:
            raise ValueError(f"{len(values)} monthly means: give all twelve, from January on.")
        return values

    @field_validator("weather")
    @classmethod
    def _beside_the_project(cls, name: str) -> str:
        if name and (set(name) & set("/\\:\0") or name.startswith(".")):
            raise ValueError(
                f'"{name}" is not the plain name of a file beside the project file, such as weather.csv.'
            )
        return name


class SoilInput(Section):
    """What the ground conducts: by class, by moisture and density, or as typed."""

    ground: Literal["clay or silt", "sand or gravel", "rock"] = assumed(
        "clay or silt", "moist silt or clay [practice]", "Class of the ground, ISO 13370."
    )
    dry_density: Density | None = Field(
        None, ge=800, le=2400, description="Dry density; with the moisture it gives the conductivity."
    )
    moisture: Percent | None = Field(None, gt=0, le=0.6, description="Water by weight of dry soil.")
    conductivity: Conductivity | None = Field(
        None, gt=0.2, le=6, description="Likely conductivity, as measured."
    )
    conductivity_low: Conductivity | None = Field(None, gt=0.1, le=6, description="Low conductivity, dry.")
    conductivity_high: Conductivity | None = Field(None, gt=0.2, le=8, description="High conductivity, wet.")

    @model_validator(mode="after")
    def _rising(self) -> SoilInput:
        given = [
            v for v in (self.conductivity_low, self.conductivity, self.conductivity_high) if v is not None
        ]
        if given != sorted(given):
            raise ValueError(
                "The low, likely and high conductivity of the ground do not rise: give them in that order."
            )
        return self


class FoamLayer(Section):
    """Rigid foam of one type."""

    board: str = assumed("XPS IV", "a common board [practice]", "Type of board, such as EPS II or XPS IV.")
    thickness: Length = Field(gt=0, le=0.4, description="Thickness.")


class Wing(Section):
    """Foam lying in the ground, outward from the wall."""

    board: str = assumed("XPS IV", "a common board [practice]", "Type of board.")
    thickness: Length = Field(gt=0, le=0.4, description="Thickness.")
    width: Length = Field(gt=0.1, le=4, description="Outward from the wall's face, or from the foam on it.")
    depth: Length = assumed(12 * INCH, "12 in [practice]", "Its top below finished grade.", ge=0, le=2)


class WallFoam(Section):
    """Foam on a wall and at the slab's edge."""

    outside: FoamLayer | None = Field(None, description="On the outer face, from the top of concrete down.")
    outside_depth: Length | None = Field(
        None, gt=0, le=6, description="Down to this depth below finished grade; to the footing when left out."
    )
    inside: FoamLayer | None = Field(
        None, description="On the inner face, from the top of concrete to the slab."
    )
    slab_edge: FoamLayer | None = Field(None, description="Between the slab's edge and the wall.")
    wing: Wing | None = Field(None, description="Lying outward in the ground.")


class PartFoam(WallFoam):
    """Foam of a part of the building; single wall lines may differ."""

    under_slab: FoamLayer | None = Field(
        None, description="Under the slab; over the footing it is as thick as foam_over_footing says."
    )
    under_footing: FoamLayer | None = Field(
        None, description="Under the footing: an engineer's matter, held back until one has signed."
    )
    under_slab_band: Length | None = Field(
        None, gt=0, le=10, description="Width of it from the wall inward; under the whole slab when left out."
    )


class Frame(Section):
    """The framed wall that stands on the concrete, and how its insulation meets the foam below."""

    thickness: Length = assumed(5.5 * INCH, "2 × 6 [practice]", "Of the studs and the sill.", gt=0.05, le=0.5)
    resistance: Resistance = assumed(
        19 * 0.176110,
        "R-19 batts [practice]",
        "Of the wall with its batts, without foam outside.",
        gt=0.1,
        le=20,
    )
    outside_foam: FoamLayer | None = Field(None, description="Foam on the sheathing.")
    outside_foam_laps: Length = assumed(
        0.0,
        "stops at the sill",
        "How far the foam on the sheathing runs down over the concrete.",
        ge=0,
        le=0.6,
    )
    closing_strip: bool = assumed(
        True, "treated strip [practice]", "Whether a treated strip closes the foam's lower edge."
    )
    sill_seal: bool = assumed(True, "usual [practice]", "Whether a seal lies under the sill.")
    flashing: bool = assumed(
        True, "usual [practice]", "Whether flashing laps from the sheathing to the concrete."
    )


class SlabLoad(Section):
    """A load that stands or rolls on a slab over foam."""

    name: str = Field(max_length=80, description="What it is: a post, a lift, a wheel.")
    part: str = Field(max_length=60, description="Part whose slab it is on.")
    force: Force = Field(gt=0, le=1e6, description="Its weight.")
    side: Length = assumed(
        4.5 * INCH, "a tyre or a post plate [practice]", "Side of its square foot.", gt=0, le=2
    )
    moves: bool = assumed(False, "stands", "Whether it rolls or walks.")
    at: Literal["middle", "edge", "corner"] = Field("middle", description="Where on the slab.")


class Required(Section):
    """Insulation that the local office asks for. Never assumed."""

    edge: Resistance | None = Field(None, ge=0, le=15, description="At the slab's edge.")
    edge_depth: Length | None = Field(None, ge=0, le=3, description="How far it has to reach down or inward.")
    wall: Resistance | None = Field(None, ge=0, le=15, description="On basement walls, continuous.")
    heated_slab: Resistance | None = Field(None, ge=0, le=15, description="Under a heated slab.")
    source: str = Field("", max_length=200, description="Who said so.")
    date: Date | None = Field(None, description="When they said so.")


class Fuel(Section):
    """What heats the house."""

    kind: Literal["natural gas", "propane", "fuel oil", "electricity"] = assumed(
        "propane",
        "invented for comparing",
        "Fuel; electricity with a seasonal efficiency above 1 for a heat pump.",
    )
    price: Money | None = Field(
        None, gt=0, le=1000, description="Per therm of gas, gallon of propane or oil, or kWh of electricity."
    )
    efficiency: Number = assumed(0.9, "a condensing boiler [practice]", "Heat over fuel.", gt=0.2, le=7)
    escalation: Percent = assumed(
        0.01,
        "1 % a year above inflation [practice]",
        "Yearly rise of the price above inflation.",
        ge=-0.05,
        le=0.1,
    )
    escalation_band: Percent = assumed(
        0.02, "±2 % a year [practice]", "How far off that may be, either way.", ge=0, le=0.1
    )
    quoted: Date | None = Field(None, description="Day of the price.")
    source: str = Field("", max_length=120, description="Who quoted.")


class Finance(Section):
    """How yearly savings are weighed against money spent now."""

    discount_rate: Percent = assumed(
        0.03, "3 % real, as federal life-cycle studies take [practice]", "Real discount rate.", gt=0, le=0.2
    )
    years: int = assumed(30, "a mortgage's life [practice]", "Years that are counted.", ge=1, le=60)


class BoardPrice(Section):
    """Price of a type of board."""

    board: str = Field(max_length=40, description="Type of board, such as XPS IV.")
    price: MoneyPerVolume = Field(ge=0, description="Price; a board foot is a square foot an inch thick.")
    quoted: Date | None = Field(None, description="Day of the quote.")
    source: str = Field("", max_length=120, description="Who quoted.")


class FoamPrices(Section):
    """What foam costs."""

    boards: list[BoardPrice] = Field(
        default_factory=list, max_length=30, description="Price of each type; invented ones where left out."
    )
    laying: MoneyPerArea = assumed(
        0.75 / 0.3048**2, "invented, ±30 %", "Laying or fixing, for each layer.", ge=0
    )
    cover: MoneyPerArea = assumed(
        4.0 / 0.3048**2, "invented, ±30 %", "Cover of foam above grade outside.", ge=0
    )
