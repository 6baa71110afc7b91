"""What is taken where nobody has told: usual prices of boards, and what the model code asks for."""

from __future__ import annotations

from functools import cache

from foundation.model.sizing import CodeHint
from foundation.tables import load

FOOT = 0.3048
BOARD_FOOT = FOOT**2 * FOOT / 12
"""A square foot an inch thick. [m³]"""
R_VALUE = 0.1761101838
"""One h·ft²·°F/Btu. [m²·K/W]"""


@cache
def usual_board_price(family: str) -> float:
    """Price of a foam board where nobody has quoted; invented.

    Parameters
    ----------
    family : str
        Family of the board, ``EPS`` or ``XPS``.

    Returns
    -------
    float
        Price by volume. [$/m³]

    Raises
    ------
    KeyError
        If the table has no such family.

    Examples
    --------
    >>> round(usual_board_price("EPS"), 1)
    148.3
    """
    prices = {row["family"]: float(row["price"]) for row in load("practice_foam-prices_2026_invented").rows}
    if family not in prices:
        raise KeyError(f"no price is known of {family}; there are: {', '.join(prices)}")
    return prices[family] / BOARD_FOOT


def code_hint(degree_days: float) -> CodeHint | None:
    """What the model code asks in a climate. A hint: the local office decides.

    Parameters
    ----------
    degree_days : float
        Heating degree days base 18.3 °C (65 °F). [K·d]

    Returns
    -------
    CodeHint or None
        None outside the zones of the table.

    Examples
    --------
    >>> code_hint(8410 / 1.8).zone
    '6'
    """
    table = load("icc_iecc-irc_2021_insulation-by-zone")
    for row in table.rows:
        if float(row["degree_days_from"]) <= degree_days * 1.8 < float(row["degree_days_to"]):
            return CodeHint(
                zone=row["zone"],
                edge=float(row["edge"]) * R_VALUE,
                edge_depth=float(row["edge_depth"]) * FOOT,
                wall=float(row["wall"]) * R_VALUE,
                source=f"{table.title}, {table.edition}, {table.table}: {table.source}",
            )
    return None
