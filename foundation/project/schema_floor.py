"""Inputs of the warm floors: zones, what covers them, tube, water, what stands in the way."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from foundation.project.fields import (
    Area,
    HeatFlux,
    Length,
    Number,
    Percent,
    Power,
    Resistance,
    Section,
    Temperature,
    TemperatureDifference,
    Transmittance,
    Volume,
    assumed,
)

INCH = 0.0254


class Place(Section):
    """A point on the plan."""

    east: Length = Field(description="East of the survey's origin.")
    north: Length = Field(description="North of the survey's origin.")


class Box(Section):
    """A rectangle along east and north, by two opposite corners."""

    start_east: Length = Field(description="One corner, east.")
    start_north: Length = Field(description="One corner, north.")
    end_east: Length = Field(description="Opposite corner, east.")
    end_north: Length = Field(description="Opposite corner, north.")


class LayerInput(Section):
    """One layer of a wall, a ceiling or a roof."""

    name: str = Field(max_length=60, description="What it is.")
    resistance: Resistance = Field(ge=0, le=30, description="Its R over the cavity.")
    framed: Resistance | None = Field(
        None,
        ge=0,
        le=30,
        description="Its R over the framing, where studs take its place; the same when left out.",
    )


class SurfaceInput(Section):
    """A surface through which the room above loses heat."""

    name: str = Field(max_length=60, description="Which wall, window, door, ceiling.")
    area: Area = Field(gt=0, le=5000, description="Its area.")
    transmittance: Transmittance | None = Field(
        None, gt=0, le=10, description="Its U, for windows and doors; from its layers when left out."
    )
    layers: list[LayerInput] = Field(default_factory=list, max_length=12, description="Its layers.")
    framing: Percent = assumed(
        0.25, "a quarter, studs and plates [practice]", "Share of framing.", ge=0, le=0.6
    )


class RoomLoad(Section):
    """The room's load, surface by surface; the ground's share comes from the heat model."""

    surfaces: list[SurfaceInput] = Field(default_factory=list, max_length=60, description="Surfaces above.")
    volume: Volume | None = Field(None, gt=0, le=10000, description="Volume of air.")
    air_change: Number | None = Field(None, ge=0, le=10, description="Air changes an hour.")


class ZoneInput(Section):
    """A zone of heated floor."""

    name: str = Field(min_length=1, max_length=60, description="What it is called.")
    part: str = Field(max_length=60, description="Part whose slab it is in.")
    use: Literal["occupied", "edge strip", "bath", "garage"] = assumed(
        "occupied",
        "the strictest floor limit but a garage's",
        "What the floor is used for; it sets the limit.",
    )
    box: Box | None = Field(None, description="Its rectangle; all of the part that is left when left out.")
    corners: list[Place] = Field(
        default_factory=list, max_length=60, description="Its corners in order, in place of a rectangle."
    )
    air: Temperature | None = Field(None, ge=0, le=35, description="Air over it; the part's when left out.")
    load: HeatFlux | None = Field(None, gt=0, le=400, description="What it has to give, of its area.")
    total_load: Power | None = Field(
        None, gt=0, le=1e5, description="What it has to give in all, in its place."
    )
    room: RoomLoad = Field(default_factory=RoomLoad, description="The load by the room's surfaces.")
    finish: str = Field("", max_length=60, description="What covers the slab, in words.")
    finish_resistance: Resistance | None = Field(
        None,
        ge=0,
        le=1,
        description="R of what covers the slab; bare and carpet are both shown when left out.",
    )
    spacing: Length | None = Field(
        None, gt=0.05, le=0.6, description="Tube spacing; the widest that carries the load when left out."
    )
    comfort: Temperature | None = Field(
        None,
        ge=15,
        le=40,
        description="Hottest floor surface that is wished for; the use's limit when left out.",
    )

    @model_validator(mode="after")
    def _one_shape(self) -> ZoneInput:
        if self.box is not None and self.corners:
            raise ValueError("The zone has both a rectangle and corners: give one of them.")
        if self.corners and len(self.corners) < 3:
            raise ValueError("A zone needs at least three corners.")
        if self.load is not None and self.total_load is not None:
            raise ValueError("The zone has a load of its area and one in all: give one of them.")
        return self


class Obstacle(Section):
    """What the tube goes round: a post, a drain, a strip kept free for a partition or fixings."""

    name: str = Field(max_length=60, description="What it is.")
    part: str = Field(max_length=60, description="Part whose slab it is in.")
    kind: Literal["post", "drain", "free strip"] = Field("post", description="Which of them.")
    box: Box = Field(description="Where it is; a post's or drain's own outline.")


class JointInput(Section):
    """A joint in a slab."""

    name: str = Field(max_length=60, description="What it is called.")
    part: str = Field(max_length=60, description="Part whose slab it is in.")
    kind: Literal["saw cut", "construction", "isolation", "expansion"] = Field(
        "saw cut",
        description="Saw cuts may be crossed by tube that lies deep enough; the others by sleeved leaders.",
    )
    start: Place = Field(description="One end.")
    end: Place = Field(description="Other end.")
    depth: Length | None = Field(
        None, gt=0, le=0.3, description="Depth of a saw cut; a quarter of the slab when left out [practice]."
    )


class ManifoldInput(Section):
    """Where a part's loops begin and end."""

    name: str = Field(max_length=60, description="What it is called.")
    part: str = Field(max_length=60, description="Part whose loops it serves.")
    at: Place = Field(description="Where it stands.")


