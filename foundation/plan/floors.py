"""The warm floors of a plan: zones, loads, ground, spacing, tube and water, one after the other."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from foundation import units
from foundation.model.floors import FinishCase, FloorsPlan, ManifoldWater, SpacingChoice, ZoneFloor
from foundation.model.heat import ClimateUsed, HouseHeat
from foundation.model.loops import Laying
from foundation.model.problem import Problem
from foundation.model.zones import ZoneLoad, ZoneShape
from foundation.plan.climate import climate_of
from foundation.plan.floor_build import (
    CARPET,
    GLYCOL,
    USUAL_SPACING,
    Finish,
    axis_depth,
    build_up,
    finishes_of,
    floor_problems,
    fluid_of,
    limit_of,
    spacings_of,
    tube_of,
)
from foundation.plan.floor_cautions import cautions_of_floors
from foundation.plan.floor_choice import Ask, case_of, choices, slow_film, widest
from foundation.plan.floor_ground import GROUND, floor_loss, ground_response
from foundation.plan.floor_loads import by_surfaces, zone_load
from foundation.plan.floor_loops import PlacedManifold, coils_of, loops_of_zones, manifolds_of
from foundation.plan.floor_water import ZoneLoops, manifold_water, reset_line, settle
from foundation.plan.floor_zones import PartFloor, part_floor, zone_shapes
from foundation.plan.footings import part_of
from foundation.plan.heat import heat_of, soil_layers
from foundation.plan.lines import PlanError
from foundation.plan.result import Plan
from foundation.plan.sections import sections_along
from foundation.project import Project
from foundation.project.schema_floor import ZoneInput


@dataclass(frozen=True, eq=False)
class _Draft:
    """A zone before its tube is laid."""

    typed: ZoneInput
    shape: ZoneShape
    floor: PartFloor
    load: ZoneLoad | None
    ask: Ask
    finishes: tuple[Finish, ...]
    spacing: float
    choices: tuple[SpacingChoice, ...]

    def case(self, project: Project, climate: ClimateUsed | None, finish: Finish, film: float) -> FinishCase:
        """The zone with one finish and one film."""
        below = self.ask.ground.resistance
        floor = build_up(project, self.floor.part, self.spacing, finish.resistance, below)
        closest = min((*spacings_of(project), self.spacing))
        return case_of(floor, finish, self.ask, film, self.shape.area, closest, climate)


def floors_of(plan: Plan, answer: str, weather: str = "") -> FloorsPlan:
    """The warm floors of a plan, on demand.

    Every zone stands on the ground as the sections round its part answer; its water follows from the load in one step,
    the film in the tube in a few rounds with the flow. Sections and layings that did not change are kept.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    weather : str
        Text of the weather file, "" for none.

    Returns
    -------
    FloorsPlan
        Zones, manifolds, coils and cautions; empty without zones.

    Raises
    ------
    PlanError
        If the zones make no floors; each problem is one sentence.
    KeyError
        If no answer has that name; the known ones are listed.
    """
    project = plan.project
    climate = climate_of(project, weather)
    design = climate.design_temperature if climate is not None else project.climate.design_temperature
    if not project.zones:
        return FloorsPlan((), (), (), 0.0, 0.0, design, (), (), ())
    if problems := floor_problems(project):
        raise PlanError(problems)
    placed = sections_along(plan, answer, soil_layers(project)[1])
    names = dict.fromkeys(zone.part for zone in project.zones)
    floors = {name: part_floor(plan, part_of(project, name), placed) for name in names}
    radius = tube_of(project).outside_diameter / 2
    tops = {name: axis_depth(project, floor.part) - radius for name, floor in floors.items()}
    shapes = zone_shapes(project, floors, tops)
    manifolds, told = manifolds_of(project, floors)
    if fatal := tuple(problem for problem in told if problem.fatal):
        raise PlanError(fatal)
    drafts = _drafts(plan, answer, weather, climate, shapes, floors)
    laid, untold = loops_of_zones(project, [(draft.shape, draft.spacing) for draft in drafts], manifolds)
    layings = {name: pieces for name, (_, pieces) in laid.items()}
    coils, uncut = coils_of(project, layings)
    water, films = _water(project, climate, drafts, manifolds, laid)
    zones = tuple(
        _zone(project, climate, draft, *laid[draft.shape.name], films.get(draft.shape.name, math.inf))
        for draft in drafts
    )
    return FloorsPlan(
        zones=zones,
        manifolds=water,
        coils=coils,
        tube_length=sum(loop.length for each in layings.values() for piece in each for loop in piece.loops),
        heat=sum(zone.cases[0].heat for zone in zones),
        design_temperature=design,
        assumed=_assumed(project, zones),
        notices=(*told, *untold, *uncut, *_notices(project, drafts, climate)),
        cautions=cautions_of_floors(project, zones, water, floors, design),
    )


def _drafts(
    plan: Plan,
    answer: str,
    weather: str,
    climate: ClimateUsed | None,
    shapes: Sequence[ZoneShape],
    floors: Mapping[str, PartFloor],
) -> list[_Draft]:
    project = plan.project
    heat = heat_of(plan, answer, weather) if any(by_surfaces(zone) for zone in project.zones) else None
    drafts = []
    for typed, shape in zip(project.zones, shapes, strict=True):
        floor = floors[shape.part]
        air = typed.air if typed.air is not None else floor.part.air
        walls = 0.0
        if by_surfaces(typed) and heat is not None:
            walls = _walls_loss(project, floor, climate, heat) * shape.area / floor.floor.area
        load = zone_load(typed, shape, air, climate, walls)
        ground = ground_response(project, floor, shape, climate)
        ask = Ask(air, limit_of(typed)[0], project.floors.drop, ground, load.flux if load else None)
        finishes = finishes_of(typed)
        found: tuple[SpacingChoice, ...] = ()
        allowed = spacings_of(project)
        if ask.load is not None:
            below = ground.resistance
            first = partial(build_up, project, floor.part, finish=finishes[0].resistance, below=below)
            found = choices(first, allowed, ask, slow_film(tube_of(project), fluid_of(project, shape.part)))
        spacing = typed.spacing
        if spacing is None:
            spacing = widest(found) if found else min(allowed, key=lambda each: abs(each - USUAL_SPACING))
        drafts.append(_Draft(typed, shape, floor, load, ask, finishes, spacing, found))
    return drafts


def _walls_loss(project: Project, floor: PartFloor, climate: ClimateUsed | None, heat: HouseHeat) -> float:
    """What leaves through a part's concrete on the design day, its floor left out. [W]"""
    whole = heat.parts[floor.part.name].design if floor.part.name in heat.parts else None
    return max(whole.likely - floor_loss(project, floor, climate), 0.0) if whole is not None else 0.0


