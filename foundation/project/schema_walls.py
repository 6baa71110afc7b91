"""Inputs of the walls and of the work around them: ledges, openings, surroundings, stages."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from foundation.project.fields import Length, Number, Pressure, Section, Temperature, assumed
from foundation.project.schema_heat import FoamLayer, WallFoam

FOOT = 0.3048
INCH = FOOT / 12
YesNo = Literal["unknown", "yes", "no"]


class LedgeInput(Section):
    """A wall thinned to carry the edge of a slab, or a veneer."""

    level: Length = Field(description="Level of the ledge.")
    upper: Length = Field(gt=0.05, le=1, description="Thickness of the wall above it.")
    foam: Length = assumed(0.0, "none until chosen", "Edge foam that stands on the ledge.", ge=0, le=0.3)
    bearing: Length = Field(ge=0, le=0.6, description="Slab's edge, or veneer, that stands on it.")
    gap: Length = assumed(0.0, "none [practice]", "Left free on purpose.", ge=0, le=0.1)
    veneer: bool = Field(False, description="True for a veneer shelf.")


class WallSize(Section):
    """A wall line that differs from its part's."""

    line: str = Field(description="Wall line by its corners, such as A-B.")
    thickness: Length | None = Field(None, gt=0.05, le=1, description="Thickness of the concrete wall.")
    low_top: Length | None = Field(
        None, description="Top of the concrete where it may drop to a framed wall; nowhere when left out."
    )
    carries: Length | None = Field(
        None, gt=0, le=1, description="Thickness of the framed or other wall that stands on it."
    )
    ledge: LedgeInput | None = Field(None, description="Its ledge.")
    foam: WallFoam | None = Field(None, description="Its foam, in place of its part's.")
    footing_slope: Number | None = Field(
        None,
        ge=0,
        le=1,
        description="Slope of the bottom of footing, rise over run, where it is poured sloping.",
    )


class OpeningInput(Section):
    """A door, a window, an overhead door, a beam pocket or a sleeve in a wall."""

    name: str = Field(max_length=60, description="What it is called on the drawings.")
    kind: Literal["door", "window", "overhead door", "beam pocket", "sleeve"] = Field(
        "door", description="What it is; the wall is lowered under an overhead door."
    )
    line: str = Field(description="Wall line by its corners, such as A-B.")
    start: Length = Field(ge=0, description="Its near side, measured from the first-named corner.")
    width: Length = Field(gt=0, le=10, description="Its width.")
    bottom: Length = Field(description="Level of its lower edge.")
    height: Length = Field(gt=0, le=6, description="Its height.")
    edge_foam: FoamLayer | None = Field(
        None,
        description="Foam at the slab's edge under a door, between the inner slab and what lies outside.",
    )
    break_covered: YesNo = Field(
        "unknown",
        description="Whether wheels are kept off that foam: cut at 45 degrees under the concrete, or a plate over it.",
    )
    slab_through: YesNo = Field(
        "unknown",
        description="Whether apron or drive is poured in one with the slab through an overhead door.",
    )


class Trench(Section):
    """A trench for a pipe or a drain."""

    name: str = Field(max_length=60, description="What it is for.")
    start_east: Length = Field(description="One end, east.")
    start_north: Length = Field(description="One end, north.")
    end_east: Length = Field(description="Other end, east.")
    end_north: Length = Field(description="Other end, north.")
    bottom: Length = Field(description="Level of its bottom.")


class Surroundings(Section):
    """What lies around the house: street, drive, outlets, water, paving."""

    street_level: Length | None = Field(None, description="Level of the street at the drive.")
    drive_level: Length | None = Field(None, description="Level of the drive 10 ft out from the garage door.")
    drain_at_door: bool = Field(False, description="Whether a drain stands before the garage door.")
    sewer_outlet: Length | None = Field(None, description="Invert of the sewer at the house.")
    drain_invert: Length | None = Field(None, description="Invert of the footing drain at its low corner.")
    drain_outlet: Length | None = Field(None, description="Level where the footing drain comes to daylight.")
    drain_length: Length | None = Field(None, gt=0, le=500, description="Length of the drain to daylight.")
    water_level: Length | None = Field(None, description="Highest level that ground water has been seen at.")
    paved: list[str] = Field(default_factory=list, description="Wall lines with paving against them.")
    melted: list[str] = Field(
        default_factory=list, description="Wall lines with paving that is kept free of snow."
    )
    sill_treated: bool = assumed(
        True, "treated sills are usual [practice]", "Whether sills are treated wood."
    )
    surcharge: list[str] = Field(
        default_factory=list, description="Wall lines with wheels or a building close by."
    )
    trenches: list[Trench] = Field(default_factory=list, description="Trenches near footings.")


class Stage(Section):
    """How the work stands and how it will go on."""

    stands_winter: Literal["unknown", "no", "heated", "protected", "open"] = assumed(
        "unknown", "unknown counts as yes", "Whether the foundation stands a winter, and how."
    )
    deck_before_backfill: Literal["unknown", "yes", "braced", "no"] = assumed(
        "unknown", "unknown counts as no", "Whether the deck or bracing holds the wall tops before backfill."
    )
    slab_before_backfill: Literal["unknown", "yes", "other support", "no"] = assumed(
        "unknown",
        "unknown counts as no",
        "Whether the slab or other support holds the wall feet before backfill.",
    )
    air_at_pour: Temperature | None = Field(None, description="Coldest air expected at a pour.")
    frozen_ground: bool = Field(False, description="Whether ground or backfill is frozen.")
    temporary_heaters: bool = Field(False, description="Whether heaters burn in the closed basement.")
    dig_protection: Literal["unknown", "sloped", "shored"] = assumed(
        "unknown",
        "unknown counts as none",
        "How people in the dig are protected: sloped to the soil's class, or shored.",
    )
    bars_through_steps: YesNo = Field(
        "unknown", description="Whether the bar list carries bars through the steps."
    )
    leg_width: Length | None = Field(
        None,
        gt=0,
        le=3,
        description="Width of the steps' legs across the footing; the footing's own when left out.",
    )
    wall_concrete: Pressure | None = Field(None, gt=0, description="Strength of the walls' concrete.")
    garage_slab_concrete: Pressure | None = Field(
        None, gt=0, description="Strength of the garage slab's concrete."
    )
    over_dig: YesNo = Field("unknown", description="Whether a bench or a trench was dug deeper than planned.")


class IssuedSheet(Section):
    """A sheet that was given out."""

    sheet: str = Field(max_length=60, description="Which sheet.")
    revision: str = Field(max_length=20, description="Revision it was given out at.")
