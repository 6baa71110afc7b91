"""Traps of the steps: re-read from what was chosen, whoever chose it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace

from foundation.cautions import register
from foundation.cautions.ground import WITHIN
from foundation.model.caution import Amount, Caution
from foundation.model.walls import FootingStep, StepRules

STEEPEST_FOOTING = 0.1
"""Steepest bottom of footing that need not step (IRC 2024 R403.1.5 [read]). [-]"""
LEAST_LEG = 6 * 0.0254
"""Least thickness of a step's leg [practice]; CMHC has 150 mm [read]. [m]"""


def step_outside_rules(steps: Iterable[FootingStep], rules: StepRules) -> list[Caution]:
    """A step breaks the rule set: its rise, its module, the runs beside it, or rise over run.

    Parameters
    ----------
    steps : iterable of FootingStep
        The steps.
    rules : StepRules
        The rule set in force.

    Returns
    -------
    list of Caution
        One for each such step, on the first rule that it breaks.
    """
    trap = replace(register.STEP_OUTSIDE_RULES, rule=f"Rule set {rules.name}: {rules.source.rstrip('.')}.")
    found = []
    for step in steps:
        broken = _broken_rule(step, rules)
        if broken:
            sentence, amounts = broken
            where = f"step {step.number}, wall {step.line}"
            found.append(Caution(trap, where, sentence, amounts, step.line, step.station))
    return found


def _broken_rule(step: FootingStep, rules: StepRules) -> tuple[str, dict[str, Amount]] | None:
    rise = Amount(step.rise, "inches")
    if step.rise > rules.rise + WITHIN:
        most = Amount(rules.rise, "inches")
        return "It rises {rise}; at most {most} is allowed.", {"rise": rise, "most": most}
    if abs(step.rise - round(step.rise / rules.module) * rules.module) > WITHIN:
        module = Amount(rules.module, "inches")
        return "It rises {rise}, which is no whole multiple of {module}.", {"rise": rise, "module": module}
    # A step at a tee has no run on the side of the footing that runs through.
    beside = [run for run in (step.run_before, step.run_after) if run > WITHIN]
    if beside and min(beside) < rules.run - WITHIN:
        amounts = {"run": Amount(min(beside)), "least": Amount(rules.run)}
        return "A run beside it is {run} long; at least {least} is asked for.", amounts
    lower = step.run_before if step.before < step.after else step.run_after
    bound = beside if rules.ratio_binds_both else [run for run in (lower,) if run > WITHIN]
    if bound and step.rise > rules.rise_over_run * min(bound) + WITHIN:
        amounts = {
            "rise": rise,
            "run": Amount(min(bound)),
            "least": Amount(step.rise / rules.rise_over_run),
        }
        return "It rises {rise} beside a run of {run}; the run must be at least {least} long.", amounts
    return None


def slope_not_stepped(slopes: Mapping[str, float], steepest: float = STEEPEST_FOOTING) -> list[Caution]:
    """The bottom of a footing slopes too steeply and is not stepped.

    Parameters
    ----------
    slopes : mapping of str to float
        Slope of the bottom of footing on each wall line where it is poured sloping, rise over run. [-]
    steepest : float
        Steepest that need not step. [-]

    Returns
    -------
    list of Caution
        One for each such wall.
    """
    return [
        Caution(
            register.SLOPE_NOT_STEPPED,
            f"wall {line}",
            "The bottom of footing slopes {slope}, more than {steepest}: step it.",
            {"slope": Amount(slope, "number"), "steepest": Amount(steepest, "number")},
            line,
        )
        for line, slope in slopes.items()
        if slope > steepest + 1e-9
    ]


def thin_leg(
    steps: Iterable[FootingStep],
    thickness: Mapping[str, float],
    footing_width: Mapping[str, float],
    leg_width: float | None = None,
    least: float = LEAST_LEG,
) -> list[Caution]:
    """The leg of a step is thinner than 6 in or narrower than its footing.

    Parameters
    ----------
    steps : iterable of FootingStep
        The steps.
    thickness : mapping of str to float
        Thickness of the legs on each wall line. [m]
    footing_width : mapping of str to float
        Width of the footing on each wall line. [m]
    leg_width : float or None
        Width of the legs across the footing; None for the footing's own. [m]
    least : float
        Least thickness. [m]

    Returns
    -------
    list of Caution
        None or one, at the first such step.
    """
    for step in steps:
        leg, width = thickness[step.line], footing_width[step.line]
        across = math.inf if leg_width is None else leg_width
        if leg < least - WITHIN:
            sentence = "The leg of the step is {leg} thick; at least {least} is asked for."
            amounts = {"leg": Amount(leg, "inches"), "least": Amount(least, "inches")}
        elif across < width - WITHIN:
            sentence = "The leg of the step is {leg} wide on a footing of {width}: pour it in full width."
            amounts = {"leg": Amount(across, "inches"), "width": Amount(width, "inches")}
        else:
            continue
        where = f"step {step.number}, wall {step.line}"
        return [Caution(register.THIN_LEG, where, sentence, amounts, step.line, step.station)]
    return []


def bars_not_through(steps: Iterable[FootingStep], through: str) -> list[Caution]:
    """The bar list stops at the steps.

    Parameters
    ----------
    steps : iterable of FootingStep
        The steps.
    through : str
        Whether the list carries bars through: ``yes``, ``no`` or ``unknown``, where no list is entered.

    Returns
    -------
    list of Caution
        None or one, at the first step.
    """
    first = next(iter(steps), None)
    if first is None or through != "no":
        return []
    return [
        Caution(
            register.BARS_STOP,
            f"step {first.number}, wall {first.line}",
            "The bar list does not carry the bars through the steps.",
            {},
            first.line,
            first.station,
        )
    ]
