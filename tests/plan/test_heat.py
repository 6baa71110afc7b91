"""Heat of the joined house: sums, limits, order, and a slab and a basement against ISO 13370."""

from __future__ import annotations

from collections.abc import Iterable
from math import log, pi
from typing import Any

import pytest

from foundation.heat.sections.loss import MONTHS, Flows, flows_of
from foundation.model.heat import Band, HouseHeat, Loss
from foundation.model.section import Situation
from foundation.plan import Plan
from foundation.plan.heat import answer_of, heat_of, look_at, soil_layers
from foundation.plan.sections import sections_along
from tests.conftest import planned
from tests.plan.test_sections import box, foam

FOOT, INCH = 0.3048, 0.0254
ANSWER = "least cost"
CLIMATE: dict[str, Any] = {
    "degree_days": "8410 °F·d",
    "freezing_index": "1607 °F·d",
    "design_temperature": "-9 °F",
}
BASEMENT: dict[str, Any] = {"use": "basement", "wall_height": "8 ft", "slab_top": "93 ft"}
SLAB: dict[str, Any] = {"slab_top": "100 ft", "wall_top": "100.5 ft"}


def wide(climate: dict[str, Any] | None = None, **part: Any) -> dict[str, Any]:
    """A box of 44 × 30 ft."""
    tables = box(**part)
    for name, east, north in (("A", 0, 30), ("B", 44, 30), ("C", 44, 0), ("D", 0, 0)):
        tables["corners"][name] = {"east": f"{east} ft", "north": f"{north} ft"}
    tables["climate"] = CLIMATE if climate is None else climate
    return tables


def heat(tables: dict[str, Any]) -> HouseHeat:
    found = heat_of(planned(tables), ANSWER)
    assert found is not None
    return found


@pytest.fixture(scope="module")
def house(demo_plan: Plan) -> HouseHeat:
    found = heat_of(demo_plan, ANSWER)
    assert found is not None
    return found


def losses(found: HouseHeat) -> list[Loss]:
    return [*found.parts.values(), *found.floors.values(), *found.walls.values(), found.total]


def total(bands: Iterable[Band]) -> float:
    return sum(band.likely for band in bands)


def test_floors_add_up_to_the_parts(demo_plan: Plan) -> None:
    """House 44 × 30 ft less 10 in walls, garage 24 × 24 ft less 8 in walls."""
    area = {"house": (44 - 20 / 12) * (30 - 20 / 12), "garage": (24 - 16 / 12) ** 2}
    for part, floor in area.items():
        strips = sum(
            (each.end - each.start) * each.section.half_width
            for each in sections_along(demo_plan, ANSWER)
            if each.section.inside == part and each.section.situation is not Situation.BETWEEN
        )
        assert strips / FOOT**2 == pytest.approx(floor, rel=1e-4)


def test_walls_add_up_to_parts_and_parts_to_the_house(demo_plan: Plan, house: HouseHeat) -> None:
    between = {line.wall.name for line in demo_plan.lines if line.wall.beyond}
    assert between == {"B-H"}
    outdoors = [loss for line, loss in house.walls.items() if line not in between]
    for name in ("conductance", "mean", "yearly"):
        whole = getattr(house.total, name).likely
        assert total(getattr(loss, name) for loss in outdoors) == pytest.approx(whole, rel=1e-9)
        assert total(getattr(loss, name) for loss in house.parts.values()) == pytest.approx(whole, rel=1e-9)
    # Peaks of parts come at different times: together they are less than their sum.
    assert house.total.peak.likely < total(loss.peak for loss in house.parts.values())
    by_edge = {
        line: sum(e.edge_factor.likely * (e.end - e.start) for e in house.stretches if e.line == line)
        for line in house.walls
    }
    for line, loss in house.walls.items():
        assert loss.conductance.likely == pytest.approx(by_edge[line], rel=1e-9)


def test_what_stays_in_the_house(house: HouseHeat) -> None:
    """Through the wall between goes what 68 °F and 50 °F drive, the same on every day."""
    wall = house.walls["B-H"]
    assert wall.mean.likely == pytest.approx(wall.conductance.likely * 10, rel=1e-9)
    assert wall.peak == wall.mean == wall.design


def test_months_sum_to_the_year(house: HouseHeat) -> None:
    drop = {"house": 20.0 - house.climate.mean, "garage": 10.0 - house.climate.mean}
    for part, loss in house.parts.items():
        assert loss.mean.likely == pytest.approx(loss.conductance.likely * drop[part], rel=1e-9)
    for loss in losses(house):
        assert total(loss.monthly) == pytest.approx(loss.yearly.likely, rel=1e-9)
        assert loss.yearly.likely == pytest.approx(loss.mean.likely * sum(MONTHS) * 86400, rel=1e-9)


def test_bands_are_ordered(house: HouseHeat) -> None:
    bands = [house.conductivity, *(each.edge_factor for each in house.stretches)]
    for loss in losses(house):
        assert loss.design is not None
        bands += [loss.conductance, loss.design, loss.mean, loss.peak, loss.yearly, *loss.monthly]
    for band in bands:
        assert band.low <= band.likely <= band.high
    assert house.total.conductance.low < 0.9 * house.total.conductance.high


