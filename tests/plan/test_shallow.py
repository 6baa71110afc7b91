"""The frost-protected shallow footing: who may have one, the least foam that holds, and its price by hand."""

from __future__ import annotations

import math
from concurrent.futures import CancelledError
from dataclasses import replace
from threading import Event
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.frost import shallow
from foundation.frost.shallow import (
    AT_EDGE,
    DEPTH,
    MARGIN,
    OUTSIDE,
    OVER_TOE,
    PROTECTING,
    WING,
    least_wings,
    protected,
    refusal,
    spans,
)
from foundation.model.section import BlockKind, Material, Section
from foundation.model.winter import ProtectingFoam, ShallowAlternative
from foundation.plan import Plan
from foundation.plan.climate import climate_of
from foundation.plan.shallow import CORNERS, FIRST_WINTER, HALF_HEATED, STARVES, shallow_alternative
from foundation.plan.winter import BARE, PAVED, no_winter, surface_of, winter_at, winter_of
from tests.conftest import planned
from tests.heat.sections import FOAM, slab_edge

INCH = 0.0254
TOP = 10.2032  # 8 in over grade, which sections round to the inch [m]
R_PER_INCH = 0.1761101838 / INCH
THIN_FOAM = ProtectingFoam("XPS IV", 2 * INCH, "", 0.0, 0.0, 12 * INCH)


@pytest.fixture(scope="module")
def walkout(demo_plan: Plan) -> ShallowAlternative:
    """The demo's walkout wall, which frost alone holds down."""
    return shallow_alternative(demo_plan, "least cost", "C-D")


def box(**changes: Any) -> dict[str, Any]:
    """A slab on grade, 8 × 6 m, on level ground, in a hard climate; all invented."""
    corners = {"A": (0, 0), "B": (8, 0), "C": (8, 6), "D": (0, 6)}
    tables: dict[str, Any] = {
        "schema": 1,
        "frost": {"depth": "60 in", "source": "invented", "date": "2026-01-02", "shallow_accepted": "yes"},
        "ground": {"corner_grades": {name: {"existing": "10 m", "finished": "10 m"} for name in corners}},
        "corners": {name: {"east": f"{e} m", "north": f"{n} m"} for name, (e, n) in corners.items()},
        "parts": [
            {
                "name": "cabin",
                "use": "slab on grade",
                "corners": list(corners),
                "wall_top": f"{TOP} m",
                "slab_top": f"{TOP} m",
                "heated": True,
                "foam": {"under_slab": {"board": "XPS IV", "thickness": "2 in"}},
            }
        ],
        "rules": {"set": "own", "rise": "8 ft", "run": "2 ft", "module": "8 in"},  # one step at each end
        "stage": {"stands_winter": "no"},
        "climate": {"degree_days": "5000 K·d", "freezing_index": "1000 K·d", "design_index": "1700 K·d"},
    }
    for place, value in changes.items():
        *way, last = place.split("__")
        table: Any = tables
        for key in way:
            table = table[int(key)] if key.isdigit() else table.setdefault(key, {})
        table[last] = value
    return tables


def test_who_may_have_one() -> None:
    heated = ("house", True, "", "no", "yes")
    assert refusal(*heated) == ""
    assert refusal("house", True, "", "heated", "unknown") == ""
    assert "Nobody heats porch" in refusal("porch", False, "", "no", "yes")
    assert "open ground" in refusal("house", True, "garage", "no", "yes")
    assert "stands a winter open" in refusal("house", True, "", "open", "yes")
    assert "office does not accept" in refusal("house", True, "", "no", "no")


