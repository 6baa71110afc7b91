"""Tables of the design winter and the shallow footing: their units, their sums, what is said where there is none."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from foundation.dashboard.frost_tables import shallow_table, winter_facts
from foundation.model.heat import Band
from foundation.model.winter import DesignWinter, ShallowAlternative, ShallowCost
from foundation.plan import Plan
from foundation.plan.shallow import shallow_alternative
from foundation.plan.winter import winter_at
from tests.dashboard.readable import tree, words
from tests.studies.lots import slab_plan

INCH = 0.0254
SCRIPT = "<script>alert(1)</script>"


@pytest.fixture(scope="module")
def plan() -> Plan:
    return slab_plan(climate={"design_index": "2500 °F·d"})


@pytest.fixture(scope="module")
def computed(plan: Plan) -> DesignWinter:
    found = winter_at(plan, "least cost", "A-B", 3.0)
    assert found is not None
    return found


@pytest.fixture(scope="module")
def priced(plan: Plan) -> ShallowAlternative:
    return shallow_alternative(plan, "least cost", "A-B")


@pytest.fixture
def winter(computed: DesignWinter) -> DesignWinter:
    """A winter whose every number is a round one."""
    return replace(
        computed,
        inside=20.0,
        index=1500.0,
        coldest=-25.0,
        depth=40 * INCH,
        under=5.0,
        reaches=False,
        distance=9.4 * INCH,
    )


def test_a_winter_in_units_of_the_trade(winter: DesignWinter) -> None:
    said = words(winter_facts(winter, "us"))
    for part in (
        'Frost beside the house 40"',
        "bottom 41 °F",
        'bottom by 9"',
        "outdoors -13 °F",
        "2,700 °F·d",
        "68 °F inside",
    ):
        assert part in said


def test_a_winter_in_metric_units(winter: DesignWinter) -> None:
    said = words(winter_facts(winter, "metric"))
    for part in ("Frost beside the house 102 cm", "bottom 5.0 °C", "bottom by 24 cm", "1,500 K·d"):
        assert part in said
    assert '"' not in said
    assert "°F" not in said


def test_frost_that_reaches_the_footing_is_marked(winter: DesignWinter) -> None:
    assert "◧ reaches it" in words(winter_facts(replace(winter, reaches=True, distance=0.0), "us"))
    assert "◧" not in winter_facts(winter, "us")


def test_no_frost_no_footing_nobody_heats(winter: DesignWinter) -> None:
    none = replace(winter, depth=0.0, distance=math.inf, under=math.nan, inside=None)
    said = words(winter_facts(none, "us"))
    assert "Frost beside the house none" in said
    assert "bottom –" in said
    assert "nobody heats inside" in said


@pytest.fixture
def alternative(priced: ShallowAlternative) -> ShallowAlternative:
    """An alternative whose every number is a round one."""
    assert priced.design is not None
    design = replace(
        priced.design,
        stretches=((0.0, 3.048), (6.096, 9.144)),
        under=Band(0.0, 2.0, 5.0),
        cost=ShallowCost(deepened=13_254.0, shallow=11_261.0, foam=-119.0, elsewhere=-7e-12),
    )
    return replace(priced, line=SCRIPT, design=design)


def test_money_of_a_shallow_footing(alternative: ShallowAlternative) -> None:
    text = shallow_table(alternative, "us")
    said = {row.findtext("th"): row.findtext("td") for row in tree(text).iter("tr")}
    assert said == {
        "Footing and wall as planned": "$13,250",
        "Footing and wall, shallow": "$11,260",
        "Foam beyond the planned": "−$120",
        "Steps of the other walls": "$0",
        "Saved": "$2,110",  # 13,254 − 11,261 + 119 = 2,112
    }
    assert f"Wall {SCRIPT}" in words(text)
    assert "At 0'-0\" to 10'-0\"; 20'-0\" to 30'-0\"." in words(text)
    assert "36 °F, 32 °F to 41 °F" in words(text)  # 2, 0 and 5 °C
    assert "At 0.000 m to 3.048 m" in words(shallow_table(alternative, "metric"))


def test_without_a_design_there_is_no_table(alternative: ShallowAlternative) -> None:
    with pytest.raises(ValueError, match="no shallow footing along wall"):
        shallow_table(replace(alternative, design=None), "us")
