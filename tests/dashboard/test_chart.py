"""The chart's Python side; what the browser makes of it is in tests/browser."""

from __future__ import annotations

import json

import numpy as np
import plotly.graph_objects as go
import pytest

from foundation.dashboard.chart import Chart, Click, Drag, plain
from foundation.dashboard.guard import log


def receive(chart: Chart, **message: object) -> None:
    """What the page sends, by the way that widget messages arrive."""
    chart._handle_custom_msg(message, [])


@pytest.fixture
def sent(monkeypatch: pytest.MonkeyPatch) -> list[tuple[object, object]]:
    """What charts send to the page."""
    messages: list[tuple[object, object]] = []
    monkeypatch.setattr(
        Chart, "send", lambda self, content, buffers=None: messages.append((content, buffers)), raising=True
    )
    return messages


def test_figure_is_sent_as_plain_numbers() -> None:
    chart = Chart({"data": [{"x": np.array([0.1 + 0.2, np.inf]), "z": np.eye(2, dtype=np.int64)}]})
    assert chart.get_state()["_figure"]["data"] == [{"x": [0.3, None], "z": [[1, 0], [0, 1]]}]
    json.dumps(chart.get_state()["_figure"], allow_nan=False)


def test_seven_digits_hold_a_thousandth_of_a_foot_on_a_high_level() -> None:
    assert plain([1042.357, 1042.3570001]) == [1042.357, 1042.357]


def test_plotly_figure_and_dict_say_the_same() -> None:
    figure = go.Figure(go.Scatter(x=["a", "b"], y=[1, 2]), {"title": {"text": "Two"}}).to_dict()
    figure["layout"].pop("template")
    from_class, from_dict = Chart(go.Figure(figure)), Chart(figure)
    assert from_class.get_state()["_figure"]["data"] == from_dict.get_state()["_figure"]["data"]


def test_zoom_is_kept_unless_the_figure_says_otherwise() -> None:
    assert Chart({"data": []}).get_state()["_figure"]["layout"]["uirevision"] == "kept"
    layout = {"uirevision": "wall 2"}
    assert Chart({"data": [], "layout": layout}).get_state()["_figure"]["layout"]["uirevision"] == "wall 2"
    assert layout == {"uirevision": "wall 2"}


@pytest.mark.parametrize("title", ["Where it steps", {"text": "Where it steps"}])
def test_summary_is_the_title_unless_given(title: object) -> None:
    figure = {"data": [], "layout": {"title": title}}
    assert Chart(figure).summary == "Where it steps"
    assert Chart(figure, summary="Three steps down to the east.").summary == "Three steps down to the east."


def test_every_click_arrives(sent: list[object]) -> None:
    chart = Chart()
    clicks: list[Click] = []
    chart.on_click(clicks.append)
    for _ in range(2):
        receive(chart, kind="click", curve=1, name="Footing", x=3.0, y=-1.5, customdata=["step", 2])
    assert clicks == [Click(1, "Footing", 3.0, -1.5, ["step", 2])] * 2


def test_drag_arrives_and_the_chart_is_drawn_again(sent: list[object]) -> None:
    chart = Chart()
    drags: list[Drag] = []
    chart.on_drag(drags.append)
    receive(chart, kind="drag", index=0, name="step", x0=3.0, y0=0.0, x1=4.0, y1=1.0)
    assert drags == [Drag(0, "step", 3.0, 0.0, 4.0, 1.0)]
    assert sent == [({"kind": "redraw"}, None)]


def test_runtime_is_sent_when_it_is_asked_for(sent: list[tuple[dict[str, str], list[bytes]]]) -> None:
    receive(Chart(), kind="runtime")
    [(content, [script])] = sent
    assert content == {"kind": "runtime"}
    assert script.lstrip().startswith(b"/**\n* plotly.js")


def test_chart_that_could_not_be_drawn_is_logged(caplog: pytest.LogCaptureFixture) -> None:
    log().addHandler(caplog.handler)
    receive(Chart(), kind="failed", error="TypeError: no such axis")
    log().removeHandler(caplog.handler)
    assert "no such axis" in caplog.text
