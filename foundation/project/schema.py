"""The project file's inputs: one class a table, units stripped to SI on the way in.

The reference page ``docs/project-file.md`` is made from this module.
"""

from __future__ import annotations

import re
from typing import Literal

from pydantic import Field, field_validator, model_validator

from foundation.project.fields import (
    Date,
    Length,
    Number,
    Percent,
    Section,
    Temperature,
    assumed,
)
from foundation.project.schema_floor import Floors, JointInput, ManifoldInput, Obstacle, ZoneInput
from foundation.project.schema_ground import FOOT, INCH, Frost, Ground, Levels
from foundation.project.schema_heat import (
    ClimateInput,
    Finance,
    FoamPrices,
    Frame,
    Fuel,
    PartFoam,
    Required,
    SlabLoad,
    SoilInput,
)
from foundation.project.schema_money import AsBuilt, BarInput, Loan, OptionInput, Pour, Prices, Waste
from foundation.project.schema_walls import IssuedSheet, OpeningInput, Stage, Surroundings, WallSize

SCHEMA_VERSION = 1
YARD3 = (3 * FOOT) ** 3

Use = Literal["basement", "crawl space", "slab on grade", "garage", "porch", "interior wall"]
SoilClass = Literal["rock", "A", "B", "C"]


class Corner(Section):
    """A corner of the plan, on the outside face of the concrete."""

    east: Length = Field(description="East of the survey's origin.")
    north: Length = Field(description="North of the survey's origin.")


class Part(Section):
    """A part of the building: its outline, floor, walls and footing."""

    name: str = Field(min_length=1, max_length=60, description="What it is called on the drawings.")
    use: Use = Field("basement", description="What the space inside the wall is.")
    corners: list[str] = Field(
        min_length=2,
        description="Corner names round the part; a ring unless it begins and ends on another part's wall.",
    )
    ring: bool = Field(
        True, description="False when the part tees into another part at its first and last corner."
    )
    heated: bool | None = Field(
        None, description="Whether the space is heated in winter; a garage or porch is not unless it says so."
    )
    wall_top: Length | None = Field(None, description="Level of the top of wall.")
    slab_top: Length | None = Field(None, description="Level of the top of slab.")
    wall_height: Length = assumed(
        9 * FOOT, "a 9 ft form [practice]", "Height of the wall where it is not stepped.", gt=0.2, le=6
    )
    wall_thickness: Length = assumed(
        10 * INCH, "unsized: engineer or office [practice]", "Wall thickness.", gt=0.05, le=1
    )
    footing_width: Length = assumed(
        20 * INCH, "unsized: engineer or office [practice]", "Footing width.", gt=0.1, le=3
    )
    footing_thickness: Length = assumed(
        10 * INCH, "unsized: engineer or office [practice]", "Footing thickness.", ge=6 * INCH - 1e-9, le=1.5
    )
    sized_by: str = Field(
        "", max_length=120, description="Who sized wall and footing; unsized until they are named."
    )
    slab_thickness: Length = assumed(4 * INCH, "4 in slab [practice]", "Slab thickness.", ge=0, le=0.6)
    foam_over_footing: Length = assumed(
        0.0, "none until chosen", "Foam between footing and slab.", ge=0, le=0.6
    )
    stone_over_footing: Length = assumed(
        0.0, "none until chosen", "Stone between footing and slab.", ge=0, le=1
    )
    walls: list[WallSize] = Field(default_factory=list, description="Wall lines that differ.")
    foam: PartFoam = Field(default_factory=PartFoam, description="Its foam.")
    temperature: Temperature | None = Field(
        None,
        ge=-10,
        le=35,
        description="Air in winter; by the use when left out, 70 °F or 50 °F in a garage.",
    )
    humidity: Percent = assumed(
        0.4, "40 % in winter [practice]", "Relative humidity of the air in winter.", gt=0, le=1
    )
    floor_heated: bool = assumed(False, "until warm floors are chosen", "Whether its slab is heated.")

    @model_validator(mode="after")
    def _sound(self) -> Part:
        if self.ring and len(self.corners) < 3:
            raise ValueError("A ring needs at least three corners: name them all, or set ring = false.")
        repeated = sorted({name for name in self.corners if self.corners.count(name) > 1})
        if repeated:
            raise ValueError(f"Corner {repeated[0]} is named twice: name each corner of the part once.")
        thick = max([self.wall_thickness, *(wall.thickness or 0.0 for wall in self.walls)])
        if self.footing_width < thick:
            raise ValueError(
                f"The footing ({self.footing_width / INCH:.4g} in) is narrower than the wall on it "
                f"({thick / INCH:.4g} in): widen the footing."
            )
        return self

    @property
    def is_heated(self) -> bool:
        """Whether the inside counts as heated: as typed, else by the use."""
        return (
            self.heated
            if self.heated is not None
            else self.use in ("basement", "crawl space", "slab on grade", "interior wall")
        )

    @property
    def air(self) -> float:
        """Air inside in winter: as typed, else by the use (70 °F; 50 °F in a garage) [practice]. [°C]"""
        if self.temperature is not None:
            return self.temperature
        return 10.0 if self.use == "garage" else 38 / 1.8

    @property
    def build_up(self) -> float:
        """Height from the top of footing to the top of slab that passes over it. [m]"""
        return self.slab_thickness + self.foam_over_footing + self.stone_over_footing


