"""Wall lines made ready for sections: what changes along each, and what stands at a station."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from foundation.model.concrete import Ledge, Opening
from foundation.model.section import GradeStep, Section, Situation, SoilLayer
from foundation.model.walls import FootingLine
from foundation.plan.footings import part_of
from foundation.plan.lines import PlanError, slab_top
from foundation.plan.result import Plan
from foundation.plan.section_blocks import section_of
from foundation.plan.section_cuts import cuts_by_grade, edge_crossings, is_deep
from foundation.plan.section_foam import foam_problems, line_foam, sizes_of
from foundation.plan.section_grade import (
    depth_from,
    face_grades,
    floor_of,
    grade_steps,
    likely_soil,
    mean_over,
)
from foundation.plan.section_standing import Floor, Standing
from foundation.project.schema import Part
from foundation.project.schema_walls import OpeningInput, WallSize

Array = NDArray[np.float64]
REACHES = 6 * 0.0254
"""A door whose sill is no higher over the slab reaches the floor. [m]"""
FIT = 1e-6
"""Stations and levels closer than a micrometre are equal. [m]"""


@dataclass(frozen=True)
class Stretch:
    """A stretch of wall line with one footing, one top of concrete and one floor.

    Attributes
    ----------
    start, end : float
        Stations of its ends. [m]
    floor : float
        Level of the top of slab inside. [m]
    """

    start: float
    end: float
    floor: float


@dataclass(frozen=True, eq=False)
class SectionLine:
    """A wall line with everything that its sections are made from.

    Attributes
    ----------
    whole : SectionLines
        The answer that it belongs to.
    footing : FootingLine
        The line.
    inside : Part
        Part behind it: its own, or the heated one beyond where its own is not heated.
    beyond : Part or None
        Part on the other side, None outdoors.
    sizes : tuple of WallSize
        What the project says of the line.
    ledge : Ledge or None
        Its ledge.
    doors : tuple
        Doors that reach the floor, each as placed and as typed.
    face : tuple of ndarray or None
        Stations and finished grade at the face, None where a part lies beyond. [m]
    """

    whole: SectionLines
    footing: FootingLine
    inside: Part
    beyond: Part | None
    sizes: tuple[WallSize, ...]
    ledge: Ledge | None
    doors: tuple[tuple[Opening, OpeningInput], ...]
    face: tuple[Array, Array] | None

    @property
    def shared(self) -> bool:
        """Whether both sides are heated."""
        return self.inside.is_heated and self.beyond is not None and self.beyond.is_heated

    def _cells(self) -> tuple[Array, Array]:
        """Stations of the cells' ends, and the bottoms of footing between them."""
        return self.footing.node, self.whole.bottoms[self.footing.wall.name]

    def _door_at(self, station: float) -> tuple[Opening, OpeningInput] | None:
        """Door that reaches the floor at a station."""
        return next((d for d in self.doors if d[0].start - FIT <= station <= d[0].end + FIT), None)

    def _floor_at(self, station: float) -> Floor:
        """Floor inside at a station."""
        door = self._door_at(station)
        return self.whole.floor(self.inside, door is not None and door[0].kind == "overhead door")

    def grade_at(self, station: float) -> float:
        """Finished grade at the face, or the slab beyond.

        Parameters
        ----------
        station : float
            Station. [m]

        Returns
        -------
        float
            Level. [m]
        """
        if self.face is not None:
            return float(np.interp(station, *self.face))
        assert self.beyond is not None
        return self.whole.floor(self.beyond).level

    def mean_grade(self, start: float, end: float) -> float:
        """Mean of finished grade at the face over a stretch, or the slab beyond.

        Parameters
        ----------
        start, end : float
            Stations of the stretch's ends. [m]

        Returns
        -------
        float
            Level. [m]
        """
        if self.face is not None:
            return mean_over(*self.face, start, end)
        return self.grade_at(start)

    def stretches(self) -> Iterator[Stretch]:
        """The line cut where footing, top of concrete or doors change.

        Yields
        ------
        Stretch
            In the order of the stations.
        """
        node, bottom = self._cells()
        length = self.footing.wall.length
        cuts = {0.0, length, *node[1:-1][np.abs(np.diff(bottom)) > FIT].tolist()}
        for piece in self.whole.pieces.get(self.footing.wall.name, ()):
            cuts |= {piece.start, piece.end}
        for door, _ in self.doors:
            cuts |= {door.start, door.end}
        places = sorted(cut for cut in cuts if -FIT < cut < length + FIT)
        start = places[0]
        for end in places[1:]:
            if end - start > 1e-3:
                yield Stretch(start, end, self._floor_at((start + end) / 2).level)
                start = end

    def by_depth(self, stretch: Stretch) -> Iterator[Stretch]:
        """A stretch cut where the slab goes from slab edge to basement wall.

        Parameters
        ----------
        stretch : Stretch
            The stretch.

        Yields
        ------
        Stretch
            Its pieces.
        """
        if self.face is None:
            yield stretch
            return
        crossings = edge_crossings(*self._within(stretch), stretch.floor)
        for start, end in pairwise([stretch.start, *crossings, stretch.end]):
            yield Stretch(start, end, stretch.floor)

    def by_grade(self, stretch: Stretch) -> Iterator[Stretch]:
        """A stretch cut there and wherever grade has moved by a foot, but into no slivers.

        Parameters
        ----------
        stretch : Stretch
            The stretch.

        Yields
        ------
        Stretch
            Its pieces.
        """
        if self.face is None:
            yield stretch
            return
        for start, end in pairwise(cuts_by_grade(*self._within(stretch), stretch.floor)):
            yield Stretch(start, end, stretch.floor)

    def _within(self, stretch: Stretch) -> tuple[Array, Array]:
        assert self.face is not None
        station, grade = self.face
        inner = station[(station > stretch.start + FIT) & (station < stretch.end - FIT)]
        at = np.concatenate([[stretch.start], inner, [stretch.end]])
        return at, np.interp(at, station, grade)

    def situation(self, stretch: Stretch) -> Situation:
        """Kind of place that a stretch is on the mean.

        Parameters
        ----------
        stretch : Stretch
            The stretch.

        Returns
        -------
        Situation
            The kind.
        """
        return self._kind(stretch.floor, self.mean_grade(stretch.start, stretch.end))

    def _kind(self, floor: float, grade: float) -> Situation:
        if self.shared:
            return Situation.BETWEEN
        return Situation.BASEMENT if is_deep(floor, grade) else Situation.EDGE

    def section(self, station: float, grade: float, drops: Array, legs: bool = False) -> Section:
        """The section at a station with a grade at the face.

        Parameters
        ----------
        station : float
            Station. [m]
        grade : float
            Finished grade at the face, or the slab beyond. [m]
        drops : ndarray
            How much higher the ground is outward of it, as ``outward_drops`` tells. [m]
        legs : bool
            Whether the leg of a step is shown where one stands.

        Returns
        -------
        Section
            The section.
        """
        wall, floor, door = self.footing.wall, self._floor_at(station), self._door_at(station)
        node, bottoms = self._cells()
        cell = int(np.clip(np.searchsorted(node, station, side="right") - 1, 0, len(bottoms) - 1))
        bottom = float(bottoms[cell])
        footing_top = bottom + wall.footing_thickness
        piece = next(
            (p for p in self.whole.pieces.get(wall.name, ()) if p.start - FIT <= station <= p.end + FIT), None
        )
        top = piece.top if piece is not None else footing_top
        carries = [size.carries for size in self.sizes if size.carries is not None]
        leg = self._leg_at(station) if legs else None
        if leg is not None:
            bottom, footing_top = leg[0], leg[0] + wall.footing_thickness
        return section_of(
            Standing(
                line=wall.name,
                station=station,
                situation=self._kind(floor.level, grade),
                inside=floor,
                beyond=self.whole.floor(self.beyond) if self.beyond is not None else None,
                beyond_reach=(
                    depth_from(self.whole.project, self.beyond, wall) if self.beyond is not None else 0.0
                ),
                thickness=wall.wall_thickness,
                footing_bottom=bottom,
                footing_top=footing_top,
                projection=wall.projection,
                leg_top=leg[1] + wall.footing_thickness if leg is not None else None,
                concrete_top=min(top, max(door[0].bottom, footing_top)) if door is not None else top,
                ledge=self.ledge,
                carries=carries[-1] if carries else self.whole.project.frame.thickness,
                door=door[1] if door is not None else None,
                foam=line_foam(self.inside, self.sizes, self.shared),
                basis=self.whole.project.foam_basis,
                frame=self.whole.project.frame,
                grade=(
                    grade_steps(floor.level, grade, drops)
                    if self.face is not None
                    else (GradeStep(0.0, round(grade, 5)),)
                ),
                soil=self.whole.soil,
            )
        )

    def _leg_at(self, station: float) -> tuple[float, float] | None:
        """Lower and higher bottom of footing where a step's leg stands; on the lower run, against the higher."""
        leg = self.whole.plan.rules.leg or self.footing.wall.footing_thickness
        for step in self.whole.plan.stepping(self.whole.answer).steps:
            if step.line != self.footing.wall.name:
                continue
            start = step.station if step.after < step.before else step.station - leg
            if start - FIT <= station <= start + leg + FIT:
                return min(step.before, step.after), max(step.before, step.after)
        return None


