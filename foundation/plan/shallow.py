"""The frost-protected shallow footing of a wall line, priced beside the planned one and never in its place."""

from __future__ import annotations

import functools
from collections.abc import Callable, Sequence
from concurrent.futures import CancelledError
from dataclasses import dataclass, replace
from threading import Event

import numpy as np
from numpy.typing import NDArray

from foundation.cautions.words import plain
from foundation.foam.choice import GUIDE, LABEL, LYING, UPRIGHT
from foundation.footing.problem import FIT, OBJECTIVES
from foundation.frost import shallow
from foundation.model.caution import Amount
from foundation.model.heat import Band, ClimateUsed
from foundation.model.section import BlockKind, Section, SoilLayer
from foundation.model.walls import FootingLine, Stepping
from foundation.model.winter import (
    DesignWinter,
    ProtectingFoam,
    ShallowAlternative,
    ShallowDesign,
)
from foundation.plan.climate import climate_of
from foundation.plan.footings import FROST, answers, part_of
from foundation.plan.heat import soil_layers
from foundation.plan.result import Plan
from foundation.plan.section_foam import line_foam, material_of, sizes_of
from foundation.plan.sections import section_at, sections_along, shape_key
from foundation.plan.shallow_cost import BoardPrices, board_prices, cost_of
from foundation.plan.winter import surface_of, why_no_winter, winter_of
from foundation.project import Project
from foundation.project.schema import Part

Array = NDArray[np.float64]

Progress = Callable[[float, str], None]
Cancelled = Callable[[], bool] | Event
WARM = 64 / 1.8 - 32 / 1.8
"""Part that ASCE 32 calls heated has 64 °F all year, less is half heated and asks for more foam [memory]. [°C]"""
USUAL_RUNS = 14
"""Winters that an alternative takes on the way, for the share done. [-]"""
CORNERS = (
    "Corners lose heat both ways: lay the foam thicker and the wing wider there, as ASCE 32 or the office asks; the "
    "section knows no corners."
)
STARVES = (
    "Foam under the slab keeps the building's heat from the footing: it is counted with the label's R, the foam that "
    "keeps frost out with the R of wet ground."
)
EVERY_WINTER = "It holds as long as the house is heated every winter, the first one included."
FIRST_WINTER = (
    "Nobody has told that the foundation stands its first winter heated; unheated, it freezes under it."
)
HALF_HEATED = (
    "ASCE 32 calls a part of this temperature half heated and asks for more [memory]: the office decides."
)
BAND = "With ground at an end of the soil's band it freezes under this footing: have the soil told before it is chosen."


def shallow_alternative(
    plan: Plan,
    answer: str,
    line: str,
    weather: str = "",
    progress: Progress | None = None,
    cancelled: Cancelled | None = None,
) -> ShallowAlternative:
    """The frost-protected shallow footing of a wall line beside the planned one.

    The line is stepped again with foam in place of the frost depth: every other limit and rule holds. Of all wings the
    cheapest is taken that keeps frost from the footing in the design winter, at every stretch, with the likely soil
    and bare ground. The plan stays as it is.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping; one of the user's own is compared by the least-cost one.
    line : str
        Name of the wall line.
    weather : str
        Text of the weather file, "" for none.
    progress : callable, optional
        Called with the share done and a sentence.
    cancelled : callable or threading.Event, optional
        Says whether to stop.

    Returns
    -------
    ShallowAlternative
        What was found, or a sentence why there is none.

    Raises
    ------
    KeyError
        If no wall line has that name.
    PlanError
        If the climate that was entered is none, or a board is not known.
    concurrent.futures.CancelledError
        If it was stopped.
    """
    project, footing = plan.project, plan.line(line)
    part = part_of(project, footing.wall.part)
    accepted = project.frost.shallow_accepted == "yes"

    def none(sentence: str, amounts: dict[str, Amount] | None = None) -> ShallowAlternative:
        return ShallowAlternative(line, accepted, sentence, amounts or {}, (), None)

    climate = climate_of(project, weather)
    why = shallow.refusal(
        part.name,
        part.is_heated,
        footing.wall.beyond,
        project.stage.stands_winter,
        project.frost.shallow_accepted,
    ) or why_no_winter(project, climate, footing.wall)
    if why:
        return none(plain(why))
    assert climate is not None  # without one there is a reason
    base = plan.stepping(answer if answer in OBJECTIVES else OBJECTIVES[0])
    raised = _stepping(plan, footing, base.name)
    higher = raised.bottoms[line] > base.bottoms[line] + FIT
    if not higher.any():
        binds = sorted({run.binds for run in base.runs if run.line == line} - {FROST})
        held = f" It is held down by {' and '.join(binds)}." if binds else ""
        return none(
            f"A shallow footing along wall {plain(line)} would lie no higher than the planned one.{held}"
        )
    trial = _Trial(plan, footing, part, climate, base, raised, higher, _Steps(progress, cancelled))
    found = trial.cheapest()
    if found is None:
        return none(
            f"Along wall {plain(line)} frost reaches a shallow footing in the design winter even with {{most}} of foam "
            "on the wall and a wing {width} wide and {most} thick: the footing goes down to the frost depth.",
            {"most": Amount(shallow.THICKEST, "inches"), "width": Amount(shallow.WIDTHS[-1], "inches")},
        )
    return _alternative(line, part, project, accepted, found)