class NoStep(Section):
    """A stretch of wall in which no step may stand."""

    line: str = Field(description="Wall line by its corners, such as A-B.")
    start: Length = Field(ge=0, description="From, measured from the first-named corner.")
    end: Length = Field(ge=0, description="To, measured from the first-named corner.")
    why: str = Field("", max_length=120, description="Why: an opening, a pad.")


class Rules(Section):
    """The step rules: a named set, each number of which may be replaced."""

    set: str = assumed(
        "trade-24", "[practice]", "Name of the rule set: code-text, canada-600, trade-24 or own."
    )
    rise: Length | None = Field(None, gt=0, le=3, description="Most that one step may rise.")
    run: Length | None = Field(None, ge=0, le=10, description="Least length of a run.")
    rise_over_run: Number | None = Field(None, gt=0, le=5, description="Most that rise over run may be.")
    ratio_binds: Literal["lower", "both"] | None = Field(
        None, description="Which run beside a step the ratio binds: the lower one, or both."
    )
    module: Length | None = Field(None, gt=0, le=1, description="Rises are whole multiples of it.")
    leg: Length | None = Field(None, ge=6 * INCH - 1e-9, le=1, description="Thickness of the leg of a step.")
    station_grid: Length = assumed(
        3 * INCH,
        "3 in [practice]",
        "Steps stand at multiples of it from a line's first corner.",
        ge=INCH,
        le=2,
    )
    corner_clearance: Length = assumed(
        24 * INCH,
        "no step closer to a corner than the least run [practice]",
        "Least distance of a step from a corner.",
        ge=0,
        le=3,
    )
    tallest_wall: Length | None = Field(
        None,
        gt=0.5,
        le=9,
        description="Tallest wall that the forms or the permit allow; no limit when left out.",
    )
    no_steps: list[NoStep] = Field(default_factory=list, description="Stretches without a step.")


class Forms(Section):
    """The forms on the yard."""

    heights: list[Length] = assumed(
        [2 * FOOT, 4 * FOOT, 8 * FOOT, 9 * FOOT],
        "2, 4, 8 and 9 ft panels [practice]",
        "Panel heights that stack.",
        min_length=1,
        max_length=12,
    )
    widths: list[Length] = assumed(
        [2 * FOOT, 3 * FOOT, 4 * FOOT, 8 * FOOT],
        "2, 3, 4 and 8 ft panels [practice]",
        "Panel widths.",
        min_length=1,
        max_length=12,
    )

    @field_validator("heights", "widths")
    @classmethod
    def _real_panels(cls, sizes: list[float]) -> list[float]:
        for size in sizes:
            if not 0.1 <= size <= 6:
                raise ValueError(f"A panel of {size / INCH:.4g} in: panels measure 4 in to 20 ft.")
        return sizes


