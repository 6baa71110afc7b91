"""Traps 28, 32 to 36 and 46 to 51: warm floors that are too hot, badly laid, untested, frozen or not parted."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from foundation.cautions import floor_work, floors
from foundation.cautions.floors import HeatedZone, LaidZone
from foundation.handover.as_text import caution_text
from foundation.model.caution import Caution, Severity
from tests.cautions.cases import FOOT, INCH, SURVEY, demo, named, told
from tests.conftest import planned

BTU = 3.154590745  # W/m² in one Btu/(h·ft²)
Change = Callable[[dict[str, Any]], object]


def zone(name: str = "hall", **said: Any) -> HeatedZone:
    sound = {
        "peak": 27.0,
        "limit": 29.0,
        "can_give": 80.0,
        "load": 60.0,
        "down": 0.08,
        "season": 0.09,
        "supply": 38.0,
    }
    return HeatedZone(name, **(sound | said))


def keys(found: list[Caution]) -> list[str]:
    return [caution.trap.key for caution in found]


def test_floor_too_hot() -> None:
    """29 °C where people stay, 35 °C at the edge (EN 1264-2 [read])."""
    hot = zone(peak=30.5, can_give=70.0, load=80.0)
    (caution,) = floors.floor_too_hot([hot, zone(), zone("strip", peak=34.0, limit=35.0)])
    assert told(caution) == (33, "zone hall", 30.5)
    assert caution.trap.severity is Severity.STOP
    assert "floors" in caution.trap.sheets
    assert "86.9 °F" in caution_text(caution, "us")
    assert not floors.floor_falls_short([hot])  # said once


def test_floor_falls_short() -> None:
    (caution,) = floors.floor_falls_short([zone(can_give=50.0), zone("sound")])
    assert told(caution) == (33, "zone hall", pytest.approx(10.0))
    assert not floors.floor_falls_short([zone(load=0.0, can_give=0.0)])  # nobody has told a load


def test_downward_loss() -> None:
    (caution,) = floors.downward_loss([zone(down=0.12), zone("bath", down=0.149), zone("sound")])
    assert told(caution) == (28, "zone bath", pytest.approx(0.15))
    assert caution.trap.severity is Severity.NOTE
    assert "Likewise hall." in caution.sentence
    assert "9 % over the heating season" in caution_text(caution, "us")
    assert not floors.downward_loss([zone()])
    assert not floors.downward_loss([zone(down=float("inf"))])  # gives nothing


def test_water_too_hot_and_scald() -> None:
    """55 °C in a cement slab (EN 1264-4 [memory]); 120 °F scalds [practice]."""
    assert keys(floors.water_too_hot([zone(supply=56.0), zone()], 55.0)) == ["water-too-hot"]
    assert keys(floors.water_too_hot([zone(supply=50.0), zone()], 55.0)) == ["scald"]
    assert not floors.water_too_hot([zone(supply=48.0)], 55.0)
    assert not floors.water_too_hot([], 55.0)


def test_two_supplies() -> None:
    (caution,) = floors.two_supplies([("hall", 38.0), ("strip", 47.0), ("bath", 41.0)])
    assert told(caution) == (48, "zones strip and hall", pytest.approx(9.0))
    assert not floors.two_supplies([("hall", 38.0), ("bath", 40.0)])
    assert not floors.two_supplies([("hall", 38.0)])


def test_loops_out_of_rule() -> None:
    """300 ft for 1/2 in tube (CSA B214-12 [read])."""
    longest, radius = 300 * FOOT, 5 * INCH

    def found(*lengths: float, tight: int = 0) -> list[Caution]:
        laid = [LaidZone("hall", tuple(length * FOOT for length in lengths), tight)]
        return floors.loops_out_of_rule(laid, longest, radius, 0.1)

    (caution,) = found(310, 300)
    assert told(caution) == (34, "zone hall", pytest.approx(310 * FOOT))
    assert keys(found(280, 240)) == ["loops-unequal"]
    assert told(found(280, 240)[0])[2] == pytest.approx(40 / 260, abs=0.005)
    assert told(found(280, 280, tight=3)[0]) == (34, "zone hall", 3.0)
    assert not found(300, 285)
    assert not found()


def test_tube_near_surface_and_under_the_saw() -> None:
    """2 in over the tube (California Mechanical Code 1217.5 [read]); 1/2 in under the cut [practice]."""
    (caution,) = floor_work.tube_near_surface([("house", 1.6875 * INCH), ("garage", 3.375 * INCH)])
    assert told(caution) == (34, "slab of house", pytest.approx(1.6875 * INCH))
    assert not floor_work.tube_near_surface([("garage", 2.0 * INCH)])
    cuts = [("cut", "house", 1.25 * INCH, 1.6875 * INCH), ("other", "house", 1.0 * INCH, 1.6875 * INCH)]
    (caution,) = floor_work.saw_cut_meets_tube(cuts, 0.5 * INCH)
    assert told(caution) == (34, "cut in the slab of house", pytest.approx(0.4375 * INCH))
    assert caution.trap.severity is Severity.STOP


def test_pressure_test() -> None:
    def found(test: str, freezing: bool = False, allowed: str = "unknown") -> list[str]:
        return keys(floor_work.pressure_test(freezing, test, allowed))

    assert found("none") == ["no-pressure-in-pour"]
    assert found("air") == ["air-test-not-allowed"]
    assert found("air", allowed="no") == ["air-test-not-allowed"]
    assert found("air", allowed="yes") == ["air-test-hazard"]
    assert found("water", freezing=True) == ["water-in-freezing-weather"]
    assert found("unknown", freezing=True) == ["water-in-freezing-weather"]
    assert found("unknown") == ["pressure-test-open"]
    assert found("water") == []
    assert found("air", freezing=True, allowed="yes") == ["air-test-hazard"]
    (caution,) = floor_work.pressure_test(False, "none", "unknown")
    assert "100 psi" in caution_text(caution, "us")


def test_retarder_and_barrier() -> None:
    for open_one in ("unknown", "none", "panel's own film"):
        assert keys(floor_work.retarder_open(open_one, "knobbed panel")) == ["vapor-retarder"]
    assert not floor_work.retarder_open("over foam", "knobbed panel")
    assert not floor_work.retarder_open("both", "stapled to foam")
    assert keys(floor_work.retarder_open("over foam", "stapled to foam")) == ["vapor-retarder"]
    assert keys(floor_work.oxygen_barrier("no")) == ["no-oxygen-barrier"]
    assert keys(floor_work.oxygen_barrier("unknown")) == ["oxygen-barrier-open"]
    assert not floor_work.oxygen_barrier("yes")


def test_fluid_freezes() -> None:
    """40 % glycol by volume freezes at -5 °F, 30 % at 9 °F (Lange's Handbook Table 5.13 [read])."""
    cold = (-9 - 32) / 1.8
    weak, strong = (9 - 32) / 1.8, (-5 - 32) / 1.8
    (caution,) = floors.fluid_freezes([("garage", True, 0.0), ("house", False, 0.0)], cold)
    assert told(caution) == (49, "loops of garage", 0.0)
    assert keys(floors.fluid_freezes([("garage", True, weak)], cold)) == ["fluid-freezes"]
    assert not floors.fluid_freezes([("garage", True, strong)], cold)
    assert not floors.fluid_freezes([("garage", True, weak), ("house", False, None)], None)


def test_first_heat() -> None:
    (caution,) = floor_work.first_heat(38.0)
    assert told(caution) == (51, "heated slabs", 28.0)
    assert "77 °F for three days" in caution_text(caution, "us")
    assert not floor_work.first_heat(None)


def of_floors(*changes: Change) -> tuple[Caution, ...]:
    """Cautions of the demo lot, changed; those that its plan tells before any floor is solved."""
    return planned(demo(*changes), SURVEY).cautions["least cost"]


TOLD: Change = lambda tables: tables["floors"].update(  # noqa: E731 - a change like the others
    retarder="both", pressure_test="water", oxygen_barrier="yes"
)


def test_nothing_is_open_once_it_was_told() -> None:
    found = of_floors(TOLD)
    assert not {c.trap.number for c in found} & {28, *range(32, 37), *range(46, 52)}


def test_nothing_is_asked_where_no_floor_is_heated() -> None:
    def cold(tables: dict[str, Any]) -> None:
        tables["zones"] = []
        for part in tables["parts"]:
            part["floor_heated"] = False
            part["foam"].pop("slab_edge")

    found = of_floors(cold)
    assert not {c.trap.number for c in found} & {28, *range(32, 37), *range(46, 52)}


def test_thermal_break_of_a_project() -> None:
    """IRC M2103.2.1 [read]: at every wall, and at the other part's; a ledge with foam of its own has one."""
    (caution,) = named(of_floors(lambda t: t["parts"][0]["foam"].pop("slab_edge")), "no-thermal-break")
    assert caution.where == "slab of house"
    assert {"A-B", "B-H", "H-C", "D-A"} <= set(caution.sentence.rstrip(".").replace(",", "").split())
    assert "C-D" not in caution.sentence
    (caution,) = named(of_floors(lambda t: t["parts"][1]["foam"].pop("slab_edge")), "no-thermal-break")
    assert caution.where == "slab of garage"
    assert "B-H" in caution.sentence
    assert not named(of_floors(), "no-thermal-break")


def test_garage_and_living_of_a_project() -> None:
    def add(tables: dict[str, Any]) -> None:
        tables["zones"].append({"name": "workshop", "part": "garage", "use": "occupied"})
        tables["zones"][2]["box"] = {
            "start_east": "2144 ft",
            "start_north": "5206 ft",
            "end_east": "2156 ft",
            "end_north": "5230 ft",
        }

    (caution,) = named(of_floors(add), "garage-with-living")
    assert caution.where == "slab of garage"
    assert "workshop" in caution.sentence

    def level(tables: dict[str, Any]) -> None:
        """The garage's slab beside the basement's, with no foam between."""
        tables["parts"][1]["foam"].pop("slab_edge")
        tables["parts"][0]["foam"].pop("slab_edge")
        tables["parts"][0]["slab_top"] = "214 ft"

    (caution,) = named(of_floors(level), "garage-with-living")
    assert caution.where == "slabs of garage and house"
    assert not named(of_floors(), "garage-with-living")
