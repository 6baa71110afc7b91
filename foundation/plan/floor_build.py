"""How a zone's floor is built: tube, its depth by how it is held, spacings that may be, finishes, limits."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from foundation import materials, units
from foundation.model.problem import Problem
from foundation.model.radiant import FloorBuildUp, Fluid, Tube
from foundation.plan.lines import outline
from foundation.project import Project
from foundation.project.schema import Part
from foundation.project.schema_floor import JointInput, ManifoldInput, Obstacle, ZoneInput
from foundation.radiant.fluids import WATER, propylene_glycol
from foundation.radiant.piece import tightest
from foundation.radiant.pipe import pex_tubes
from foundation.radiant.standards import PEAK_LIMITS

INCH = 0.0254
R = 0.1761101838
STOCK_SPACINGS = tuple(n * INCH for n in (4, 6, 8, 9, 10, 12))
"""Spacings that are laid, 4 to 12 in [practice]. [m]"""
USUAL_SPACING = 9 * INCH
"""Taken where there is neither a spacing nor a load [practice]. [m]"""
CARPET = ("carpet and pad", 2.0 * R)
"""What a floor may get that nobody has told of: R-2 [practice]. [-, m²·K/W]"""
GLYCOL = 0.4
"""Glycol by volume where nobody has told [practice]. [-]"""
HOTTEST_SUPPLY = 55.0
"""Hottest water in a cement slab, EN 1264-4 [memory]. [°C]"""
ON_FOAM = ("stapled to foam", "knobbed panel")
NEAR = INCH / 16


@dataclass(frozen=True)
class Finish:
    """What covers a slab.

    Attributes
    ----------
    name : str
        In words.
    resistance : float
        Its resistance. [m²·K/W]
    """

    name: str
    resistance: float


def tube_of(project: Project) -> Tube:
    """The tube of the job.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    Tube
        The tube.
    """
    return pex_tubes()[project.floors.tube]


def axis_depth(project: Project, part: Part) -> float:
    """Axis of the tube below the top of slab: on the foam, or as typed, or in the middle of the slab.

    Parameters
    ----------
    project : Project
        The project.
    part : Part
        The part.

    Returns
    -------
    float
        Depth. [m]
    """
    floors = project.floors
    if floors.held in ON_FOAM:
        return part.slab_thickness - tube_of(project).outside_diameter / 2
    return floors.axis_depth if floors.axis_depth is not None else part.slab_thickness / 2


def build_up(project: Project, part: Part, spacing: float, finish: float, below: float) -> FloorBuildUp:
    """A zone's floor.

    Parameters
    ----------
    project : Project
        The project.
    part : Part
        Its part.
    spacing : float
        Between the axes of neighbouring tubes. [m]
    finish : float
        Resistance of what covers the slab. [m²·K/W]
    below : float
        Resistance from the underside of the slab to where the temperature below is taken. [m²·K/W]

    Returns
    -------
    FloorBuildUp
        The floor.
    """
    return FloorBuildUp(
        slab_thickness=part.slab_thickness,
        slab_conductivity=materials.CONCRETE.conductivity,
        axis_depth=axis_depth(project, part),
        spacing=spacing,
        tube=tube_of(project),
        finish_resistance=finish,
        resistance_below=below,
    )


def spacings_of(project: Project) -> tuple[float, ...]:
    """Spacings from 4 to 12 in that may be laid: whole multiples of a knobbed panel's knobs, else the usual ones.

    None is closer than the tube can turn back at.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    tuple of float
        Rising. [m]
    """
    floors = project.floors
    closest = tightest(tube_of(project).bend_radius) - NEAR
    if floors.held != "knobbed panel":
        return tuple(each for each in STOCK_SPACINGS if each >= closest)
    knob = floors.knob_spacing
    first, last = (
        math.ceil((STOCK_SPACINGS[0] - NEAR) / knob),
        math.floor((STOCK_SPACINGS[-1] + NEAR) / knob),
    )
    return tuple(n * knob for n in range(first, last + 1) if n * knob >= closest)


def finishes_of(zone: ZoneInput) -> tuple[Finish, ...]:
    """What covers a zone: as typed, or bare and carpeted as a pair.

    Parameters
    ----------
    zone : ZoneInput
        The zone.

    Returns
    -------
    tuple of Finish
        One or two.
    """
    if zone.finish_resistance is not None:
        name = zone.finish or ("bare" if zone.finish_resistance == 0 else "finish")
        return (Finish(name, zone.finish_resistance),)
    return Finish("bare", 0.0), Finish(*CARPET)


def limit_of(zone: ZoneInput) -> tuple[float, str, float]:
    """Hottest that a zone's floor may be.

    Parameters
    ----------
    zone : ZoneInput
        The zone.

    Returns
    -------
    limit : float
        In force. [°C]
    reason : str
        By what.
    standard : float
        By its use alone. [°C]
    """
    standard = PEAK_LIMITS.get(zone.use, PEAK_LIMITS["occupied"])
    by_use = f"{zone.use}, EN 1264-2 and ISO 11855"
    if zone.use == "garage":
        # The standards give none for a garage; what is wished for may be hotter there.
        return (
            (zone.comfort, "as wished for in a garage", zone.comfort)
            if zone.comfort is not None
            else (standard, "a garage, taken as occupied", standard)
        )
    if zone.comfort is not None and zone.comfort < standard:
        return zone.comfort, "the comfort that is wished for", standard
    return standard, by_use, standard


def fluid_of(project: Project, part: str) -> Fluid:
    """What runs in a part's tube.

    Parameters
    ----------
    project : Project
        The project.
    part : str
        Name of the part.

    Returns
    -------
    Fluid
        The fluid; 40 % glycol by volume [practice] where it is to be a mixture and nobody has told how strong.
    """
    typed = project.floors.fluid_by_part.get(part, project.floors)
    if typed.fluid == "water":
        return WATER
    return propylene_glycol(typed.glycol if typed.glycol is not None else GLYCOL)


def floor_problems(project: Project) -> tuple[Problem, ...]:
    """What makes the warm floors impossible, before any shape is looked at.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    tuple of Problem
        All of them fatal; empty for sound inputs.
    """
    problems = list(_names(project))
    if problems:
        return tuple(problems)
    for number, zone in enumerate(project.zones, 1):
        problems += _spacing(project, zone, f"zones[{number}].spacing")
        air = zone.air if zone.air is not None else _part(project, zone.part).air
        if limit_of(zone)[0] <= air:
            told = units.write(limit_of(zone)[0], "temperature", project.units)
            problems.append(
                Problem(
                    f"zones[{number}].comfort",
                    told,
                    f"The floor of zone {zone.name} may be no warmer than {told}, which is no more than the air over "
                    "it: wish for a warmer floor, or for cooler air.",
                )
            )
    for part in {zone.part: _part(project, zone.part) for zone in project.zones}.values():
        problems += _held(project, part)
    return tuple(problems)


def _part(project: Project, name: str) -> Part:
    return next(part for part in project.parts if part.name == name)


def _names(project: Project) -> Iterator[Problem]:
    """Zones and what stands in them: names that are given twice, and parts that are none."""
    names = [zone.name for zone in project.zones]
    for name in sorted({name for name in names if names.count(name) > 1}):
        place = f"zones[{len(names) - names[::-1].index(name)}].name"
        yield Problem(place, name, f"Two zones are called {name}: give each a name of its own.")
    known = {
        part.name: part
        for part in project.parts
        if part.use not in ("interior wall", "porch") and outline(project, part) is not None
    }
    listed = ", ".join(known) or "none"
    kinds: dict[str, Sequence[ZoneInput | Obstacle | JointInput | ManifoldInput]] = {
        "zones": project.zones,
        "obstacles": project.obstacles,
        "joints": project.joints,
        "manifolds": project.manifolds,
    }
    places = [
        (f"{key}[{number}].part", each.part, each.name)
        for key, entries in kinds.items()
        for number, each in enumerate(entries, 1)
    ]
    places += [(f"floors.fluid_by_part.{name}", name, "a fluid") for name in project.floors.fluid_by_part]
    for place, part, name in places:
        if part not in known:
            yield Problem(
                place, part, f'{place} says that {name} is in "{part}"; parts with a floor are: {listed}.'
            )
    for number, zone in enumerate(project.zones, 1):
        if zone.part in known and not known[zone.part].is_heated:
            yield Problem(
                f"zones[{number}].part",
                zone.part,
                f"Zone {zone.name} heats the floor of {zone.part}, which is not heated: set heated = true there.",
            )


def _spacing(project: Project, zone: ZoneInput, place: str) -> Iterator[Problem]:
    floors = project.floors
    if zone.spacing is None:
        if not spacings_of(project):
            told = units.length(floors.knob_spacing, project.units)
            yield Problem(
                "floors.knob_spacing",
                told,
                f"Knobs {told} apart allow no spacing between 4 and 12 in: give zone {zone.name} a spacing.",
            )
        return
    closest = tightest(tube_of(project).bend_radius)
    if zone.spacing < closest - NEAR:
        say = [
            units.inches(v) if project.units == "us" else units.millimetres(v)
            for v in (zone.spacing, closest)
        ]
        yield Problem(
            place,
            say[0],
            f"Zone {zone.name} has its tube {say[0]} apart; {floors.tube} in tube turns back from {say[1]} on: lay it "
            "wider, or take thinner tube.",
        )
        return
    knob = floors.knob_spacing
    if floors.held == "knobbed panel" and abs(zone.spacing / knob - round(zone.spacing / knob)) * knob > NEAR:
        spacing, knobs = (units.length(v, project.units) for v in (zone.spacing, knob))
        near = sorted({max(1, math.floor(zone.spacing / knob)) * knob, math.ceil(zone.spacing / knob) * knob})
        would = " or ".join(units.length(v, project.units) for v in near)
        yield Problem(
            place,
            spacing,
            f"Zone {zone.name} has its tube {spacing} apart, but the panel's knobs stand {knobs} apart: "
            f"{would} would do.",
        )


def _held(project: Project, part: Part) -> Iterator[Problem]:
    floors, tube, slab = project.floors, tube_of(project), part.slab_thickness
    say = [units.length(v, project.units) for v in (slab, tube.outside_diameter)]
    if slab < 2 * tube.outside_diameter:
        yield Problem(
            f"parts[{project.parts.index(part) + 1}].slab_thickness",
            say[0],
            f"The slab of {part.name} is {say[0]} thick; tube of {say[1]} outside wants at least twice that.",
        )
        return
    if floors.held in ON_FOAM:
        if part.foam.under_slab is None:
            yield Problem(
                "floors.held",
                floors.held,
                f"The tube is {floors.held}, but {part.name} has no foam under its slab: name it, or tie the tube to "
                "mesh.",
            )
        elif floors.panel_base > part.foam.under_slab.thickness + NEAR:
            base, foam = (
                units.length(v, project.units) for v in (floors.panel_base, part.foam.under_slab.thickness)
            )
            yield Problem(
                "floors.panel_base",
                base,
                f"The panel's base is {base} thick, but the foam under {part.name} in all is {foam}: the base counts "
                "as part of that foam.",
            )
        if floors.axis_depth is not None and abs(floors.axis_depth - axis_depth(project, part)) > NEAR:
            typed, own = (
                units.length(v, project.units) for v in (floors.axis_depth, axis_depth(project, part))
            )
            yield Problem(
                "floors.axis_depth",
                typed,
                f"Tube {floors.held} lies with its axis {own} below the top of {part.name}'s slab, not {typed}: leave "
                "axis_depth out, or tie the tube to mesh.",
            )
        return
    radius = tube.outside_diameter / 2
    if floors.axis_depth is not None and not radius <= floors.axis_depth <= slab - radius:
        typed, least, most = (
            units.length(v, project.units) for v in (floors.axis_depth, radius, slab - radius)
        )
        yield Problem(
            "floors.axis_depth",
            typed,
            f"Tube with its axis {typed} below the top of slab does not lie in {part.name}'s slab of {say[0]}: "
            f"{least} to {most} would do.",
        )