class Digging(Section):
    """How the hole is dug."""

    soil_class: SoilClass = assumed(
        "C", "the loosest class until a competent person says so [practice]", "Excavation class of the soil."
    )
    slope: Number | None = Field(
        None,
        gt=0,
        le=4,
        description="Rise over run of the dig's side; by the soil class when left out (A 4/3, B 1, C 2/3).",
    )
    working_room: Length = assumed(
        2 * FOOT, "2 ft [practice]", "Room dug beside the footing on each side.", ge=0, le=3
    )
    over_dig: Length = assumed(
        6 * INCH, "6 in [practice]", "How far the dig's foot may wander beyond the working room.", ge=0, le=2
    )

    deepest: Length | None = Field(
        None, description="Level below which nothing is dug: rock, water, a pipe; no limit when left out."
    )

    @property
    def side_slope(self) -> float:
        """Rise over run of the dig's side: as typed, else the soil class's (29 CFR 1926 subpart P app. B). [-]"""
        return (
            self.slope
            if self.slope is not None
            else {"rock": 1e3, "A": 4 / 3, "B": 1.0, "C": 2 / 3}[self.soil_class]
        )


class Extra(Section):
    """A footing beside the network: a pad, a stoop or porch footing; its size is by others."""

    name: str = Field(max_length=60, description="What it is called on the drawings.")
    kind: Literal["pad", "stoop", "porch footing"] = Field("pad", description="What it is.")
    east: Length = Field(description="Its middle, east.")
    north: Length = Field(description="Its middle, north.")
    length: Length = Field(gt=0.1, le=10, description="Length, east–west.")
    width: Length = Field(gt=0.1, le=10, description="Width, north–south.")
    thickness: Length = Field(ge=6 * INCH - 1e-9, le=2, description="Thickness.")
    inside: str = Field(
        "", max_length=60, description="Part whose heated space it stands in; outdoors when left out."
    )
    sized_by: str = Field("", max_length=120, description="Who sized it; unsized until they are named.")


class OwnRun(Section):
    """A stretch of footing at a level of the user's own; where none is given the least-cost answer holds."""

    line: str = Field(description="Wall line by its corners, such as A-B.")
    start: Length = Field(ge=0, description="From, measured from the first-named corner.")
    end: Length = Field(ge=0, description="To, measured from the first-named corner.")
    bottom: Length = Field(description="Level of the bottom of footing.")


class Initials(Section):
    """Someone has read a caution: who, when, and the number that had tripped it."""

    caution: str = Field(max_length=160, description="The caution's key and place.")
    number: str = Field(
        max_length=120, description="The number that tripped it; another number un-initials it."
    )
    who: str = Field(min_length=1, max_length=80, description="Initials, or the engineer's name.")
    date: Date = Field(description="Day it was read.")
    role: Literal["builder", "designer", "office", "engineer"] = Field("builder", description="Who they are.")