def test_soil_band_beside_the_longest_stretches(demo_plan: Plan, house: HouseHeat) -> None:
    """Every stretch solved with every soil: the scaled ones are within 1.5 % of that, in watts and in peaks."""
    inside = {"house": 20.0, "garage": 10.0}
    for end, soil in (
        ("low", soil_layers(demo_plan.project)[0]),
        ("high", soil_layers(demo_plan.project)[2]),
    ):
        for part, loss in house.parts.items():
            flows = sum(
                (
                    flows_of(
                        answer_of(each.section, 0.02), inside[part], house.climate, ("floor", "wall")
                    ).times(each.end - each.start)
                    for each in sections_along(demo_plan, ANSWER, soil)
                    if each.section.inside == part and each.section.situation is not Situation.BETWEEN
                ),
                start=Flows(),
            )
            assert loss.design is not None
            for band, value in (
                (loss.conductance, flows.conductance),
                (loss.peak, flows.peak),
                (loss.design, flows.design),
            ):
                assert getattr(band, end) == pytest.approx(value, rel=0.015)


def test_every_stretch_is_sound(house: HouseHeat) -> None:
    for each in house.stretches:
        assert each.response.error <= 0.005
        assert each.response.imbalance < 1e-9
        assert each.bare_edge_factor > each.edge_factor.high * 0.9
        assert each.coldest_surface < each.floor_temperature


def test_no_climate_no_heat(demo_tables: dict[str, Any]) -> None:
    assert heat_of(planned(wide({}, **SLAB)), ANSWER) is None
    assert heat_of(planned(wide(heated=False, **SLAB)), ANSWER) is None


def test_without_a_design_temperature() -> None:
    told = heat(wide(**SLAB))
    untold = heat(wide({k: v for k, v in CLIMATE.items() if k != "design_temperature"}, **SLAB))
    assert told.total.design is not None
    assert untold.total.design is None
    assert untold.total.peak == told.total.peak
    assert min(e.coldest_surface for e in untold.stretches) > min(e.coldest_surface for e in told.stretches)


@pytest.mark.parametrize(
    ("part", "thin", "thick"),
    [
        (BASEMENT, {"outside": foam("1 in")}, {"outside": foam("3 in")}),
        (BASEMENT, {"inside": foam("1 in")}, {"inside": foam("3 in")}),
        (SLAB, {"under_slab": foam("1 in")}, {"under_slab": foam("3 in")}),
        (SLAB, {"slab_edge": foam("1 in")}, {"slab_edge": foam("2 in")}),
        (SLAB, {"wing": foam("1 in", width="2 ft")}, {"wing": foam("2 in", width="4 ft")}),
    ],
    ids=["outside", "inside", "under", "edge", "wing"],
)
def test_more_foam_never_loses_more(
    part: dict[str, Any], thin: dict[str, Any], thick: dict[str, Any]
) -> None:
    bare, some, more = (heat(wide(**part, foam=each)).total for each in ({}, thin, thick))
    for name in ("conductance", "mean", "peak", "design", "yearly"):
        for end in ("low", "likely", "high"):
            values = [getattr(getattr(loss, name), end) for loss in (bare, some, more)]
            assert values == sorted(values, reverse=True), (name, end)


def test_hotter_inside_loses_more_and_grows_in_proportion() -> None:
    found = [heat(wide(**SLAB, temperature=f"{t} °C")) for t in (16.0, 20.0, 24.0)]
    means = [each.total.mean.likely for each in found]
    assert means[2] - means[1] == pytest.approx(means[1] - means[0], rel=1e-9)
    assert means[0] < means[1] < means[2]
    assert found[0].total.conductance == found[2].total.conductance
    assert found[0].total.design is not None
    assert found[2].total.design is not None
    assert found[0].total.design.likely < found[2].total.design.likely
    assert found[0].stretches[0].coldest_surface < found[2].stretches[0].coldest_surface


def test_units_on_screens_change_nothing() -> None:
    us = heat(wide(**BASEMENT))
    metric = heat(wide(**BASEMENT) | {"units": "metric"})
    assert us.total == metric.total
    assert us.standard == metric.standard
    sizes = {
        name: {way: _in_metres(at) for way, at in each.items()} for name, each in wide()["corners"].items()
    }
    typed = heat(wide(**BASEMENT) | {"units": "metric", "corners": sizes})
    assert typed.total.conductance.likely == pytest.approx(us.total.conductance.likely, rel=1e-9)


def _in_metres(feet: str) -> str:
    return f"{float(feet.split()[0]) * FOOT:.10f} m"


def test_equal_walls_lose_alike() -> None:
    found = heat(wide(**BASEMENT))
    per_metre = {
        loss.conductance.likely / (length * FOOT)
        for loss, length in zip(found.walls.values(), (44, 30, 44, 30), strict=True)
    }
    assert max(per_metre) == pytest.approx(min(per_metre), rel=1e-9)


