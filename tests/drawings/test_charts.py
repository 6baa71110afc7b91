"""Charts: what is drawn is what was given, zero is there when asked for, no text is crossed, cut off or blank."""

from __future__ import annotations

import json
import math
import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from foundation.dashboard.chart import plain
from foundation.drawings.charts import Axis, Bars, Chart, Line, Mark, Vertical
from foundation.drawings.charts_canvas import tick_texts, ticks
from foundation.drawings.charts_scene import chart_scene
from foundation.drawings.charts_to_plotly import chart_figure
from foundation.drawings.charts_to_svg import chart_svg
from foundation.drawings.layers import LAYERS
from foundation.drawings.scene import Scene, pieces
from tests.drawings.heat_samples import charts
from tests.drawings.measuring import clashes

Array = NDArray[np.float64]
WIDTHS = (340.0, 390.0, 559.0, 640.0, 905.0, 1280.0)
WORDS = (
    "foam",
    "bare concrete",
    "a name that is much too long for where it has to stand, and goes on",
    "W" * 30,
)


def areas(scene: Scene, layer: str) -> list[Array]:
    return [piece for area in scene.areas if area.layer == layer for piece in pieces(area.points)]


def texts(scene: Scene) -> list[str]:
    return [label.text for label in scene.labels]


@pytest.mark.parametrize("width", WIDTHS)
def test_samples_are_clear(width: float) -> None:
    for name, chart in charts().items():
        scene = chart_scene(chart, width)
        assert not clashes(scene), name
        assert scene.width == pytest.approx(width, abs=1e-6)
        assert all(text.strip() for text in texts(scene))


def random_chart(rng: np.random.Generator) -> Chart:
    """Lines with bands and gaps, or bars, of any size and sign."""
    size, count = 10.0 ** rng.uniform(-3, 5), int(rng.integers(1, 5))

    def values(n: int) -> tuple[tuple[float, ...], ...]:
        likely = size * rng.uniform(-0.3 * rng.integers(2), 1, n)
        likely[rng.uniform(size=n) < 0.05] = np.nan
        spread = size * 0.2 * rng.uniform(size=n)
        return tuple(likely), tuple(likely - spread), tuple(likely + spread)

    def name() -> str:
        return str(rng.choice(WORDS))

    prefix = str(rng.choice(["", "$"]))
    y = Axis(str(rng.choice(["Heat [kWh]", WORDS[2]])), bool(rng.integers(2)), prefix=prefix, places=2)
    if rng.integers(2):
        things = tuple(name() for _ in range(int(rng.integers(1, 13))))
        bars = []
        for _ in range(count):
            likely, low, high = values(len(things))
            bars.append(Bars(name(), likely, low, high) if rng.integers(2) else Bars(name(), likely))
        stacked, lying = bool(rng.integers(2)), bool(rng.integers(2))
        return Chart("t", Axis(name(), names=things), y, bars=tuple(bars), stacked=stacked, lying=lying)
    x = np.sort(rng.uniform(-3, 40, int(rng.integers(2, 30)))).tolist()
    lines = []
    for _ in range(count):
        likely, low, high = values(len(x))
        band = (low, high) if rng.integers(2) else ((), ())
        lines.append(Line(name(), tuple(x), likely, *band, step=bool(rng.integers(2))))
    marks = tuple(
        Mark(name(), float(rng.choice(x)), size * rng.uniform(0, 1)) for _ in range(rng.integers(3))
    )
    verticals = tuple(Vertical(name(), float(rng.choice(x))) for _ in range(rng.integers(3)))
    return Chart("t", Axis(name()), y, lines=tuple(lines), marks=marks, verticals=verticals)


def test_two_hundred_random_charts_are_clear() -> None:
    rng = np.random.default_rng(2)
    made = [random_chart(rng) for _ in range(200)]
    assert (
        min(sum(bool(c.marks) for c in made), sum(c.lying for c in made), sum(c.stacked for c in made)) > 20
    )
    for number, chart in enumerate(made):
        assert not clashes(chart_scene(chart, WIDTHS[number % len(WIDTHS)])), chart
        assert chart.summary.startswith("t. ")


