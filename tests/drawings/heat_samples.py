"""Invented sections, answers, charts and sums of money to draw: none of them is solved for, all are quick."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from foundation.drawings.charts import Axis, Bars, Chart, Line, Mark, Vertical
from foundation.drawings.charts_scene import chart_scene
from foundation.drawings.foam_charts import next_inch, trade_off
from foundation.drawings.heat_charts import beside_standards, edge_heat, monthly_heat
from foundation.drawings.heat_picture import heat_scene
from foundation.drawings.scene import Scene
from foundation.drawings.section import section_scene
from foundation.model.heat import (
    Band,
    ClimateUsed,
    EdgeHeat,
    HouseHeat,
    Loss,
    Picture,
    SectionResponse,
    StretchHeat,
    Surface,
)
from foundation.model.section import InsulationGap, Section
from foundation.model.sizing import Curve, LaidFoam, Place, Rung
from tests.heat.sections import SECTIONS, basement, between, garage, slab_edge, walkout

Array = NDArray[np.float64]
INCH = 0.0254
NOTHING = np.zeros(0)
NO_WAVE = np.zeros(0, np.complex128)
NO_SURFACE = Surface(NOTHING, NOTHING, NOTHING, (), NOTHING, NOTHING, NO_WAVE, NOTHING, NO_WAVE)


def in_air(section: Section, x: Array, z: Array) -> NDArray[np.bool_]:
    """Where there is air, by the rule that the noun Section states."""
    grade = np.full(x.shape, section.grade[0].level)
    for step in section.grade:
        grade = np.where(x >= step.start, step.level, grade)
    air = z > np.where(x < section.divide, section.bed, grade)
    for block in section.blocks:
        air &= ~((x > block.left) & (x < block.right) & (z > block.bottom) & (z < block.top))
    return air


def picture_of(section: Section, cell: float = 0.04) -> Picture:
    """Factors that look like those of a section: the yearly wave dies out downward and inward."""
    x = np.arange(section.inner_face - section.half_width, 4.0, cell)
    z = np.arange(section.bed - 4.0, section.top + cell / 2, cell)
    xx, zz = np.meshgrid((x[1:] + x[:-1]) / 2, (z[1:] + z[:-1]) / 2, indexing="ij")
    depth = np.maximum(section.grade[0].level - zz, 0.0)
    outer = 1 / (1 + np.exp(-(xx + 0.1) / 0.3))
    steady = outer * (1 - 0.1 * depth / (1 + depth))
    annual = outer * np.exp(-(1 + 1j) * depth / 2.9)
    air = in_air(section, xx, zz)
    return Picture(x, z, np.where(air, np.nan, steady), np.where(air, np.nan + 0j, annual))


def response_of(section: Section, picture: Picture | None = None) -> SectionResponse:
    return SectionResponse(section, NO_SURFACE, picture or picture_of(section), 0.0, 0.0, 0)


def gaps_in(section: Section) -> tuple[InsulationGap, ...]:
    face, top = section.inner_face, section.concrete_top
    return (
        InsulationGap("the wall's top between sill and foam", (-0.14, top), (0.0, top - 0.05), 0.15, 0.031),
        InsulationGap(
            "the slab's edge", (face, section.floor - 0.1), (face - 0.05, section.floor), 0.11, math.nan
        ),
    )


def random_sections(count: int) -> Iterator[Section]:
    """Sections with sizes of chance, at a level as builders set it."""
    rng = np.random.default_rng(11)
    for number in range(count):
        foam = {key: float(rng.choice([0.0, 1.0, 2.0, 4.0])) * INCH for key in ("edge", "under", "outside")}
        half = float(rng.uniform(0.8, 8.0))
        kind = number % 5
        if kind == 0:
            section = basement(half, foam["outside"], foam["edge"], foam["under"], bool(rng.integers(2)))
        elif kind == 1:
            wing, band = float(rng.choice([0.0, 0.6, 1.8])), float(rng.choice([0.0, 0.7]))
            depth = float(rng.uniform(0.2, 1.2))
            # A band of foam takes the place of stone and is no thicker.
            under = min(foam["under"], 2 * INCH)
            section = slab_edge(half, foam["outside"], depth, foam["edge"], under, band, wing)
        elif kind == 2:
            section = walkout(half, foam["edge"], foam["under"], foam["outside"])
        elif kind == 3:
            section = garage(half, foam["edge"], foam["under"], bool(rng.integers(2)))
        else:
            section = between(half, foam["edge"])
        yield moved(section, float(rng.uniform(-20, 1200)))


def moved(section: Section, up: float) -> Section:
    """The same section at another level."""
    return replace(
        section,
        floor=section.floor + up,
        bed=section.bed + up,
        top=section.top + up,
        concrete_top=section.concrete_top + up,
        grade=tuple(replace(step, level=step.level + up) for step in section.grade),
        soil=tuple(replace(layer, top=layer.top + up) for layer in section.soil),
        blocks=tuple(
            replace(block, bottom=block.bottom + up, top=block.top + up) for block in section.blocks
        ),
    )


def band(likely: float) -> Band:
    return Band(0.8 * likely, likely, 1.3 * likely)


def loss(conductance: float) -> Loss:
    """Heat of some part: most in February, a little comes in in September."""
    monthly = [band(3e6 * conductance * v) for v in (21, 22, 19, 15, 10, 6, 3, 1, -1, 3, 9, 16)]
    year = Band(*(sum(getattr(month, which) for month in monthly) for which in ("low", "likely", "high")))
    return Loss(
        band(conductance), None, band(10 * conductance), band(22 * conductance), 30.0, tuple(monthly), year
    )


def house_heat() -> HouseHeat:
    names = ("north", "a wall line with a long name", "south")
    sections = [SECTIONS["basement bare"](), SECTIONS["walkout foamed"](), SECTIONS["garage bare"]()]
    stretches = tuple(
        StretchHeat(
            name,
            0.0,
            3.0 + i,
            response_of(section),
            band(0.3 + 0.1 * i),
            0.7 + 0.1 * i,
            8.0,
            (0.0, 0.0),
            15.0,
            1.0,
            (),
        )
        for i, (name, section) in enumerate(zip(names, sections, strict=True))
    )
    climate = ClimateUsed(5.0, 16.0, 5200.0, 1100.0, None, None, "invented", "")
    parts = {"heated basement": loss(60.0), "garage": loss(25.0)}
    return HouseHeat(
        climate,
        "moist clay",
        band(1.5),
        stretches,
        tuple(
            EdgeHeat(s.line, "slab edge", s.start, s.end, s.edge_factor, s.bare_edge_factor)
            for s in stretches
        ),
        parts,
        {},
        {},
        loss(85.0),
        {"heated basement": 51.0, "garage": 24.0},
        {"heated basement": 55.0, "garage": 26.0},
        {"heated basement": 50.0},
    )


def curve(knee: int = 3, count: int = 7) -> Curve:
    """Foam whose cost rises by the inch, with the least whole cost at the knee."""
    rungs: list[Rung] = []
    for i in range(count):
        foam = LaidFoam("XPS IV", i * INCH, 1, i * 0.88, i * 0.88) if i else None
        first, total = 700.0 * i, 5000.0 + 90.0 * (i - knee) ** 2
        before = rungs[-1] if rungs else None
        cost = 700.0 / INCH if before else math.nan
        saving = (
            ((before.life_cycle_cost - before.first_cost) - (total - first)) / INCH if before else math.nan
        )
        rungs.append(Rung(foam, first, 1e10, total, cost, saving, 0.8 * total, 1.2 * total))
    return Curve(Place.UNDER_SLAB, "XPS IV", tuple(rungs), knee)


def charts() -> dict[str, Chart]:
    """A chart of each kind."""
    heat = house_heat()
    made = curve()
    return {
        "months": monthly_heat(heat.total, "us", loss(200.0)),
        "edge": edge_heat(heat, "us"),
        "standards": beside_standards(heat, "metric"),
        "trade-off": trade_off(made, "us", 2 * INCH),
        "next inch": next_inch(made, "us"),
        "stacked": Chart(
            "Fuel is most of it",
            Axis("", names=("planned", "least cost", "warmest")),
            Axis("Cost [$]", zero=True, prefix="$"),
            bars=(Bars("concrete", (900.0, 400.0, 500.0)), Bars("fuel", (100.0, math.nan, -50.0))),
            stacked=True,
        ),
        "steps": Chart(
            "It steps once",
            Axis("Station [ft]"),
            Axis("Level [ft]"),
            lines=(Line("bottom of footing", (0.0, 8.0, 20.0), (96.0, 94.0, 94.0), step=True),),
            marks=(Mark("step 1", 8.0, 94.0),),
            verticals=(Vertical("corner B", 12.0),),
        ),
    }


def heat_drawings() -> Iterator[tuple[str, Scene]]:
    """Each kind of drawing of heat and foam."""
    for name, made in SECTIONS.items():
        section = moved(made(), 30.48)
        gaps = gaps_in(section) if "foamed" in name else None
        yield f"section {name}", section_scene(section, 905.0, gaps, "slab")
    for name in ("basement foam outside, slope", "walkout foamed"):
        response = response_of(SECTIONS[name]())
        yield f"heat {name}", heat_scene(response, 20.0, 5.0, 16.0, 20.0, 905.0, response)
    for name, chart in charts().items():
        yield f"chart {name}", chart_scene(chart, 720.0)
