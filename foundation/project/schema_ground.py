"""Inputs of the ground: frost depth, grades, marks and instrument."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, field_validator, model_validator

from foundation.project.fields import Date, Length, Section, assumed

FOOT = 0.3048
INCH = FOOT / 12


class Frost(Section):
    """The frost depth that the local office asks for, and how it is measured."""

    depth: Length = Field(gt=0, le=6, description="Frost depth, from the local office. Never assumed.")
    source: str = Field("", max_length=200, description="Who said so. Sheets are held back without it.")
    date: Date | None = Field(None, description="When they said so. Sheets are held back without it.")
    measured_to: Literal["bottom of footing", "top of footing"] = assumed(
        "bottom of footing",
        "most offices measure to the bottom [practice]",
        "Where the depth is measured to.",
    )
    fill_counts: bool = assumed(
        False,
        "fill does not count until the office says so [practice]",
        "Whether new fill counts toward the frost depth.",
    )
    into_undisturbed: Length = assumed(
        12 * INCH,
        "IRC 2024 R403.1.4 [read]",
        "Least depth of the bottom of footing below existing grade, into undisturbed ground.",
        ge=0,
        le=3,
    )
    shallow_accepted: Literal["unknown", "yes", "no"] = Field(
        "unknown", description="Whether the office accepts frost-protected shallow footings."
    )
    bearing_level: Length | None = Field(
        None, description="Level of good bearing ground: every footing goes at least so deep."
    )


class GradePair(Section):
    """Grade typed at one corner."""

    existing: Length | None = Field(None, description="Existing grade; the finished one when left out.")
    finished: Length | None = Field(None, description="Finished grade; the existing one when left out.")


class WallGrade(Section):
    """Grade typed along one wall line, used there instead of the surveyed surface."""

    line: str = Field(description="Wall line by its corners, such as A-B.")
    surface: Literal["existing", "finished", "both"] = Field("both", description="Which grade it is.")
    stations: list[Length] = Field(min_length=2, description="Distances from the first-named corner.")
    grades: list[Length] = Field(min_length=2, description="Grade at each station.")

    @model_validator(mode="after")
    def _same_count(self) -> WallGrade:
        if len(self.stations) != len(self.grades):
            raise ValueError(
                f"{len(self.stations)} stations but {len(self.grades)} grades: give one grade for each station."
            )
        if any(b <= a for a, b in zip(self.stations, self.stations[1:], strict=False)):
            raise ValueError("The stations do not increase: give them in order from the first-named corner.")
        return self


class Ground(Section):
    """Where the grades come from: a file of survey shots, corner grades, or typed tables."""

    shots: str = Field("", max_length=200, description="Name of the shot file, beside the project file.")
    shot_unit: Literal["ft", "m"] | None = Field(None, description="Unit of the shot file's numbers.")
    corner_grades: dict[str, GradePair] = Field(
        default_factory=dict, description="Grade at each corner, where there are no shots."
    )
    walls: list[WallGrade] = Field(default_factory=list, description="Typed grades along wall lines.")

    @field_validator("shots")
    @classmethod
    def _beside_the_project(cls, name: str) -> str:
        if name and (set(name) & set("/\\:\0") or name.startswith(".")):
            raise ValueError(
                f'"{name}" is not the plain name of a file beside the project file, such as shots.csv.'
            )
        return name


class Mark(Section):
    """A survey mark."""

    name: str = Field(max_length=60, description="What it is called on site.")
    elevation: Length = Field(description="Its elevation.")
    note: str = Field("", max_length=120, description="What it is.")


class Turn(Section):
    """A turning point: read once from each side."""

    foresight: Length = Field(description="Rod read on the turning point from the old set-up.")
    backsight: Length = Field(description="Rod read on it from the new set-up.")


class Levels(Section):
    """Benchmark, second mark and today's instrument."""

    marks: list[Mark] = Field(default_factory=list, max_length=20, description="The benchmark first.")
    backsight: Length | None = Field(None, description="Rod read on the benchmark today.")
    check_foresight: Length | None = Field(None, description="Rod read on the second mark today.")
    turns: list[Turn] = Field(default_factory=list, max_length=10, description="Turning points, in order.")
    allowed_closure: Length = assumed(
        INCH / 4, "job practice [practice]", "Most that the second mark may be off.", gt=0, le=0.1
    )
    longest_rod: Length = assumed(
        13 * FOOT, "a common grade rod [practice]", "Length of the rod.", gt=1, le=10
    )
