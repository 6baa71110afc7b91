"""The house as a few sections that stand for all: what a set of foam loses there, by estimate and through the year."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from foundation.heat.sections.loss import DAY
from foundation.model.heat import ClimateUsed
from foundation.model.section import Section, Situation, SoilLayer
from foundation.model.sizing import FoamSet
from foundation.plan import Plan
from foundation.plan.footings import part_of
from foundation.plan.sections import PlacedSection, sections_along, shape_key
from foundation.studies.foam_laying import with_foam
from foundation.studies.foam_season import HeatingSeason, Season, Task, heating_season, solve_season
from foundation.studies.running import Runner

MOST_SECTIONS = 8
"""Sections that stand for a house at most, where it has no more kinds. [-]"""
COARSE, FINE = 0.7, 1.5
"""Fineness of the grids that sets are compared on, and confirmed on; both are some tenths of a percent low, alike for
all sets, so that what sets differ by is nearer than that. [-]"""
LIKELY = 1
EQUAL = 1e-18  # spread of stretches that differ by rounding alone [m]
NOT_LIVED_IN = ("garage", "crawl space")


@dataclass(frozen=True)
class Representative:
    """A section that stands for some of the house's stretches.

    Attributes
    ----------
    stretch : int
        Its place among the stretches. [-]
    weight : float
        Length that it stands for, such that with the planned foam they lose what their own sections do. [m]
    """

    stretch: int
    weight: float


@dataclass(frozen=True)
class HouseLoss:
    """What leaves through floors and concrete walls of all heated parts.

    Attributes
    ----------
    season : float
        In the heating season. [J]
    degree_days : float
        By conductance times degree days. [J]
    floor_temperature : float
        Coldest floor 1 ft inside the worst edge where people live. [°C]
    """

    season: float
    degree_days: float
    floor_temperature: float


class House:
    """The house's sections with any set of foam, solved when asked for and kept.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    climate : ClimateUsed
        The year outdoors.
    soils : sequence of tuple of SoilLayer, length 3
        Ground with low, likely and high conductivity.
    runner : Runner
        What runs the solves.

    Raises
    ------
    ValueError
        If no heated part has a wall that faces outdoors.
    """

    def __init__(
        self,
        plan: Plan,
        answer: str,
        climate: ClimateUsed,
        soils: Sequence[tuple[SoilLayer, ...]],
        runner: Runner,
    ) -> None:
        self.plan, self.answer, self.climate, self.soils, self.runner = plan, answer, climate, soils, runner
        self._placed: dict[tuple[FoamSet | None, int], tuple[PlacedSection, ...]] = {}
        self._found: dict[Task, Season] = {}
        self._seasons: dict[str, HeatingSeason] = {}
        self.stretches = self.placed(None)
        if not self.stretches:
            raise ValueError("No heated part has a wall that faces outdoors: nothing is lost to the ground.")
        self.representatives = tuple(
            Representative(number, placed.end - placed.start) for number, placed in enumerate(self.stretches)
        )
        self.representation_error = 0.0

    @property
    def solved(self) -> int:
        """Sections solved so far [-]."""
        return len(self._found)

    def placed(self, foam: FoamSet | None, soil: int = LIKELY) -> tuple[PlacedSection, ...]:
        """All stretches that face outdoors with a set of foam, wings at slab edges alone.

        Parameters
        ----------
        foam : FoamSet or None
            The set; None for the planned foam, just as it is.
        soil : int
            Which soil, 0 to 2. [-]

        Returns
        -------
        tuple of PlacedSection
            In the order of the lines and stations.
        """
        key = (foam, soil)
        if key not in self._placed:
            plan = self.plan if foam is None else with_foam(self.plan, self.answer, foam)
            found = tuple(
                placed
                for placed in sections_along(plan, self.answer, self.soils[soil])
                if placed.section.situation is not Situation.BETWEEN
            )
            if foam is not None and foam.wing is not None:
                dry = self.placed(replace(foam, wing=None), soil)
                found = tuple(
                    winged if winged.section.situation is Situation.EDGE else plain
                    for winged, plain in zip(found, dry, strict=True)
                )
            self._placed[key] = found
        return self._placed[key]

    def solve(
        self, foams: Iterable[FoamSet | None], soil: int, fineness: float, share: tuple[float, float]
    ) -> None:
        """Solve sets through the year, for :meth:`loss`.

        Parameters
        ----------
        foams : iterable of FoamSet or None
            The sets; None for the planned foam.
        soil : int
            Which soil, 0 to 2. [-]
        fineness : float
            Of the grids. [-]
        share : tuple of float
            Share of the study at start and end. [-]
        """
        tasks = dict.fromkeys(task for foam in foams for task in self._tasks(foam, soil, fineness))
        wanted = [task for task in tasks if task not in self._found]
        sentence = "Comparing sets of foam" if fineness < FINE else "Confirming the best sets"
        results = self.runner.run(solve_season, wanted, share, sentence)
        self._found.update(zip(wanted, results, strict=True))

    def _tasks(self, foam: FoamSet | None, soil: int, fineness: float) -> list[Task]:
        placed = self.placed(foam, soil)
        return [self._task(placed[each.stretch].section, fineness) for each in self.representatives]

    def _task(self, section: Section, fineness: float) -> Task:
        project = self.plan.project
        air = part_of(project, section.inside).air
        if section.inside not in self._seasons:
            self._seasons[section.inside] = heating_season(self.climate, project.climate.base, air)
        return Task(shape_key(section), air, self.climate, self._seasons[section.inside], fineness)

    def loss(self, foam: FoamSet | None, soil: int, fineness: float) -> HouseLoss:
        """What a set loses.

        Parameters
        ----------
        foam : FoamSet or None
            The set, one that :meth:`solve` has solved; None for the planned foam.
        soil : int
            Which soil, 0 to 2. [-]
        fineness : float
            Of the grids. [-]

        Returns
        -------
        HouseLoss
            The loss.
        """
        tasks = self._tasks(foam, soil, fineness)
        each = [
            (r.weight, task, self._found[task]) for r, task in zip(self.representatives, tasks, strict=True)
        ]
        # The worst floor where people live, at a slab's edge; else wherever there is a floor.
        floors = [
            (
                part_of(self.plan.project, task.section.inside).use in NOT_LIVED_IN,
                task.section.situation is not Situation.EDGE,
                found.floor_temperature,
            )
            for _, task, found in each
        ]
        return HouseLoss(
            season=sum(weight * found.heat for weight, _, found in each),
            degree_days=sum(
                weight * DAY * task.season.degree_days * found.conductance for weight, task, found in each
            ),
            floor_temperature=min(floors)[2],
        )

    def choose_representatives(self, probes: Sequence[FoamSet | None], share: tuple[float, float]) -> None:
        """Choose the sections that stand for the house, and measure what that misses.

        Stretches of one part and kind are joined two by two, those first whose heat with the probing sets is nearest
        to each other for their lengths (Ward's rule), until few enough are left.

        Parameters
        ----------
        probes : sequence of FoamSet or None
            Sets to compare the stretches with; the first one is met exactly.
        share : tuple of float
            Share of the study at start and end. [-]
        """
        self.solve(probes, LIKELY, COARSE, share)
        losses = np.array(
            [[self._found[task].heat for task in self._tasks(probe, LIKELY, COARSE)] for probe in probes]
        ).T
        length = np.array([placed.end - placed.start for placed in self.stretches])
        # Over their mean, so that with much foam they are told apart as well as with none.
        likeness = losses / np.average(losses, axis=0, weights=length)
        kinds = [(placed.section.inside, placed.section.situation) for placed in self.stretches]
        chosen, missed = [], np.zeros(len(probes))
        for group in joined(kinds, length, likeness, MOST_SECTIONS):
            mean = np.average(likeness[group], axis=0, weights=length[group])
            nearest = group[int(np.argmin(((likeness[group] - mean) ** 2).sum(axis=1)))]
            weight = float(length[group] @ losses[group, 0] / losses[nearest, 0])
            chosen.append(Representative(nearest, weight))
            missed += weight * losses[nearest] - length[group] @ losses[group]
        self.representatives = tuple(chosen)
        self.representation_error = float(np.max(np.abs(missed / (length @ losses))))


def joined(
    kinds: Sequence[object], length: NDArray[np.float64], values: NDArray[np.float64], most: int
) -> list[list[int]]:
    """Join things of one kind that are nearest to each other, by Ward's rule.

    Parameters
    ----------
    kinds : sequence of object, length n
        Only things of equal kind are joined.
    length : ndarray, shape (n,)
        What each weighs. [m]
    values : ndarray, shape (n, k)
        What they are compared by. [unit of the values]
    most : int
        Groups that are left at most, where there are no more kinds. [-]

    Returns
    -------
    list of list of int
        The groups; equal things are joined even if fewer are left.
    """
    groups = [[number] for number in range(len(kinds))]

    def spread(first: list[int], second: list[int]) -> float:
        if kinds[first[0]] != kinds[second[0]]:
            return math.inf
        weights = [length[group].sum() for group in (first, second)]
        means = [np.average(values[group], axis=0, weights=length[group]) for group in (first, second)]
        gap = float(((means[0] - means[1]) ** 2).sum())
        return weights[0] * weights[1] / (weights[0] + weights[1]) * gap

    while True:
        pairs = [(spread(groups[i], groups[k]), i, k) for k in range(len(groups)) for i in range(k)]
        best = min(pairs, default=(math.inf, 0, 0))
        if best[0] == math.inf or (len(groups) <= most and best[0] > EQUAL):
            return groups
        _, i, k = best
        groups[i] = groups[i] + groups.pop(k)