def test_one_station_is_its_stretch(demo_plan: Plan, house: HouseHeat) -> None:
    """Looked at in the middle of a long stretch the section is nearly the stretch's."""
    stretch = next(each for each in house.stretches if each.line == "C-D")
    view = look_at(demo_plan, ANSWER, "C-D", (stretch.start + stretch.end) / 2, house.climate)
    assert view.stretch is not None
    assert view.stretch.edge_factor.likely == pytest.approx(stretch.edge_factor.likely, rel=0.02)
    assert view.stretch.coldest_surface == pytest.approx(stretch.coldest_surface, abs=0.3)
    assert view.bare.surface.flow_steady.sum() > view.foamed.surface.flow_steady.sum()
    assert look_at(demo_plan, ANSWER, "C-D", 3.0, None).stretch is None


# ISO 13370:2017 [formulae memory], by hand [derived]: A 1199.44 ft² inside 10 in walls, P 148 ft.
AREA, PERIMETER = (44 - 20 / 12) * (30 - 20 / 12) * FOOT**2, 148 * FOOT
CLAY = 1.5


def test_slab_by_the_standard() -> None:
    """Slab of 4 in (1.73 W/mK) on 4 in of stone (its own conductivity), 10 in wall, 2 in foam under it."""
    found = heat(wide(**SLAB, foam={"under_slab": foam("2 in"), "slab_edge": foam("2 in")}))
    blocks = {b.name: b for b in found.stretches[0].response.section.blocks}
    resistance = (
        sum(
            (b.top - b.bottom) / b.material.conductivity
            for b in (blocks["slab"], blocks["foam under the slab"])
        )
        + 4 * INCH / blocks["stone"].material.conductivity
    )
    dimension, thickness = AREA / (PERIMETER / 2), 10 * INCH + CLAY * (0.17 + resistance + 0.04)
    transmittance = 2 * CLAY / (pi * dimension + thickness) * log(pi * dimension / thickness + 1)
    # The foam at the edge stands in the 4 in of slab, just below grade: its edge term by D = 4 in, doubled upright.
    edge = blocks["foam at the slab's edge"]
    more = (edge.right - edge.left) * (CLAY / edge.material.conductivity - 1)
    saving = CLAY / pi * (log(8 * INCH / thickness + 1) - log(8 * INCH / (thickness + more) + 1))
    by_hand = AREA * transmittance - PERIMETER * saving
    assert found.standard["house"] == pytest.approx(by_hand, rel=2e-4)


@pytest.mark.parametrize(
    "foams",
    [
        {},
        {"slab_edge": foam("2 in")},
        {"outside": foam("2 in")},
        {"under_slab": foam("2 in"), "slab_edge": foam("2 in")},
    ],
    ids=["bare", "edge", "outside", "edge and under"],
)
def test_slab_on_grade_beside_the_standard(foams: dict[str, Any]) -> None:
    """Sections by its own assumptions lose 3 to 6 % more: tests/sources/test_iso_13370_sections.py.

    Ours have a concrete wall besides, which the standard leaves to a junction of its own: 6 to 16 %. As a solid the
    same house is 1 to 10 % over the standard: tests/plan/test_solid_house.py.
    """
    found = heat(wide(**SLAB, foam=foams))
    assert 1.03 < found.below_grade["house"] / found.standard["house"] < 1.17


@pytest.mark.parametrize("foams", [{}, {"inside": foam("2 in")}], ids=["bare", "inside"])
def test_basement_beside_the_standard(foams: dict[str, Any]) -> None:
    """Sections by its own assumptions lose 0 to 12 % more: tests/sources/test_iso_13370_sections.py.

    Ours have a foot of bare concrete over grade besides, which draws heat up out of the wall below: 18 and 21 %.
    """
    found = heat(wide(**BASEMENT, foam=foams))
    assert 1.0 < found.below_grade["house"] / found.standard["house"] < 1.24


def test_basement_by_the_residential_method() -> None:
    """Published to three decimals [read], Btu/(h·ft²·°F), soil 0.8: bare wall down to 4 ft 0.235, floor 20 ft wide
    at 4 ft 0.042, both behind R-1.47. Ours are R-1.57 and, with slab and stone, R-2.0: up to 5 % less.
    """
    tables = wide(use="basement", wall_height="8 ft", slab_top="96 ft")
    for name, east, north in (("A", 0, 43.3), ("B", 43.3, 43.3), ("C", 43.3, 0), ("D", 0, 0)):
        tables["corners"][name] = {"east": f"{east} ft", "north": f"{north} ft"}
    tables["soil"] = {"conductivity": f"{0.8 * 1.730735} W/(m·K)"}
    perimeter, area = 4 * 43.3, (43.3 - 20 / 12) ** 2
    assert 2 * area / perimeter == pytest.approx(20, rel=0.002)
    published = (perimeter * 4 * 0.235 + area * 0.042) * FOOT**2 * 5.67826
    assert 0.95 < heat(tables).residential["house"] / published < 1.0


def test_methods_know_their_place() -> None:
    """A slab at grade is no basement for the residential method, and for the standard a slab."""
    found = heat(wide(**SLAB))
    assert found.residential == {}
    assert set(found.standard) == {"house"}
    assert found.below_grade["house"] < found.parts["house"].conductance.likely
