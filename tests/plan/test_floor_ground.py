"""What lies under a zone: the sections' answers as a resistance and a temperature, and the load of a room."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy import stats

from foundation.heat.conduction import steady
from foundation.heat.sections.assemble import FLOOR_FILM, assemble
from foundation.heat.sections.respond import respond
from foundation.model.floors import FloorsPlan, ZoneFloor
from foundation.model.section import Situation
from foundation.plan import Plan, PlanError
from foundation.plan.climate import climate_of
from foundation.plan.floor_ground import ground_temperature
from foundation.plan.floor_loads import layered_transmittance, nominal_transmittance
from foundation.plan.floors import floors_of
from foundation.plan.heat import heat_of
from foundation.project.schema_floor import LayerInput
from foundation.radiant.tube_row import floor_output_for
from tests.heat.sections import SECTIONS
from tests.plan.floor_jobs import COLD_YEAR, FT2, R, floors, job

CONCRETE = 1.73  # W/(m·K), as the slab's
SLAB = 4 * 0.0254


@pytest.fixture(scope="module")
def cold() -> FloorsPlan:
    return floors(job() | {"climate": COLD_YEAR})


@pytest.fixture(scope="module")
def demo_floors(demo_plan: Plan) -> FloorsPlan:
    return floors_of(demo_plan, "least cost")


def test_zones_add_up_to_what_their_part_loses(demo_plan: Plan, demo_floors: FloorsPlan) -> None:
    """Conductances of the zones against the sections' own, metre by metre, over the floor that each counts: half widths
    of sections go by one wall thickness all round.
    """
    heat = heat_of(demo_plan, "least cost")
    assert heat is not None
    told = {"house": 0.0, "garage": 0.0}
    area = {"house": 0.0, "garage": 0.0}
    for stretch in heat.stretches:
        section, surface = stretch.response.section, stretch.response.surface
        if section.situation is not Situation.BETWEEN:
            # Under the door the slab goes on over the wall, where no tube lies.
            floor = (np.array(surface.group) == "floor") & (surface.x < section.inner_face)
            length = stretch.end - stretch.start
            told[section.inside] += float(surface.flow_steady[floor].sum()) * length
            area[section.inside] += section.half_width * length
    assert told["house"] == pytest.approx(heat.floors["house"].conductance.likely, rel=1e-6)
    for part, whole in told.items():
        zones = [zone for zone in demo_floors.zones if zone.shape.part == part]
        mean = sum(conductance(zone) for zone in zones) / sum(zone.shape.area for zone in zones)
        assert mean == pytest.approx(whole / area[part], rel=0.012)
    # On the design day every zone is at its own coldest, the house at that of the sum.
    design = heat.floors["house"].design
    assert design is not None
    zones = [zone for zone in demo_floors.zones if zone.shape.part == "house"]
    lost = sum(conductance(zone) * (zone.air - zone.ground.temperature) for zone in zones)
    assert lost == pytest.approx(design.likely, rel=0.03)


def conductance(zone: ZoneFloor) -> float:
    """From the air through the floor to the ground. [W/K]"""
    return zone.shape.area / (zone.ground.resistance + SLAB / CONCRETE + FLOOR_FILM)


def test_ground_and_floor_are_in_balance(cold: FloorsPlan) -> None:
    """Going to and fro between floor on its foam and ground under it comes to what one step gives."""
    (zone,) = cold.zones
    ground, build_up = zone.ground, zone.cases[0].build_up
    assert ground.solved
    beyond = ground.resistance - ground.foam
    assert beyond > 0.3  # the soil's share
    on_foam = replace(build_up, resistance_below=ground.foam)
    under_foam = ground.temperature
    for _ in range(60):
        output = floor_output_for(on_foam, zone.air, under_foam, zone.cases[0].output.up)
        under_foam = ground.temperature + output.down * beyond
    assert output.down == pytest.approx(zone.cases[0].output.down, rel=1e-9)
    assert ground.temperature < under_foam < zone.cases[0].output.slab_temperature


def test_more_foam_more_resistance_and_milder_ground() -> None:
    found = []
    for inches in ("1 in", "2 in", "4 in"):
        tables = job() | {"climate": COLD_YEAR}
        tables["parts"][0]["foam"]["under_slab"]["thickness"] = inches
        found.append(floors(tables).zones[0])
    below = [zone.ground.resistance for zone in found]
    assert below == sorted(below)
    # What an inch of foam adds is its own resistance, less what goes round it at the edge.
    for one, two in zip(found[:-1], found[1:], strict=True):
        added = (two.ground.resistance - one.ground.resistance) / (two.ground.foam - one.ground.foam)
        assert 0.5 < added < 1.05
    shares = [zone.cases[0].down_share for zone in found]
    assert shares == sorted(shares, reverse=True)


def test_ground_follows_the_year(cold: FloorsPlan) -> None:
    (zone,) = cold.zones
    day = np.arange(365.0)
    year = ground_temperature(zone.ground, day)
    # COLD_YEAR's wave, worked out by the climate's own tests: 43 ± 29 °F.
    assert year.mean() == pytest.approx((43 - 32) / 1.8, abs=0.15)
    assert 0 < zone.ground.swing < 29 / 1.8
    assert int(np.argmin(year)) == pytest.approx(zone.ground.lag, abs=1)
    assert 0 < zone.ground.lag < 120
    # A cold spell reaches the edge alone.
    assert 0 < zone.ground.spell < 1
    assert zone.ground.temperature < year.mean() - zone.ground.swing + 1e-9


def test_edge_is_colder_and_loses_more_than_the_middle() -> None:
    tables = job() | {"climate": COLD_YEAR}
    tables["zones"] = [
        {"name": "middle", "part": "house", "box": box(8, 8, 18, 18), "load": "10 Btu/h·ft²"},
        {"name": "edge", "part": "house", "box": box(0, 0, 26, 3), "load": "10 Btu/h·ft²"},
        {"name": "rest", "part": "house", "load": "10 Btu/h·ft²"},
    ]
    found = floors(tables)
    middle, edge, rest = (zone.ground for zone in found.zones)
    assert middle.resistance > rest.resistance > edge.resistance
    assert middle.temperature > rest.temperature > edge.temperature
    assert middle.spell == 0
    assert edge.lag < middle.lag
    assert sum(zone.shape.area for zone in found.zones) / FT2 == pytest.approx(600, abs=0.05)


def box(west: float, south: float, east: float, north: float) -> dict[str, str]:
    sides = {"start_east": west, "start_north": south, "end_east": east, "end_north": north}
    return {key: f"{value} ft" for key, value in sides.items()}


def test_season_by_hand(cold: FloorsPlan) -> None:
    """Daily sums of an independent reckoning: the load by degrees, the slab by its load, the ground by its wave."""
    (zone,) = cold.zones
    climate = climate_of(planned_project(), "")
    assert climate is not None
    assert climate.design_temperature is not None
    case = zone.cases[0]
    way_up = (case.output.slab_temperature - zone.air) / case.output.up
    way_down = (case.output.slab_temperature - zone.ground.temperature) / case.output.down
    up = down = 0.0
    for day in range(365):
        outdoors = climate.mean - climate.amplitude * np.cos(2 * np.pi * day / 365)
        if outdoors < (65 - 32) / 1.8:
            part = case.output.up * (zone.air - outdoors) / (zone.air - climate.design_temperature)
            below = zone.ground.mean - zone.ground.swing * np.cos(2 * np.pi * (day - zone.ground.lag) / 365)
            up += part
            down += (zone.air + part * way_up - below) / way_down
    assert down > 0
    assert case.down_share_season == pytest.approx(down / up, rel=1e-6)


def planned_project() -> Any:
    from foundation.project import check

    project, problems = check(job() | {"climate": COLD_YEAR})
    assert project is not None, problems
    return project


@pytest.mark.parametrize("name", ["slab edge, edge and under", "slab edge foam outside"])
def test_what_leaves_for_good_by_reciprocity(name: str) -> None:
    """What reaches the outdoors with the floor alone warm is what the floor's faces tell with all of the inside warm.

    The rest of what the warm floor gives comes back into the room through the wall.
    """
    section = SECTIONS[name]()
    response = respond(section)
    told = response.surface.flow_steady[np.array(response.surface.group) == "floor"].sum()
    assembled = assemble(section, 1.5)
    patches = []
    for faces in assembled.faces:
        level = bool(np.all(faces.z < section.floor + 1e-4)) and faces.axis == 1
        patches.append(faces.patch(1.0 if faces.inner and level else 0.0))
    field = steady(assembled.body, patches)
    reached = sum(
        float((field.surface[faces.name] * faces.area / faces.film).sum())
        for faces in assembled.faces
        if not faces.inner
    )
    assert reached == pytest.approx(told, rel=0.03)  # one grid against the limit of two


def test_framing_of_layers() -> None:
    """By hand [derived]: paths of 2.27 and 0.77 m²·K/W, a fifth framed, 1.6336; layer by layer 1.52; mean 1.5768."""
    layers = [
        LayerInput.model_construct(name="board", resistance=0.1, framed=None),
        LayerInput.model_construct(name="cavity", resistance=2.0, framed=0.5),
    ]
    assert layered_transmittance(layers, 0.2) == pytest.approx(1 / 1.576776, rel=1e-5)
    assert nominal_transmittance(layers) == pytest.approx(1 / 2.27)
    assert layered_transmittance(layers, 0.0) == pytest.approx(1 / 2.27)
    rates = [layered_transmittance(layers, share) for share in (0.0, 0.1, 0.25, 0.4)]
    assert stats.spearmanr(range(4), rates).statistic == pytest.approx(1)


ROOM = {
    "surfaces": [
        {
            "name": "north wall",
            "area": "200 ft²",
            "layers": [{"name": "R-20", "resistance": "R-20", "framed": "R-7"}],
        },
        {"name": "window", "area": "40 ft²", "transmittance": "0.30 Btu/h·ft²·°F"},
    ],
    "volume": "4800 ft³",
    "air_change": "0.5",
}


def roomy(**climate: str) -> dict[str, Any]:
    tables = job(room=ROOM)
    del tables["zones"][0]["load"]
    return tables | {"climate": {**COLD_YEAR, **climate}}


def test_load_of_a_room_surface_by_surface() -> None:
    """Inside 68 °F, outdoors -9 °F: 77 °F apart. The window loses 0.30 × 40 × 77 = 924 Btu/h, the air
    0.33 W·h/(m³·K) × 4,800 ft³ × 0.5 = 22.43 W/K × 42.78 K.
    """
    (zone,) = floors(roomy()).zones
    load = zone.load
    assert load is not None
    wall, window = load.surfaces
    assert window.loss / 0.29307107 == pytest.approx(924, abs=0.5)
    assert load.air_change == pytest.approx(22.427 * 77 / 1.8, rel=1e-3)
    assert wall.transmittance > wall.nominal
    assert load.nominal < load.total
    # The ground's share is the walls', not the floor's: a slab on grade has a foot of them.
    assert load.ground > 0
    assert load.total == pytest.approx(wall.loss + window.loss + load.air_change + load.ground)
    assert load.flux == pytest.approx(load.total / zone.shape.area)


def test_load_by_surfaces_waits_for_a_design_temperature() -> None:
    """The wave's coldest day is 20-odd °F milder than a design day: it never stands in for one."""
    tables = roomy()
    del tables["climate"]["design_temperature"]
    found = floors(tables)
    assert found.zones[0].load is None
    (notice,) = [n for n in found.notices if n.place == "zones[1].room"]
    assert "design temperature" in notice.sentence
    assert not notice.fatal


def test_surface_without_a_u() -> None:
    tables = roomy()
    tables["zones"][0]["room"] = {"surfaces": [{"name": "hatch", "area": "9 ft²"}]}
    with pytest.raises(PlanError, match="Surface hatch has neither"):
        floors(tables)


def test_foam_alone_without_a_climate() -> None:
    (zone,) = floors(job()).zones
    assert zone.ground.resistance == pytest.approx(10 * R, rel=1e-6)
    assert zone.cases[0].down_share_season is None
    assert zone.cases[0].down_share == pytest.approx(zone.cases[0].down_share_foam)