@given(
    st.lists(st.integers(1, 60), min_size=1, max_size=6, unique=True).map(sorted),
    st.lists(st.integers(1, 60), min_size=1, max_size=6, unique=True).map(sorted),
    st.integers(1, 3000),
)
def test_least_wings_are_the_border(widths: list[int], thicknesses: list[int], asked: int) -> None:
    """Against trying everything: all that hold while nothing narrower and as thin does."""
    trials = []

    def holds(width: float, thickness: float) -> bool:
        trials.append((width, thickness))
        return width * thickness >= asked

    found = least_wings(widths, thicknesses, holds)
    good = [(w, t) for w in widths for t in thicknesses if w * t >= asked]
    border = [(w, t) for w, t in good if not any(a <= w and b <= t and (a, b) != (w, t) for a, b in good)]
    assert sorted(found) == sorted(border)
    assert len(trials) <= len(widths) + len(thicknesses)


def test_foam_wraps_the_footing_and_never_lies_under_it() -> None:
    section = slab_edge(outside=2 * INCH, wing=0.5)
    wet = Material("wet board", 0.04, 4.5e4, 0.04)
    foam = replace(THIN_FOAM, wing="XPS IV", wing_thickness=3 * INCH, wing_width=0.6, wing_depth=0.9)
    found = protected(section, foam, FOAM, FOAM, wet)
    blocks = {block.name: block for block in found.blocks}
    foot = blocks["footing"]
    ours = [block for block in found.blocks if block.name in PROTECTING]
    assert [block.name for block in ours] == [OUTSIDE, OVER_TOE, AT_EDGE, WING]
    assert blocks[OUTSIDE].top == section.concrete_top
    assert (blocks[AT_EDGE].left, blocks[AT_EDGE].bottom) == (foot.right, foot.bottom)
    assert blocks[WING].material is wet
    assert blocks[WING].right - blocks[WING].left == pytest.approx(0.6, abs=1e-5)
    assert blocks[WING].top == pytest.approx(-0.9)
    for block in ours:
        assert block.kind is BlockKind.FOAM
        assert block.bottom >= foot.top - 1e-9 or block.left >= foot.right - 1e-9
    kept = [block for block in section.blocks if block.name not in PROTECTING]
    assert [block for block in found.blocks if block.name not in PROTECTING] == kept
    with pytest.raises(ValueError, match="no footing to protect"):
        protected(replace(section, blocks=()), foam, FOAM, FOAM, wet)


def test_spans() -> None:
    assert spans([0.0, 1.0, 2.0, 4.0, 5.0], [True, True, False, True]) == ((0.0, 2.0), (4.0, 5.0))
    assert spans([0.0, 1.0], [False]) == ()


def test_the_walkout(demo_plan: Plan, walkout: ShallowAlternative) -> None:
    design = walkout.design
    assert design is not None
    assert not walkout.accepted
    assert walkout.sentence.startswith("Only if the office accepts it: along {length} of wall C-D")
    assert {"length", "depth", "upright", "under", "saving"} <= set(walkout.amounts)
    assert CORNERS in walkout.cautions
    assert STARVES in walkout.cautions  # the demo's basement has foam under its slab
    assert FIRST_WINTER in walkout.cautions  # and has not told how it stands the winter
    assert HALF_HEATED not in walkout.cautions
    winter = design.winter
    assert not winter.reaches
    assert winter.under == design.under.likely >= MARGIN
    assert design.under.low <= design.under.likely <= design.under.high
    assert winter.imbalance < 1e-6
    grade = winter.section.grade[0].level
    assert grade - winter.bottom >= DEPTH - INCH  # the section's grade is rounded to an inch
    assert design.length == pytest.approx(sum(end - start for start, end in design.stretches))


def test_foam_keeping_frost_out_never_has_the_labels_r(demo_plan: Plan, walkout: ShallowAlternative) -> None:
    """ASCE 32: XPS 4.5 upright and 4.0 lying [memory]; ASTM C578's label 5.0, of EPS II 4.0 [memory]."""
    label = demo_plan.project.model_copy(update={"foam_basis": "label"})
    again = shallow_alternative(replace(demo_plan, project=label), "least cost", "C-D")
    for found in (walkout, again):
        assert found.design is not None
        blocks = {block.name: block.material for block in found.design.winter.section.blocks}
        assert 1 / blocks[OUTSIDE].conductivity == pytest.approx(4.5 * R_PER_INCH, rel=1e-6)
        assert 1 / blocks[OVER_TOE].conductivity == pytest.approx(4.0 * R_PER_INCH, rel=1e-6)
        assert 1 / blocks["foam under the slab"].conductivity == pytest.approx(4.0 * R_PER_INCH, rel=1e-6)