def _water(
    project: Project,
    climate: ClimateUsed | None,
    drafts: Sequence[_Draft],
    manifolds: Sequence[PlacedManifold],
    laid: Mapping[str, tuple[str, tuple[Laying, ...]]],
) -> tuple[tuple[ManifoldWater, ...], dict[str, float]]:
    """Water of each manifold that serves loops, and each zone's film."""
    water: list[ManifoldWater] = []
    films: dict[str, float] = {}
    for manifold in manifolds:
        served = []
        for draft in drafts:
            name, layings = laid[draft.shape.name]
            loops = tuple(loop for laying in layings for loop in laying.loops)
            case = partial(draft.case, project, climate, draft.finishes[0])
            if name == manifold.name and loops and case(math.inf).heat > 0:
                served.append(ZoneLoops(draft.shape.name, loops, draft.ask.drop, case))
        if not served:
            continue
        fluid = fluid_of(project, manifold.part)
        flow, own = settle(served, tube_of(project), fluid)
        films |= own
        supplies = {zone.name: zone.case(own[zone.name]).supply for zone in served}
        water.append(manifold_water(manifold.name, manifold.part, manifold.at, fluid, flow, supplies))
    return tuple(water), films


def _zone(
    project: Project,
    climate: ClimateUsed | None,
    draft: _Draft,
    manifold: str,
    layings: tuple[Laying, ...],
    film: float,
) -> ZoneFloor:
    limit, reason, standard = limit_of(draft.typed)
    cases = tuple(draft.case(project, climate, finish, film) for finish in draft.finishes)
    design = climate.design_temperature if climate is not None else project.climate.design_temperature
    return ZoneFloor(
        shape=draft.shape,
        air=draft.ask.air,
        limit=limit,
        limit_reason=reason,
        standard_limit=standard,
        load=draft.load,
        ground=draft.ask.ground,
        spacing=draft.spacing,
        choices=draft.choices,
        cases=cases,
        layings=layings,
        manifold=manifold,
        reset=reset_line(cases[0], draft.ask, design),
    )


def _assumed(project: Project, zones: Sequence[ZoneFloor]) -> tuple[str, ...]:
    """What nobody has told, beyond the fields that are marked in the project file."""
    said = []
    open_finish = [zone.shape.name for zone in zones if len(zone.cases) > 1]
    if open_finish:
        carpet = units.write(CARPET[1], "resistance", project.units)
        said.append(f"finish of {', '.join(open_finish)}: bare and {CARPET[0]} of {carpet} [practice]")
    typed = {zone.name: zone for zone in project.zones}
    usual = [z.shape.name for z in zones if z.load is None and typed[z.shape.name].spacing is None]
    if usual:
        said.append(f"spacing of {', '.join(usual)}: the usual one [practice]")
    parts = dict.fromkeys(zone.shape.part for zone in zones)
    for part in parts:
        fluid = project.floors.fluid_by_part.get(part, project.floors)
        if fluid.fluid != "water" and fluid.glycol is None:
            said.append(f"glycol of {part}: {GLYCOL:.0%} by volume [practice]")
    if any(not zone.ground.solved for zone in zones):
        ground = units.write(GROUND, "temperature", project.units)
        said.append(f"ground right under the foam: {ground} [practice], since there is no climate")
    return tuple(said)


def _notices(project: Project, drafts: Sequence[_Draft], climate: ClimateUsed | None) -> tuple[Problem, ...]:
    found = []
    design = climate.design_temperature if climate is not None else None
    for draft in drafts:
        name = draft.shape.name
        if by_surfaces(draft.typed) and draft.load is None:
            why = "no climate" if climate is None else "no design temperature outdoors"
            found.append(
                Problem(
                    f"zones[{draft.shape.number}].room",
                    name,
                    f"The load of zone {name} cannot be worked out from its surfaces: there is {why}. What its floor "
                    "can give is shown instead.",
                    fatal=False,
                )
            )
        elif draft.load is not None and design is None:
            found.append(
                Problem(
                    "climate.design_temperature",
                    name,
                    f"The load of zone {name} stands for no design temperature: its supply against the air outdoors "
                    "is not shown.",
                    fatal=False,
                )
            )
    for part in dict.fromkeys(draft.floor.part.name for draft in drafts):
        if not part_of(project, part).floor_heated:
            number = [each.name for each in project.parts].index(part) + 1
            found.append(
                Problem(
                    f"parts[{number}].floor_heated",
                    part,
                    f"The floor of {part} has zones but is not said to be heated: set floor_heated = true, so that its "
                    "foam is held against what the office asks for.",
                    fatal=False,
                )
            )
    return tuple(found)
