"""Frost depth computed from the index, beside the depth asked for: the formulas again in US units."""

from __future__ import annotations

from dataclasses import astuple
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import erf, erfc

from foundation.model.frost import FrostCheck
from foundation.plan.climate import climate_of
from foundation.plan.frost_check import frost_check
from foundation.project import check
from tests.plan.test_climate import weather

FOOT = 0.3048
CONDUCTIVITY = 1.730735  # one Btu/(h·ft·°F) [W/(m·K)]
MEAN_YEAR = {"degree_days": "7858 °F·d", "freezing_index": "1341 °F·d"}
SOIL = {"dry_density": "100 pcf", "moisture": "15 %"}


def checked(
    tables: dict[str, Any],
    climate: dict[str, Any],
    soil: dict[str, Any] | None = None,
    melted: tuple[str, ...] = (),
    text: str = "",
) -> FrostCheck | None:
    surroundings = tables.get("surroundings", {}) | {"melted": list(melted)}
    project, problems = check(tables | {"climate": climate, "soil": soil or {}, "surroundings": surroundings})
    assert project is not None, problems
    used = climate_of(project, text)
    assert used is not None
    return frost_check(project, used, text)


def test_formulas_in_us_units(demo_tables: dict[str, Any]) -> None:
    """TM 5-852-6 [memory]: Stefan √(48 k nF/L); L 2160, C 28.25 at 100 lb/ft³ and 15 %; λ by Neumann's equation.

    The mean year of 45 ± 29 °F freezes for 128 days [derived].
    """
    found = checked(demo_tables, MEAN_YEAR, SOIL)
    assert found is not None
    assert found.turf.berggren is not None
    assert found.days == pytest.approx(128, abs=0.5)
    surface = 0.5 * 1341
    for conductivity, stefan, berggren in zip(
        astuple(found.conductivity), astuple(found.turf.stefan), astuple(found.turf.berggren), strict=True
    ):
        expected = np.sqrt(48 * conductivity / CONDUCTIVITY * surface / 2160)
        assert stefan / FOOT == pytest.approx(expected, rel=1e-3)
        below = surface / found.days
        ratio, fusion = (45 - 32) / below, below * 28.25 / 2160

        def balance(z: float, ratio: float = ratio, fusion: float = fusion) -> float:
            return np.exp(-z * z) * (1 / erf(z) - ratio / erfc(z)) - np.sqrt(np.pi) * z / fusion

        shrinks = brentq(balance, 1e-6, 1) * np.sqrt(2 / fusion)
        assert berggren / FOOT == pytest.approx(shrinks * expected, rel=2e-3)
    assert found.assumed == ""


def test_what_is_assumed_and_the_band(demo_tables: dict[str, Any]) -> None:
    found = checked(demo_tables, MEAN_YEAR)
    assert found is not None
    assert found.assumed == "dry density and moisture"
    assert found.turf.berggren is not None
    low, likely, high = astuple(found.turf.berggren)
    assert low < likely < high
    assert all(
        deep < stefan for deep, stefan in zip((low, likely, high), astuple(found.turf.stefan), strict=True)
    )


def test_design_winter_then_weather_then_mean_year(demo_tables: dict[str, Any]) -> None:
    mean = checked(demo_tables, MEAN_YEAR)
    design = checked(demo_tables, MEAN_YEAR | {"design_index": "2500 °F·d"})
    measured = checked(demo_tables, {"weather": "lot.csv"}, text=weather(swing=33.0))
    both = checked(demo_tables, {"weather": "lot.csv", "design_index": "2500 °F·d"}, text=weather(swing=33.0))
    assert mean is not None
    assert design is not None
    assert measured is not None
    assert both is not None
    assert mean.index_source == "the mean year, no design winter"
    assert measured.index_source == "the coldest winter of the weather file, by the curve"
    assert design.index_source == both.index_source == "the design winter"
    assert mean.index < measured.index < design.index == both.index
    assert mean.days < design.days
    assert mean.turf.stefan.likely * np.sqrt(2500 / 1341) == pytest.approx(
        design.turf.stefan.likely, rel=1e-4
    )


def test_paving_only_where_it_is_kept_free_of_snow(demo_tables: dict[str, Any]) -> None:
    """n is 0.5 under turf and 0.75 under bare concrete, UFC 3-130-06 table 2-4 [read]."""
    without = checked(demo_tables, MEAN_YEAR)
    found = checked(demo_tables, MEAN_YEAR | {"design_index": "2500 °F·d"}, melted=("A-B",))
    assert without is not None
    assert without.paving is None
    assert "paving" not in without.sentence
    assert found is not None
    assert found.paving is not None
    assert found.paving.stefan.likely == pytest.approx(found.turf.stefan.likely * 1.5**0.5, rel=1e-9)
    assert found.paving.berggren is not None
    assert found.asked == pytest.approx(54 * 0.0254)
    assert found.paving.berggren.likely > found.asked
    assert found.sentence.endswith("They are less than computed: show it to the office.")
    assert set(found.amounts) == {"depth", "low", "high", "stefan", "index", "asked", "paving"}
    assert "{paving}" in found.sentence


def test_it_is_never_the_frost_depth(demo_tables: dict[str, Any]) -> None:
    shallow = {**demo_tables, "frost": demo_tables["frost"] | {"depth": "30 in"}}
    found, other = checked(demo_tables, MEAN_YEAR), checked(shallow, MEAN_YEAR)
    assert found is not None
    assert other is not None
    assert found.turf == other.turf
    assert other.asked == pytest.approx(30 * 0.0254)
    assert "the {asked} that the office asks for stand." in other.sentence


def test_where_there_is_nothing_to_compute(demo_tables: dict[str, Any]) -> None:
    assert (
        checked(demo_tables, {"degree_days": "2500 °F·d", "freezing_index": "0 °F·d", "swing": "9 °F"})
        is None
    )
    assert checked(demo_tables, MEAN_YEAR, {"ground": "rock"}) is None
    frozen = checked(demo_tables, {"degree_days": "15000 °F·d", "freezing_index": "4500 °F·d"})
    assert frozen is not None
    assert frozen.mean < 0
    assert frozen.turf.berggren is None
    assert "no frost depth holds" in frozen.sentence
