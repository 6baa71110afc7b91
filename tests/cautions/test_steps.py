"""Traps 9, 10 and 11: the steps, re-read without the optimiser."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest

from foundation.cautions import steps
from foundation.model.walls import FootingStep, StepRules
from tests.cautions.cases import FOOT, INCH, SURVEY, demo, named, of_demo, told
from tests.conftest import planned

# Rise ≤ 24 in, run ≥ 24 in, rise ≤ 3/4 run of the lower run, 8 in module [practice].
RULES = StepRules("trade-24", "practice", 24 * INCH, 24 * INCH, 0.75, False, 8 * INCH, 0.0, 3 * INCH, 0.0)


def step(rise: float, before: float = 4.0, after: float = 4.0) -> FootingStep:
    """A step down by inches, between runs in feet; the lower run is the one after it."""
    return FootingStep(
        1, "A-B", 2.0, 3.0, 10.0, 10.0 - rise * INCH, rise * INCH, before * FOOT, after * FOOT, 0.0
    )


@pytest.mark.parametrize(
    ("wrong", "rule", "value"),
    [
        (step(32), "at most", 32 * INCH),
        (step(12), "whole multiple", 12 * INCH),
        (step(8, before=1.5), "at least", 1.5 * FOOT),
        (step(24, after=2.5), "must be at least", 24 * INCH),
    ],
)
def test_step_outside_the_rules(wrong: FootingStep, rule: str, value: float) -> None:
    (caution,) = steps.step_outside_rules([wrong], RULES)
    assert told(caution) == (9, "step 1, wall A-B", pytest.approx(value))
    assert rule in caution.sentence
    assert "trade-24: practice" in caution.trap.rule


def test_step_within_the_rules() -> None:
    # 24 in asks for a lower run of 32 in; the upper one and one cut off by a tee need only be runs.
    sound = [step(24, before=2.0, after=32 / 12), step(16), step(8, before=0.0)]
    assert not steps.step_outside_rules(sound, RULES)
    both = dataclasses.replace(RULES, ratio_binds_both=True)
    assert len(steps.step_outside_rules(sound, both)) == 1


@pytest.mark.parametrize("rule_set", ["trade-24", "canada-600", "code-text"])
@pytest.mark.parametrize("binds", ["lower", "both"])
def test_answers_keep_every_rule_set(rule_set: str, binds: str) -> None:
    """The optimiser's answers, read again by a rule that knows nothing of it."""

    def rules(tables: dict[str, Any]) -> None:
        tables["rules"] |= {"set": rule_set, "ratio_binds": binds}

    plan = planned(demo(rules), SURVEY)
    assert sum(len(answer.steps) for answer in plan.steppings) > 0
    for answer in plan.steppings:
        assert not steps.step_outside_rules(answer.steps, plan.rules)


def test_slope_that_is_not_stepped() -> None:
    """At most 1 in 10 (IRC 2024 R403.1.5 [read])."""

    def slope(tables: dict[str, Any]) -> None:
        tables["parts"][0]["walls"].append({"line": "A-B", "footing_slope": "0.12"})

    (caution,) = named(of_demo(slope), "footing-slope")
    assert told(caution) == (10, "wall A-B", 0.12)
    assert not steps.slope_not_stepped({"A-B": 0.1})


def test_thin_leg() -> None:
    """150 mm thick, as wide as the footing (CMHC [read]); 6 in [practice]."""
    (thin,) = steps.thin_leg([step(8)], {"A-B": 5 * INCH}, {"A-B": 20 * INCH})
    assert told(thin) == (11, "step 1, wall A-B", pytest.approx(5 * INCH))
    narrow = of_demo(lambda t: t.setdefault("stage", {}).update(leg_width="10 in"))
    (caution,) = named(narrow, "thin-leg")
    assert caution.trap.number == 11
    assert "full width" in caution.sentence
    assert not steps.thin_leg([step(8)], {"A-B": 6 * INCH}, {"A-B": 20 * INCH}, 20 * INCH)
    assert not steps.thin_leg([], {}, {})


def test_bars_that_stop_at_steps() -> None:
    (caution,) = steps.bars_not_through([step(8)], "no")
    assert (caution.trap.number, caution.where) == (11, "step 1, wall A-B")
    for through in ("yes", "unknown"):  # without a list there is nothing to tell
        assert not steps.bars_not_through([step(8)], through)
    assert not steps.bars_not_through([], "no")