class Floors(Section):
    """Tube, water and how the tube is held; one for the whole job."""

    tube: Literal["3/8", "1/2", "5/8", "3/4"] = assumed(
        "1/2", "usual in slabs [practice]", "Size of PEX tube."
    )
    held: Literal["tied to mesh", "stapled to foam", "knobbed panel"] = assumed(
        "tied to mesh", "usual [practice]", "How the tube is held: it sets depth, spacing and concrete."
    )
    axis_depth: Length | None = Field(
        None,
        gt=0,
        le=0.4,
        description="Axis of the tube under the top of slab; by how it is held when left out.",
    )
    knob_spacing: Length = assumed(
        3 * INCH, "3 in [practice]", "Spacing of a knobbed panel's knobs.", gt=0.02, le=0.3
    )
    panel_base: Length = assumed(
        0.0, "as the foam under the slab", "Thickness of the panel's base under the tube.", ge=0, le=0.2
    )
    fluid: Literal["water", "propylene glycol"] = assumed("water", "indoors", "What runs in the tube.")
    glycol: Percent | None = Field(None, gt=0, le=0.6, description="Glycol in the mixture, by volume.")
    drop: TemperatureDifference = assumed(
        15 / 1.8, "15 °F [practice]", "Water cooler when it comes back.", gt=1, le=30
    )
    longest_loop: Length | None = Field(
        None, gt=5, le=300, description="Longest loop with its leaders; the tube's own limit when left out."
    )
    equal_within: Percent = assumed(0.1, "10 % [practice]", "How far loops of a zone may differ.", gt=0, le=1)
    from_wall: Length = assumed(6 * INCH, "6 in [practice]", "Tube keeps off walls by.", ge=0, le=0.5)
    from_joint: Length = assumed(
        6 * INCH, "6 in [practice]", "Tube keeps off joints that it may not cross by.", ge=0, le=0.5
    )
    coil: Length = assumed(1000 * 0.3048, "1,000 ft coils [practice]", "Length of a coil.", gt=30, le=1000)
    fluid_by_part: dict[str, FluidInput] = Field(
        default_factory=dict, description="Parts with a fluid of their own."
    )
    retarder: Literal["unknown", "over foam", "panel's own film", "both", "none"] = Field(
        "unknown", description="Where the vapor retarder lies."
    )
    pressure_test: Literal["unknown", "water", "air", "none"] = Field(
        "unknown", description="What the tube is tested with, and holds during the pour."
    )
    air_test_allowed: Literal["unknown", "yes", "no"] = Field(
        "unknown", description="Whether the tube's maker and the office allow a test with air."
    )
    freezing_weather: bool = Field(False, description="Whether it may freeze while the tube is filled.")
    oxygen_barrier: Literal["unknown", "yes", "no"] = Field(
        "unknown", description="Whether the tube has an oxygen barrier."
    )


class FluidInput(Section):
    """A part's own fluid."""

    fluid: Literal["water", "propylene glycol"] = Field(
        "propylene glycol", description="What runs in the tube."
    )
    glycol: Percent | None = Field(None, gt=0, le=0.6, description="Glycol in the mixture, by volume.")


Floors.model_rebuild()