class Project(Section):
    """Everything a project says; what was left out is assumed and marked."""

    schema_version: int = Field(alias="schema", description="Version of this file's form.")
    name: str = Field("", max_length=200, description="Name of the job.")
    place: str = Field("", max_length=200, description="Where it is.")
    revision: str = Field("A", max_length=20, description="Revision of the drawings.")
    units: Literal["us", "metric"] = Field("us", description="Units on screens and papers.")
    frost: Frost = Field(description="Frost depth.")
    ground: Ground = Field(default_factory=Ground, description="Grades.")
    levels: Levels = Field(default_factory=Levels, description="Benchmark and instrument.")
    corners: dict[str, Corner] = Field(min_length=2, description="Corners by name.")
    parts: list[Part] = Field(min_length=1, max_length=12, description="House first, then what tees into it.")
    rules: Rules = Field(default_factory=Rules, description="Step rules.")
    forms: Forms = Field(default_factory=Forms, description="Forms.")
    digging: Digging = Field(default_factory=Digging, description="Digging.")
    prices: Prices = Field(default_factory=Prices, description="Prices.")
    extras: list[Extra] = Field(
        default_factory=list, max_length=60, description="Pads, stoops, porch footings."
    )
    raise_by: Length = Field(
        0.0, ge=-3, le=3, description="How much higher the whole building is set than its typed levels."
    )
    openings: list[OpeningInput] = Field(
        default_factory=list, max_length=200, description="Openings in the walls."
    )
    surroundings: Surroundings = Field(
        default_factory=Surroundings, description="What lies around the house."
    )
    stage: Stage = Field(default_factory=Stage, description="How the work stands and goes on.")
    climate: ClimateInput = Field(default_factory=ClimateInput, description="The year outdoors.")
    soil: SoilInput = Field(default_factory=SoilInput, description="What the ground conducts.")
    frame: Frame = Field(default_factory=Frame, description="The framed wall on the concrete.")
    required: Required = Field(default_factory=Required, description="Insulation that the office asks for.")
    foam_basis: Literal["design guide", "label", "aged"] = assumed(
        "design guide",
        "R in wet ground by design guide [memory]",
        "Which R of foam the heat is computed with.",
    )
    slab_loads: list[SlabLoad] = Field(
        default_factory=list, max_length=40, description="Loads on slabs over foam."
    )
    foam_prices: FoamPrices = Field(default_factory=FoamPrices, description="What foam costs.")
    fuel: Fuel = Field(default_factory=Fuel, description="What heats the house.")
    finance: Finance = Field(default_factory=Finance, description="How savings are weighed.")
    floors: Floors = Field(default_factory=Floors, description="Tube, water, and how the tube is held.")
    zones: list[ZoneInput] = Field(default_factory=list, max_length=40, description="Zones of heated floor.")
    obstacles: list[Obstacle] = Field(
        default_factory=list, max_length=100, description="What the tube goes round."
    )
    joints: list[JointInput] = Field(default_factory=list, max_length=100, description="Joints in slabs.")
    manifolds: list[ManifoldInput] = Field(
        default_factory=list, max_length=20, description="Where loops begin and end."
    )
    own_runs: list[OwnRun] = Field(
        default_factory=list, max_length=200, description="A stepping of your own, beside the three answers."
    )
    issued: list[IssuedSheet] = Field(
        default_factory=list, max_length=200, description="Sheets that were given out."
    )
    initials: list[Initials] = Field(default_factory=list, description="Cautions that were read.")
    bars: list[BarInput] = Field(
        default_factory=list, max_length=60, description="Bars by engineer or plan; none are made up."
    )
    waste: Waste = Field(default_factory=Waste, description="What is ordered over what is drawn.")
    options: list[OptionInput] = Field(
        default_factory=list, max_length=12, description="Choices beside this project."
    )
    loan: Loan = Field(default_factory=Loan, description="How the client pays.")
    as_built: list[AsBuilt] = Field(default_factory=list, max_length=500, description="Levels as built.")
    pours: list[Pour] = Field(default_factory=list, description="How far each pour has come.")

    @field_validator("corners")
    @classmethod
    def _plain_names(cls, corners: dict[str, Corner]) -> dict[str, Corner]:
        for name in corners:
            if not re.fullmatch(r"[A-Za-z0-9]{1,8}", name):
                raise ValueError(
                    f'Corner "{name}": name it with up to eight letters and digits, such as E or NW2.'
                )
        return corners

    @model_validator(mode="after")
    def _corners_exist(self) -> Project:
        names = [part.name for part in self.parts]
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            raise ValueError(f'Two parts are called "{twice[0]}": give each part a name of its own.')
        for part in self.parts:
            for name in part.corners:
                if name not in self.corners:
                    known = ", ".join(self.corners)
                    raise ValueError(
                        f"Part {part.name} names corner {name}, which is not among the corners: {known}."
                    )
        main = self.parts[0]
        if main.wall_top is None and main.slab_top is None:
            raise ValueError(f"Part {main.name} has no level: give its wall_top or its slab_top.")
        return self