def test_price_by_hand() -> None:
    """From levels and sizes: invented prices of the project's defaults, XPS at $0.95 a board foot by its table."""
    plan = planned(box())
    design = shallow_alternative(plan, "least cost", "A-B").design
    assert design is not None
    assert not design.foam.wing
    cost, wall, prices = design.cost, plan.line("A-B").wall, plan.project.prices
    node = plan.line("A-B").node
    deep = plan.stepping("least cost").bottoms["A-B"]

    def price(bottoms: Any) -> float:
        total = 0.0
        trench = wall.footing_width + 4 * 12 * INCH  # 2 ft of working room on each side
        for length, bottom in zip(np.diff(node), bottoms, strict=True):
            height = TOP - bottom - wall.footing_thickness
            concrete = wall.footing_width * wall.footing_thickness + wall.wall_thickness * height
            total += length * concrete * prices.concrete
            total += length * (2 * height * prices.forms + trench * (10.0 - bottom) * prices.digging)
        for rise in np.abs(np.diff(bottoms)):
            leg = rise * wall.footing_width * wall.footing_thickness
            total += (prices.step + leg * prices.concrete) if rise else 0.0
        return total

    assert cost.deepened == pytest.approx(price(deep), rel=1e-9)
    assert cost.shallow == pytest.approx(price(design.bottoms), rel=1e-9)
    assert cost.elsewhere == pytest.approx(0.0, abs=0.01)
    assert cost.saving == pytest.approx(cost.deepened - cost.shallow - cost.foam)
    assert design.depth == DEPTH
    assert np.max(design.bottoms) <= 10.0 - DEPTH + 1e-9
    assert np.count_nonzero(np.diff(design.bottoms)) == 2
    [(start, end)] = design.stretches
    raised = (node[:-1] >= start - 1e-6) & (node[1:] <= end + 1e-6)
    assert (design.bottoms[raised] > deep[raised] + 0.5).all()
    assert (design.bottoms[~raised] == deep[~raised]).all()

    thick, foot = 2 * INCH, np.max(design.bottoms)
    top = foot + wall.footing_thickness
    upright = (TOP - top) + wall.footing_thickness + thick
    lying = wall.projection + thick
    board = 2 * 0.95 + 0.75  # a square foot of 2 in, laid in one layer
    shown = TOP - max(top, 10.0 - 6 * INCH)
    foam = (upright + lying) * board / 0.3048**2 + shown * 4.0 / 0.3048**2
    assert cost.foam == pytest.approx(foam * design.length, rel=1e-4)


def test_none_where_frost_does_not_hold_it_down(demo_plan: Plan) -> None:
    found = shallow_alternative(demo_plan, "least cost", "A-B")
    assert found.design is None
    assert "no higher than the planned one" in found.sentence
    assert "floor build-up" in found.sentence
    with pytest.raises(KeyError, match="no wall is called X-Y"):
        shallow_alternative(demo_plan, "least cost", "X-Y")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"parts__0__heated": False}, "Nobody heats cabin"),
        ({"stage__stands_winter": "open"}, "stands a winter open"),
        ({"frost__shallow_accepted": "no"}, "office does not accept"),
        ({"climate__design_index": None}, "No design winter is known"),
        ({"climate": {}}, "No climate is known"),
    ],
)
def test_refused(change: dict[str, Any], words: str) -> None:
    tables = box(**change)
    tables["climate"] = {key: value for key, value in tables["climate"].items() if value is not None}
    plan = planned(tables)
    found = shallow_alternative(plan, "least cost", "A-B")
    assert found.design is None
    assert words in found.sentence
    if "climate" in " ".join(change):
        assert words in no_winter(plan, "A-B")
        assert winter_at(plan, "least cost", "A-B", 1.0) is None
    else:
        assert no_winter(plan, "A-B") == ""


