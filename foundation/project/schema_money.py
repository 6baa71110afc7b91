"""Inputs of counting, prices, options, pours and levels as built."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from foundation.project.fields import (
    Date,
    Length,
    Money,
    MoneyPerArea,
    MoneyPerLength,
    MoneyPerVolume,
    Number,
    Percent,
    Pressure,
    Section,
    Temperature,
    assumed,
)

FOOT = 0.3048
YARD3 = (3 * FOOT) ** 3
BAND = "invented demo price ±30 %"


class Prices(Section):
    """Unit prices, with the day they were quoted."""

    concrete: MoneyPerVolume = assumed(190 / YARD3, BAND, "Concrete in place.", ge=0)
    forms: MoneyPerArea = assumed(7 / FOOT**2, BAND, "Forms, per area of contact.", ge=0)
    digging: MoneyPerVolume = assumed(14 / YARD3, BAND, "Digging.", ge=0)
    step: Money = assumed(115.0, BAND, "Each step: bulkhead, layout, hand work.", ge=0)
    bars: MoneyPerLength = assumed(1.1 / FOOT, BAND, "Reinforcing bar, of any size, in place.", ge=0)
    stone: MoneyPerVolume = assumed(48 / YARD3, BAND, "Clean stone in place.", ge=0)
    backfill: MoneyPerVolume = assumed(9 / YARD3, BAND, "Backfill, compacted.", ge=0)
    haul: MoneyPerVolume = assumed(16 / YARD3, BAND, "Spoil hauled away.", ge=0)
    drain: MoneyPerLength = assumed(4.5 / FOOT, BAND, "Drain pipe with its sock.", ge=0)
    retarder: MoneyPerArea = assumed(0.35 / FOOT**2, BAND, "Vapor retarder.", ge=0)
    dampproofing: MoneyPerArea = assumed(1.6 / FOOT**2, BAND, "Damp-proofing of walls below grade.", ge=0)
    tube: MoneyPerLength = assumed(1.35 / FOOT, BAND, "Tube in the floor, laid.", ge=0)
    panel: MoneyPerArea = assumed(2.4 / FOOT**2, BAND, "Knobbed panel.", ge=0)
    manifold: Money = assumed(650.0, BAND, "Manifold with valves and pump.", ge=0)
    slab_work: MoneyPerArea = assumed(2.2 / FOOT**2, BAND, "Placing and finishing of slabs.", ge=0)
    band: Percent = assumed(
        0.3, "±30 % [practice]", "How far off a price without a quote may be.", ge=0, le=1
    )
    stale_after: Number = assumed(
        90.0, "90 days [practice]", "Days after which a quote is stale.", gt=0, le=1000
    )
    quoted: Date | None = Field(None, description="Day of the quote.")
    source: str = Field("", max_length=120, description="Who quoted.")


class BarInput(Section):
    """Bars of a list by engineer or plan."""

    where: Literal["footings", "walls, upright", "walls, level", "slab"] = Field(
        "footings", description="What they lie in."
    )
    part: str = Field("", max_length=60, description="Part; all parts when left out.")
    size: Literal["#3", "#4", "#5", "#6"] = Field("#4", description="Size.")
    count: int | None = Field(None, ge=1, le=60, description="How many run along the footing.")
    spacing: Length | None = Field(None, gt=0.05, le=2, description="Spacing in walls and slabs.")
    grade: Literal["40 ksi", "60 ksi"] = Field("60 ksi", description="Grade; it sets the lap.")
    lap: Length | None = Field(None, gt=0.1, le=2, description="Lap; by size and grade when left out.")
    stock: Length = assumed(20 * FOOT, "20 ft bars [practice]", "Length of a bar as bought.", gt=1, le=20)
    by: str = Field("", max_length=120, description="Who listed them: engineer or plan.")


class Waste(Section):
    """What is ordered over what is drawn."""

    concrete: Percent = assumed(
        0.05, "5 %, sources differ from 3 to 10 [practice]", "Of concrete.", ge=0, le=0.3
    )
    stone: Percent = assumed(0.1, "10 % [practice]", "Of stone.", ge=0, le=0.5)
    retarder_lap: Length = assumed(0.1524, "6 in, IRC R506 [read]", "Lap of the vapor retarder.", ge=0, le=1)
    retarder_width: Length = assumed(
        20 * FOOT, "20 ft rolls [practice]", "Width of a roll of it.", gt=0.5, le=20
    )
    truck: Number = assumed(10.0, "10 yd³ [practice]", "Cubic yards that a truck carries.", gt=1, le=15)
    rise_rate: Length = assumed(
        4 * FOOT,
        "4 ft an hour [practice]; the forms' maker decides",
        "How fast walls are filled an hour.",
        gt=0.1,
        le=5,
    )
    sheet_length: Length = assumed(
        8 * FOOT, "8 ft sheets [practice]", "Length of a foam sheet.", gt=0.5, le=4
    )
    sheet_width: Length = assumed(4 * FOOT, "4 ft sheets [practice]", "Width of a foam sheet.", gt=0.3, le=3)


class Pour(Section):
    """How far a pour has come; what is poured is locked."""

    name: str = Field(max_length=60, description="Which pour: footings, walls, slab, or a part's own.")
    state: Literal["planned", "ordered", "poured"] = Field("planned", description="How far it has come.")
    date: Date | None = Field(None, description="Since when.")
    mix: str = Field("", max_length=80, description="Mix as ordered.")
    strength: Pressure | None = Field(None, gt=0, description="Strength of the mix.")
    air: Percent | None = Field(None, ge=0, le=0.12, description="Entrained air of the mix.")
    temperature: Temperature | None = Field(None, description="Concrete's temperature as delivered.")


class OptionInput(Section):
    """A choice that differs from the project in a few fields."""

    name: str = Field(min_length=1, max_length=60, description="What the client calls it.")
    why: str = Field("", max_length=200, description="What it is for, in the client's words.")
    changes: dict[str, str] = Field(
        default_factory=dict,
        description="For each field's path what stands there instead; empty takes it out.",
    )


class Loan(Section):
    """How the client pays."""

    rate: Percent = assumed(0.065, "6.5 % a year [practice]", "Yearly interest.", ge=0, le=0.3)
    years: int = assumed(30, "a mortgage's life [practice]", "Years.", ge=1, le=40)


class AsBuilt(Section):
    """A level as it was built."""

    what: Literal["bottom of footing", "top of footing", "top of wall", "slab", "finished grade"] = Field(
        description="What was measured."
    )
    line: str = Field("", max_length=20, description="Wall line by its corners; none for a slab.")
    part: str = Field("", max_length=60, description="Part, for a slab.")
    station: Length | None = Field(None, ge=0, description="Station on the line.")
    level: Length | None = Field(None, description="Level as measured.")
    rod: Length | None = Field(None, description="Rod as read from today's set-up, in place of the level.")
    date: Date | None = Field(None, description="When.")
    who: str = Field("", max_length=80, description="Who measured.")