def test_screen_and_paper_show_the_values() -> None:
    """The line read back from the plotly figure and from the SVG is the line that was given."""
    x, y = (0.0, 1.0, 2.5, 4.0), (8123.0, 4321.0, 3987.0, 4800.0)
    chart = Chart("t", Axis("Thickness [in]"), Axis("Cost [$]", zero=True), lines=(Line("cost", x, y),))
    for width in (390.0, 905.0):
        figure = chart_figure(chart, width)
        [trace] = [
            t for t in figure["data"] if t["name"] == "cost" and t["mode"] == "lines" and len(t["x"]) == 4
        ]
        np.testing.assert_allclose((trace["x"], trace["y"]), (x, y), rtol=1e-9)
        low, high = figure["layout"]["yaxis"]["range"]
        assert low < 0 < 8123 < high  # the axis' zero lies within, under it the texts
        drawn = chart_svg(chart, width)
        scene = chart_scene(chart, width)
        found = re.findall(r'class="stroke series-1"[^>]* d="([^"]+)"', drawn)
        way = [d for d in found if d.count("L") == 3]
        points = np.array(
            [[float(v) for v in pair.split(",")] for pair in re.findall(r"[\d.]+,[\d.]+", way[0])]
        )
        left, right, bottom, top = scene.window
        back_x = left + points[:, 0] / scene.width * (right - left)
        back_y = top - points[:, 1] / scene.height * (top - bottom)
        np.testing.assert_allclose(back_x, x, rtol=0, atol=2e-3 * (right - left) / scene.width)
        np.testing.assert_allclose(back_y, y, rtol=0, atol=2e-3 * (top - bottom) / scene.height)


def test_bars_whiskers_and_stacks_are_as_high_as_they_should() -> None:
    x = Axis("", names=("one", "two", "three"))
    first = Bars("a", (3.0, -1.0, math.nan), (2.0, -2.0, math.nan), (5.0, 0.5, math.nan))
    second = Bars("b", (2.0, -2.0, 4.0))
    grouped = chart_scene(Chart("t", x, Axis("y"), bars=(first, second)), 640)
    # The first box of a layer is its sample in the key, drawn last.
    spans = sorted((box[:, 1].min(), box[:, 1].max()) for box in areas(grouped, "series-1")[:-1])
    assert spans == [(-1.0, 0.0), (0.0, 3.0)]
    [whiskers] = [stroke.points for stroke in grouped.strokes if stroke.layer == "whisker"]
    assert [(p[:, 1].min(), p[:, 1].max()) for p in pieces(whiskers)[::3]] == [(2.0, 5.0), (-2.0, 0.5)]
    stacked = chart_scene(Chart("t", x, Axis("y"), bars=(first, second), stacked=True), 640)
    spans = [(box[:, 1].min(), box[:, 1].max()) for box in areas(stacked, "series-2")[:-1]]
    assert spans == [(3.0, 5.0), (-3.0, -1.0), (0.0, 4.0)]
    lying = chart_scene(Chart("t", x, Axis("y"), bars=(first, second), lying=True), 905)
    assert [(box[:, 0].min(), box[:, 0].max()) for box in areas(lying, "series-1")] == [
        (0.0, 3.0),
        (-1.0, 0.0),
    ]
    assert "a not known" in texts(lying)


def test_a_band_reaches_from_low_to_high_and_breaks_where_nothing_is_known() -> None:
    nan = math.nan
    line = Line(
        "heat", (0.0, 1.0, 2.0, 3.0), (5.0, nan, 5.0, 6.0), (4.0, nan, 4.0, 4.5), (6.0, nan, 7.0, 8.0)
    )
    scene = chart_scene(Chart("t", Axis("x"), Axis("y"), lines=(line,)), 905)
    shapes = areas(scene, "series-1-band")
    assert [(s[:, 1].min(), s[:, 1].max()) for s in shapes] == [(4.0, 6.0), (4.0, 8.0)]
    assert {tuple(p) for p in shapes[1]} == {(2.0, 4.0), (3.0, 4.5), (3.0, 8.0), (2.0, 7.0)}
    assert LAYERS["series-1-band"].width > 0  # its edges are lines


def test_zero_is_shown_for_bars_and_where_it_is_asked_for() -> None:
    line = Line("t", (0.0, 1.0), (100.0, 104.0))
    for zero, shown in ((True, True), (False, False)):
        scene = chart_scene(Chart("t", Axis("x"), Axis("y", zero=zero), lines=(line,)), 640)
        assert ("0" in texts(scene)[:3]) == shown


