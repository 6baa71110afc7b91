"""What the client's screen has worked out beside the page: the choices, and one place's foam thickness by thickness."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from typing import Any

from foundation.dashboard.guard import log
from foundation.dashboard.long_work import Cancelled, Progress
from foundation.dashboard.state import State
from foundation.model.options import Comparison, OptionFigures
from foundation.model.sizing import FoamSizing, Place
from foundation.plan import Plan, PlanError
from foundation.plan.climate import climate_of
from foundation.plan.heat import SectionView, look_at
from foundation.project.schema_money import OptionInput
from foundation.studies.foam_sizing import size_foam
from foundation.studies.option_foam import foam_changes, from_sizing
from foundation.studies.options import compare

PLACES = {Place.UNDER_SLAB: "under the floor", Place.WALL: "outside the walls"}
"""Where the client may try other foam, in everyday words."""
REFUSED = "These numbers cannot be worked out yet: the builder's own pages say what is missing."


@dataclass(frozen=True)
class Job:
    """What everything is worked out from.

    Attributes
    ----------
    document : mapping
        Tables of the project.
    survey, weather : str
        Texts of the shot file and the weather file, "" for none.
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    today : date
        Day that the age of quotes is counted to.
    """

    document: Mapping[str, Any]
    survey: str
    weather: str
    plan: Plan
    answer: str
    today: datetime.date

    @property
    def sizes_foam(self) -> bool:
        """Whether foam can be weighed at all: the winter and the price of heat are known, and something is heated."""
        project = self.plan.project
        known = climate_of(project, self.weather) is not None and project.fuel.price is not None
        return known and any(part.is_heated for part in project.parts)


@dataclass(frozen=True)
class Choices:
    """What the client chooses from.

    Attributes
    ----------
    comparison : Comparison
        The choices beside the project as it stands.
    made : bool
        Whether they are made from the foam sizing, for the project has none of its own.
    sizing : FoamSizing or None
        The sizing, where they are made from it.
    view : SectionView or None
        The place of the coldest floor, looked at closely; None without a climate.
    """

    comparison: Comparison
    made: bool
    sizing: FoamSizing | None
    view: SectionView | None


@dataclass(frozen=True)
class Notch:
    """One thickness of the slider.

    Attributes
    ----------
    thickness : float
        Of the foam. [m]
    figures : OptionFigures
        What the house comes to with it.
    """

    thickness: float
    figures: OptionFigures


@dataclass(frozen=True)
class Ladder:
    """All thicknesses of one place.

    Attributes
    ----------
    sizing : FoamSizing
        The sizing that they come from.
    place : Place or None
        The place; None where there is nothing to slide.
    notches : tuple of Notch
        Thinner to thicker.
    start : int
        The notch of least cost over the years. [-]
    """

    sizing: FoamSizing
    place: Place | None
    notches: tuple[Notch, ...]
    start: int


def job_of(state: State) -> Job:
    """What is open.

    Parameters
    ----------
    state : State
        The page's state, with a plan.

    Returns
    -------
    Job
        A copy that does not change with the page.
    """
    assert state.plan is not None
    return Job(
        state.document.unwrap(), state.survey, state.weather, state.plan, state.answer, datetime.date.today()
    )


def find_choices(
    job: Job, progress: Progress, cancelled: Cancelled, workers: Executor | None = None
) -> Choices:
    """Compare the project's own options, or good, better and best of the foam where it has none.

    Parameters
    ----------
    job : Job
        What is open.
    progress : function
        Called with the share done and a sentence.
    cancelled : function
        Says whether to stop.
    workers : concurrent.futures.Executor, optional
        What runs the sizing's solves.

    Returns
    -------
    Choices
        The choices.

    Raises
    ------
    ValueError
        If nothing can be compared; the sentence leaves the reason to the working pages, whose words it would need.
    """
    options: tuple[OptionInput, ...] = tuple(job.plan.project.options)
    sizing = None
    start = 0.0
    if not options and job.sizes_foam:
        start = 0.5
        sizing = _sized(
            job, _share(progress, "Finding how much foam is worth it", 0.0, start), cancelled, workers
        )
        options = from_sizing(job.plan.project, sizing) if sizing is not None else ()
    tell = _share(progress, "Working out how warm and how much", start, 0.95)
    comparison = _compared(job, options, tell, cancelled)
    view = None
    figures = comparison.base.figures
    if figures is not None and figures.heat is not None:
        progress(0.95, "Drawing the cold")
        heat, climate = figures.heat, climate_of(job.plan.project, job.weather)
        view = look_at(job.plan, job.answer, heat.floor_line, heat.floor_station, climate)
    return Choices(comparison, sizing is not None, sizing, view)


def find_ladder(
    job: Job,
    sizing: FoamSizing | None,
    number: int,
    progress: Progress,
    cancelled: Cancelled,
    workers: Executor | None = None,
) -> Ladder:
    """Work out every thickness of one place, as options, so that its numbers are those of the choices.

    Parameters
    ----------
    job : Job
        What is open.
    sizing : FoamSizing or None
        The sizing, None where it is still to be made.
    number : int
        Which of the places that have something to slide, from 0. [-]
    progress : function
        Called with the share done and a sentence.
    cancelled : function
        Says whether to stop.
    workers : concurrent.futures.Executor, optional
        What runs the sizing's solves.

    Returns
    -------
    Ladder
        Its thicknesses; those that cannot be built are left out.

    Raises
    ------
    ValueError
        As :func:`find_choices`.
    """
    start = 0.0
    if sizing is None:
        start = 0.5
        sizing = _sized(
            job, _share(progress, "Finding how much foam is worth it", 0.0, start), cancelled, workers
        )
        if sizing is None:
            raise ValueError(REFUSED)
    places = slides(sizing)
    if number >= len(places):
        return Ladder(sizing, None, (), 0)
    place = places[number]
    curve, best = sizing.curves[place], sizing.least_cost.foam
    options = [
        OptionInput(
            name=f"notch {at}",
            changes=foam_changes(job.plan.project, replace(best, **{place.value: rung.foam})),
        )
        for at, rung in enumerate(curve.rungs)
    ]
    tell = _share(progress, f"Trying foam {PLACES[place]}", start, 1.0)
    found = _compared(job, tuple(options), tell, cancelled).options
    notches = [
        (at, Notch(rung.foam.thickness if rung.foam is not None else 0.0, option.figures))
        for at, (rung, option) in enumerate(zip(curve.rungs, found, strict=True))
        if option.figures is not None
    ]
    nearest = min(range(len(notches)), key=lambda at: abs(notches[at][0] - curve.knee), default=0)
    return Ladder(sizing, place, tuple(notch for _, notch in notches), nearest)


def slides(sizing: FoamSizing) -> list[Place]:
    """Places where there is a thickness to choose.

    Parameters
    ----------
    sizing : FoamSizing
        The sizing.

    Returns
    -------
    list of Place
        In the order of `PLACES`.
    """
    return [place for place in PLACES if place in sizing.curves and len(sizing.curves[place].rungs) > 1]


def _sized(job: Job, progress: Progress, cancelled: Cancelled, workers: Executor | None) -> FoamSizing | None:
    """The sizing; None where no set of foam is allowed or something is missing, which the working pages tell."""
    try:
        return size_foam(job.plan, job.answer, workers, progress, cancelled, job.weather)
    except ValueError:
        log().exception("The client's choices of foam cannot be made")
        return None


def _compared(
    job: Job, options: tuple[OptionInput, ...], progress: Progress, cancelled: Cancelled
) -> Comparison:
    # In this thread: what the warm floors need is then solved already.
    try:
        return compare(
            job.document, job.survey, job.weather, job.answer, job.today, options, None, progress, cancelled
        )
    except (PlanError, ValueError, KeyError):
        log().exception("The client's choices cannot be compared")
        raise ValueError(REFUSED) from None


def _share(progress: Progress, words: str, start: float, end: float) -> Progress:
    """A part of the whole work, told in words of the client's."""

    def tell(share: float, _words: str) -> None:
        progress(start + (end - start) * share, f"{words} …")

    return tell