def _stepping(plan: Plan, footing: FootingLine, name: str) -> Stepping:
    """The answer of a name with one line kept from frost by foam."""
    frost = plan.project.frost
    deep = frost.depth + (footing.wall.footing_thickness if frost.measured_to == "top of footing" else 0.0)
    limits = tuple(
        replace(limit, highest=limit.highest + deep - shallow.DEPTH) if limit.reason == FROST else limit
        for limit in footing.limits
    )
    lines = tuple(replace(each, limits=limits) if each is footing else each for each in plan.lines)
    return next(each for each in answers(plan.project, lines, plan.chains, plan.rules) if each.name == name)


class _Steps:
    """Tells how far the work is, and stops it between two winters."""

    def __init__(self, progress: Progress | None, cancelled: Cancelled | None) -> None:
        self.progress, self.done = progress, 0
        self.cancelled = cancelled.is_set if isinstance(cancelled, Event) else cancelled

    def next(self) -> None:
        if self.cancelled is not None and self.cancelled():
            raise CancelledError
        if self.progress is not None:
            self.progress(self.done / (self.done + USUAL_RUNS), "Trying foam in the design winter.")
        self.done += 1


@dataclass(frozen=True)
class _Place:
    """A stretch of the shallow line, by the station of least cover in it."""

    start: float
    end: float
    section: Section


class _Trial:
    """Foam tried on the stretches of one line."""

    def __init__(
        self,
        plan: Plan,
        footing: FootingLine,
        part: Part,
        climate: ClimateUsed,
        base: Stepping,
        raised: Stepping,
        higher: NDArray[np.bool_],
        steps: _Steps,
    ) -> None:
        self.plan, self.footing, self.part, self.climate = plan, footing, part, climate
        self.base, self.raised, self.higher, self.steps = base, raised, higher, steps
        project = plan.project
        self.basis = GUIDE if project.foam_basis == LABEL else project.foam_basis
        outside = line_foam(part, sizes_of(project, part, footing.wall), shared=False).outside
        self.prices: BoardPrices = board_prices(project, outside.board if outside else "", self.basis)
        self.least = max(outside.thickness if outside else 0.0, shallow.USUAL)
        self.surface = surface_of(project, footing.wall)
        self.soils = soil_layers(project)
        self.places = self._places()

    def _places(self) -> tuple[_Place, ...]:
        name, node = self.footing.wall.name, self.footing.node
        # Wet-ground R of the foam that is already there too, whatever the heat is computed with.
        project = self.plan.project.model_copy(update={"foam_basis": self.basis})
        stepped = replace(self.plan, project=project, steppings=(self.raised,))
        frost = next(limit for limit in self.footing.limits if limit.reason == FROST).highest
        spare = np.where(self.higher, frost - self.raised.bottoms[name], np.inf)
        middle = (node[:-1] + node[1:]) / 2
        found = []
        for placed in sections_along(stepped, self.raised.name, self.soils[1]):
            if placed.section.line != name:
                continue
            within = (middle > placed.start) & (middle < placed.end) & self.higher
            if within.any():
                worst = float(middle[np.argmin(np.where(within, spare, np.inf))])
                section = section_at(stepped, self.raised.name, name, worst, self.soils[1])
                found.append(_Place(placed.start, placed.end, _with_label_inside(section)))
        return tuple(found)

    def cheapest(self) -> ShallowDesign | None:
        """The cheapest foam that keeps frost from the footing everywhere; None where none that is tried does."""
        every = list({shape_key(place.section): place.section for place in self.places}.values())
        thinnest = self.foam(self.least)
        governing = [min(every, key=lambda section: self.winter(section, thinnest).under)]
        thicknesses = self.prices.thicknesses(self.prices.upright, self.least, shallow.THICKEST)
        thickest = self.prices.thicknesses(self.prices.wing, 0.0, shallow.THICKEST)[-1]
        most = self.foam(thicknesses[-1], shallow.WIDTHS[-1], thickest)
        if self._under(most, governing[0]) < shallow.MARGIN:
            return None
        for thickness in thicknesses:
            while (foam := self._cheapest_at(governing, thickness)) is not None:
                coldest = min(every, key=functools.partial(self._under, foam))
                if self._under(foam, coldest) >= shallow.MARGIN:
                    return self._design(coldest, foam)
                governing.append(coldest)
        return None

    def _cheapest_at(self, governing: Sequence[Section], thickness: float) -> ProtectingFoam | None:
        """The cheapest foam with a thickness on the wall that keeps frost from some sections."""

        def holds(width: float, thick: float) -> bool:
            foam = self.foam(thickness, width, thick)
            return all(self._under(foam, section) >= shallow.MARGIN for section in governing)

        if holds(0.0, 0.0):
            return self.foam(thickness)
        thick = self.prices.thicknesses(self.prices.wing, 0.0, shallow.THICKEST)
        foams = [self.foam(thickness, *wing) for wing in shallow.least_wings(shallow.WIDTHS, thick, holds)]
        return min(foams, key=self.prices.of_wing, default=None)

    def _under(self, foam: ProtectingFoam, section: Section) -> float:
        """Coldest at the footing's bottom. [°C]"""
        return self.winter(section, foam).under

    def foam(self, thickness: float, width: float = 0.0, thick: float = 0.0) -> ProtectingFoam:
        """Foam on the wall with a wing, or without one for a width of 0."""
        wing = self.prices.wing if width else ""
        return ProtectingFoam(self.prices.upright, thickness, wing, thick, width, shallow.WING_DEPTH)

    def winter(
        self, section: Section, foam: ProtectingFoam, soil: tuple[SoilLayer, ...] | None = None
    ) -> DesignWinter:
        """The design winter with foam, the likely soil or another."""
        self.steps.next()
        laid = self.laid(section if soil is None else replace(section, soil=soil), foam)
        return winter_of(laid, self.part.air, self.climate, self.surface)

    def laid(self, section: Section, foam: ProtectingFoam) -> Section:
        """The section with foam round its footing."""
        return shallow.protected(
            section,
            foam,
            material_of(foam.upright, UPRIGHT, self.basis),
            material_of(foam.upright, LYING, self.basis),
            material_of(foam.wing or foam.upright, LYING, self.basis),
        )

    def _design(self, worst: Section, foam: ProtectingFoam) -> ShallowDesign:
        winter = self.winter(worst, foam)
        ends = [self.winter(worst, foam, soil).under for soil in (self.soils[0], self.soils[2])]
        stretches = shallow.spans(self.footing.node.tolist(), self.higher.tolist())
        laid = [(place.start, place.end, self.laid(place.section, foam)) for place in self.places]
        return ShallowDesign(
            foam=foam,
            depth=shallow.DEPTH,
            bottoms=self.raised.bottoms[self.footing.wall.name],
            stretches=stretches,
            length=sum(end - start for start, end in stretches),
            under=Band(min(winter.under, *ends), winter.under, max(winter.under, *ends)),
            cost=cost_of(self.plan, self.footing, self.base, self.raised, laid, self.prices),
            winter=winter,
        )


