"""From a project to its plan."""

from foundation.plan.lines import PlanError
from foundation.plan.planner import plan
from foundation.plan.result import Contour, CornerGrade, Diagonal, PlacedExtra, Plan, ScheduleRow, Stake

__all__ = [
    "Contour",
    "CornerGrade",
    "Diagonal",
    "PlacedExtra",
    "Plan",
    "PlanError",
    "ScheduleRow",
    "Stake",
    "plan",
]