def test_the_least_wing_is_just_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    """A thinner wing lets the frost in, and none does; what is wider or thicker keeps it farther."""
    monkeypatch.setattr(shallow, "WIDTHS", (16 * INCH,))
    monkeypatch.setattr(shallow, "THICKEST", 2 * INCH)
    plan = planned(box(climate__design_index="2650 K·d", parts__0__temperature="18 °C"))
    told: list[float] = []
    found = shallow_alternative(plan, "least cost", "A-B", progress=lambda share, _words: told.append(share))
    design = found.design
    assert design is not None
    assert found.accepted
    assert found.sentence.startswith("Along {length} of wall A-B")
    assert "{width} outward" in found.sentence
    assert told == sorted(told)
    assert 0 <= told[0] < told[-1] < 1
    climate = climate_of(plan.project)
    assert climate is not None
    foam, section = design.foam, design.winter.section
    wing = next(block for block in section.blocks if block.name == WING)
    assert wing.bottom >= design.winter.bottom - 1e-6

    def with_wing(**change: Any) -> Section:
        foams = {block.name: block.material for block in section.blocks if block.name in PROTECTING}
        changed = replace(foam, **change)
        return protected(section, changed, foams[OUTSIDE], foams[OVER_TOE], foams[WING])

    def under(changed: Section) -> float:
        return winter_of(changed, plan.project.parts[0].air, climate, BARE).under

    assert design.winter.under >= MARGIN
    assert under(with_wing()) == pytest.approx(design.winter.under)
    assert wing.right - wing.left == pytest.approx(foam.wing_width, abs=1e-5)
    assert under(with_wing(wing="")) < MARGIN
    assert under(with_wing(wing_thickness=foam.wing_thickness - 0.5 * INCH)) < MARGIN
    assert under(with_wing(wing_width=36 * INCH)) > design.winter.under + 0.1
    assert under(with_wing(wing_thickness=4 * INCH)) > design.winter.under + 0.1


def test_none_where_no_foam_holds() -> None:
    plan = planned(box(climate__design_index="3300 K·d", parts__0__temperature="2 °C"))
    found = shallow_alternative(plan, "least cost", "A-B")
    assert found.design is None
    assert "frost reaches a shallow footing" in found.sentence
    assert found.sentence.count("{most}") == 2


def test_it_can_be_stopped() -> None:
    plan, stop = planned(box(climate__design_index="1701 K·d")), Event()

    def progress(share: float, words: str) -> None:
        stop.set()

    with pytest.raises(CancelledError):
        shallow_alternative(plan, "least cost", "A-B", progress=progress, cancelled=stop)
    with pytest.raises(CancelledError):
        shallow_alternative(plan, "least cost", "A-B", cancelled=lambda: True)


def test_winter_at_a_station(demo_plan: Plan) -> None:
    found = winter_at(demo_plan, "least cost", "C-D", 6.0)
    assert found is not None
    assert found.section.line == "C-D"
    assert found.section.station == 6.0
    assert found.inside == demo_plan.project.parts[0].air
    assert found.surface == BARE
    assert found.index == pytest.approx(2500 / 1.8)
    assert "does not stand outdoors" in no_winter(demo_plan, "B-H")
    assert winter_at(demo_plan, "least cost", "B-H", 1.0) is None
    paved = planned(box(surroundings__melted=["A-B"]))
    assert surface_of(paved.project, paved.line("A-B").wall) == PAVED
    assert surface_of(paved.project, paved.line("B-C").wall) == BARE
    cold = winter_at(planned(box(parts__0__heated=False)), "least cost", "A-B", 4.0)
    assert cold is not None
    assert cold.inside is None
    assert math.isfinite(cold.depth)