def _with_label_inside(section: Section) -> Section:
    """Foam under the slab at the label's R: what keeps heat from the footing is not counted less than it is."""
    blocks = tuple(
        replace(block, material=material_of(block.material.name, LYING, LABEL))
        if block.kind is BlockKind.FOAM and block.name in ("foam under the slab", "foam over the footing")
        else block
        for block in section.blocks
    )
    return replace(section, blocks=blocks)


def _alternative(
    line: str, part: Part, project: Project, accepted: bool, design: ShallowDesign
) -> ShallowAlternative:
    foam, cost = design.foam, design.cost
    wing = f", and {{thick}} of {foam.wing} lying {{width}} outward" if foam.wing else ""
    begins = "Along" if accepted else "Only if the office accepts it: along"
    sentence = (
        f"{begins} {{length}} of wall {plain(line)} a footing no less than {{depth}} below grade, with {{upright}} of "
        f"{foam.upright} on the wall and round the footing's edge{wing}, has {{under}} or more under it in the design "
        f"winter. It costs {{saving}} {'more' if cost.saving < 0 else 'less'} than going deep."
    )
    amounts = {
        "length": Amount(design.length),
        "depth": Amount(design.depth, "inches"),
        "upright": Amount(foam.thickness, "inches"),
        "thick": Amount(foam.wing_thickness, "inches"),
        "width": Amount(foam.wing_width, "inches"),
        "under": Amount(design.under.likely, "temperature"),
        "saving": Amount(10.0 * round(abs(cost.saving) / 10.0), "money"),
    }
    under_slab = any(block.name == "foam under the slab" for block in design.winter.section.blocks)
    cautions = (
        EVERY_WINTER,
        CORNERS,
        *((STARVES,) if under_slab else ()),
        *((FIRST_WINTER,) if project.stage.stands_winter in ("unknown", "protected") else ()),
        *((HALF_HEATED,) if part.air < WARM else ()),
        *((BAND,) if design.under.low < 0 else ()),
    )
    return ShallowAlternative(line, accepted, sentence, amounts, cautions, design)
