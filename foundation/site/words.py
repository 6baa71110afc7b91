"""How this topic says what is wrong: lengths in the survey's own unit, long lists cut short, one error."""

from __future__ import annotations

from collections.abc import Sequence

from foundation.model.problem import Problem

MOST_PROBLEMS = 20
"""Longer lists are cut there: nobody reads on, and the first lines usually show the cause. [-]"""


class SiteError(ValueError):
    """Nothing can be planned on this ground, and the problems say why.

    Parameters
    ----------
    problems : Problem
        What is wrong.

    Attributes
    ----------
    problems : tuple of Problem
        What is wrong, worst first.
    """

    def __init__(self, *problems: Problem) -> None:
        super().__init__(" ".join(problem.sentence for problem in problems))
        self.problems = problems


def unit_word(metres_per_unit: float) -> str:
    """Name of the survey's length unit.

    Parameters
    ----------
    metres_per_unit : float
        Length of one unit. [m]

    Returns
    -------
    str
        ``ft`` for either foot, ``m`` for the metre, ``units`` for anything else.

    Examples
    --------
    >>> unit_word(0.3048), unit_word(1200 / 3937), unit_word(1.0)
    ('ft', 'ft', 'm')
    """
    if abs(metres_per_unit - 0.3048) < 1e-5:
        return "ft"
    return "m" if metres_per_unit == 1.0 else "units"


def spoken(length: float, metres_per_unit: float) -> str:
    """Length or elevation as the survey would write it.

    Parameters
    ----------
    length : float
        Length or elevation. [m]
    metres_per_unit : float
        Length of one survey unit. [m]

    Returns
    -------
    str
        Two decimals and the unit.

    Examples
    --------
    >>> spoken(65.04432, 0.3048)
    '213.40 ft'
    """
    return f"{length / metres_per_unit:.2f} {unit_word(metres_per_unit)}"


def cut_short(problems: Sequence[Problem], place: str) -> tuple[Problem, ...]:
    """First problems of a list, what stops the plan before what is only told, with the number left out.

    Parameters
    ----------
    problems : sequence of Problem
        All of them, in reading order.
    place : str
        Where they stand, for the line that counts the rest.

    Returns
    -------
    tuple of Problem
        At most ``MOST_PROBLEMS`` of them, and one more that counts the rest.
    """
    ranked = sorted(problems, key=lambda problem: not problem.fatal)
    rest = ranked[MOST_PROBLEMS:]
    if not rest:
        return tuple(ranked)
    more = Problem(place, str(len(rest)), f"And {len(rest)} more like these.", fatal=rest[0].fatal)
    return (*ranked[:MOST_PROBLEMS], more)