class SectionLines:
    """One answer of a plan, looked up once for all of its sections.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    soil : tuple of SoilLayer or None
        Ground; the project's likely soil for None.

    Raises
    ------
    KeyError
        If no answer has that name; the known ones are listed.
    PlanError
        If a board is not known, or has no place.
    """

    def __init__(self, plan: Plan, answer: str, soil: tuple[SoilLayer, ...] | None) -> None:
        problems = foam_problems(plan.project)
        if problems:
            raise PlanError(problems)
        self.plan, self.answer, self.project = plan, answer, plan.project
        self.soil = likely_soil(plan.project) if soil is None else soil
        self.bottoms = plan.stepping(answer).bottoms
        walls = plan.walls[answer]
        self.pieces = {
            line.wall.name: [piece for piece in walls.pieces if piece.line == line.wall.name]
            for line in plan.lines
        }
        self._floors: dict[tuple[str, bool], Floor] = {}
        faces = face_grades(plan, answer)
        ledges = {ledge.line: ledge for ledge in walls.ledges}
        # A plan stands only with every opening in its wall, in the order of the project.
        openings = list(zip(walls.openings, plan.project.openings, strict=True))
        self.lines = [
            self._line(line, faces.get(line.wall.name), ledges.get(line.wall.name), openings)
            for line in plan.lines
            if part_of(plan.project, line.wall.part).use != "interior wall"
        ]

    def floor(self, part: Part, at_door: bool = False) -> Floor:
        """A part's floor.

        Parameters
        ----------
        part : Part
            The part.
        at_door : bool
            Whether at its overhead door.

        Returns
        -------
        Floor
            The floor.
        """
        key = (part.name, at_door)
        if key not in self._floors:
            self._floors[key] = floor_of(self.plan, part, at_door)
        return self._floors[key]

    def _line(
        self,
        line: FootingLine,
        face: tuple[Array, Array] | None,
        ledge: Ledge | None,
        openings: list[tuple[Opening, OpeningInput]],
    ) -> SectionLine:
        own = part_of(self.project, line.wall.part)
        other = part_of(self.project, line.wall.beyond) if line.wall.beyond else None
        # The wall of an unheated part against a heated one is looked at from the warm side.
        turned = other is not None and other.is_heated and not own.is_heated
        inside, beyond = (other, own) if turned and other is not None else (own, other)
        highest = slab_top(self.project, inside) + REACHES
        return SectionLine(
            whole=self,
            footing=line,
            inside=inside,
            beyond=beyond,
            sizes=() if turned else sizes_of(self.project, own, line.wall),
            ledge=None if turned else ledge,
            doors=tuple(
                (opening, typed)
                for opening, typed in openings
                if opening.line == line.wall.name
                and opening.kind in ("door", "overhead door")
                and opening.bottom <= highest
            ),
            face=face,
        )