def test_steps_hold_their_value() -> None:
    line = Line("t", (0.0, 1.0, 2.0), (5.0, 7.0, 6.0), step=True)
    scene = chart_scene(Chart("t", Axis("x"), Axis("y"), lines=(line,)), 640)
    [drawn] = [s.points for s in scene.strokes if s.layer == "series-1"]
    assert drawn.tolist() == [[0, 5], [1, 5], [1, 7], [2, 7], [2, 6]]


@given(st.floats(-1e6, 1e6), st.floats(1e-6, 1e6), st.integers(2, 9))
def test_ticks_are_round_even_and_reach_round(low: float, span: float, most: int) -> None:
    found = ticks(low, low + span, most)
    steps = np.diff(found)
    tiny = 1e-9 * max(abs(low), span, 1.0)
    assert found[0] <= low + 1e-8 * span + tiny
    assert found[-1] >= low + span - 1e-8 * span - tiny
    np.testing.assert_allclose(steps, steps[0], rtol=1e-6, atol=1e-11)
    lead = float(f"{steps[0]:.3e}".split("e")[0])
    assert lead in (1.0, 2.0, 2.5, 5.0, 10.0)
    assert len(found) <= most + 2


def test_tick_texts_are_told_apart() -> None:
    for low, high in ((0.0, 0.003), (-1.0, 1.0), (0.0, 9e6), (1000.0, 1000.5)):
        found = tick_texts(ticks(low, high, 5), "$")
        assert len(set(found)) == len(found)


def test_the_table_says_what_is_drawn() -> None:
    x = Axis("Month", names=("Jan", "Feb"), short=("J", "F"))
    chart = Chart(
        "Most in February",
        x,
        Axis("Heat [kWh]", places=1),
        bars=(Bars("planned", (1.0, 2.0), (0.5, 1.5), (1.5, 3.0)), Bars("bare", (4.0, math.nan))),
    )
    assert chart.header == ("Month", "planned", "bare")
    assert chart.rows == (("Jan", "1.0 (0.5 to 1.5)", "4.0"), ("Feb", "2.0 (1.5 to 3.0)", "–"))
    assert chart.summary == (
        "Most in February. Jan: planned 1.0 (0.5 to 1.5), bare 4.0. Feb: planned 2.0 (1.5 to 3.0), bare –. "
        "Across: Month; values: Heat [kWh]."
    )


def test_what_cannot_be_drawn_is_said_in_a_sentence() -> None:
    x = Axis("", names=("a", "b"))
    with pytest.raises(ValueError, match='"heat" of "t" has 3 values'):
        Chart("t", x, Axis("y"), bars=(Bars("heat", (1.0, 2.0, 3.0)),))
    with pytest.raises(ValueError, match="one each, and a band of both or none"):
        Chart("t", x, Axis("y"), bars=(Bars("heat", (1.0, 2.0), low=(0.0, 1.0)),))
    with pytest.raises(ValueError, match="must rise"):
        Chart("t", Axis("x"), Axis("y"), lines=(Line("heat", (1.0, 0.0), (1.0, 1.0)),))
    with pytest.raises(ValueError, match="lying bars"):
        Chart("t", x, Axis("y"), bars=(Bars("b", (1.0, 1.0)),), marks=(Mark("m", 0, 1),), lying=True)
    with pytest.raises(ValueError, match="1 short names for 2"):
        Chart("t", Axis("", names=("a", "b"), short=("a",)), Axis("y"))


def test_names_without_a_text_are_not_written() -> None:
    chart = Chart(
        "t", Axis(""), Axis(""), lines=(Line("", (0.0, 1.0), (1.0, 2.0)),), marks=(Mark("", 0.0, 1.0),)
    )
    for width in (390.0, 905.0):
        assert all(text.strip() for text in texts(chart_scene(chart, width)))


def test_grey_has_no_colour_and_the_payload_is_small() -> None:
    for name, chart in charts().items():
        found = re.findall("#([0-9A-F]{2})([0-9A-F]{2})([0-9A-F]{2})", chart_svg(chart, 640, grey=True))
        assert found
        assert all(r == g == b for r, g, b in found)
        assert len(json.dumps(plain(chart_figure(chart, 905.0)))) < 40_000, name
