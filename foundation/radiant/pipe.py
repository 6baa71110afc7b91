r"""Flow in a straight tube: pressure it loses, and the film between fluid and tube.

Laminar below Re 2300, turbulent from 4000. Between them friction factor and Nusselt number run straight from the
laminar value at 2300 to the turbulent one at 4000, as [1]_ has it for the Nusselt number, and the flow is marked:
there a real tube may do either. Bends and fittings are left out.

References
----------
.. [1] V. Gnielinski, *On heat transfer in tubes*, Int. J. Heat Mass Transfer 63 (2013) [memory].
.. [2] C. F. Colebrook, *Turbulent flow in pipes*, J. Inst. Civil Engineers 11 (1939) [memory].
"""

from __future__ import annotations

from math import log, log10, pi, sqrt

from foundation import tables
from foundation.model.radiant import FluidState, PipeFlow, Regime, Tube
from foundation.radiant.limits import positive

LAMINAR, TURBULENT = 2300.0, 4000.0
ROUGHNESS = 1.5e-6
"""Of drawn plastic tube [memory]. [m]"""
PEX_CONDUCTIVITY = 0.41
"""Of cross-linked polyethylene [memory]. [W/(m·K)]"""

_INCH, _FOOT = 0.0254, 0.3048
_TABLE = "astm_f876-pex-cts_2020_sizes"


def pex_tubes(bend_diameters: float = 8.0) -> dict[str, Tube]:
    """The sizes of cross-linked polyethylene tube.

    Parameters
    ----------
    bend_diameters : float
        Tightest bend over the outside diameter: 8 [read]; other lists have 6 [memory]. [-]

    Returns
    -------
    dict of str to Tube
        By nominal size: ``3/8``, ``1/2``, ``5/8``, ``3/4``.

    Examples
    --------
    >>> round(pex_tubes()["1/2"].bend_radius / 0.0254, 1)
    5.0
    """
    positive(bend_diameters, "the tightest bend", "diameters")
    return {
        row["name"]: Tube(
            name=row["name"],
            outside_diameter=float(row["outside_diameter"]) * _INCH,
            inside_diameter=float(row["inside_diameter"]) * _INCH,
            conductivity=PEX_CONDUCTIVITY,
            bend_radius=bend_diameters * float(row["outside_diameter"]) * _INCH,
            longest_loop=float(row["longest_loop"]) * _FOOT,
        )
        for row in tables.load(_TABLE).rows
    }


def bore(tube: Tube) -> float:
    """Area that the fluid runs through.

    Parameters
    ----------
    tube : Tube
        The tube.

    Returns
    -------
    float
        Area. [m²]
    """
    return pi * tube.inside_diameter**2 / 4


def colebrook(reynolds: float, relative_roughness: float) -> float:
    """Friction factor of turbulent flow by Colebrook's equation [2]_.

    Parameters
    ----------
    reynolds : float
        Reynolds number, > 0. [-]
    relative_roughness : float
        Roughness over inside diameter, ≥ 0. [-]

    Returns
    -------
    float
        Darcy's friction factor. [-]

    Raises
    ------
    ValueError
        If the Reynolds number is not positive.
    """
    positive(reynolds, "the Reynolds number", "of 1")
    root, last = 7.0, 0.0  # one over the root of the factor
    while abs(root - last) > 1e-13 * root:  # each round leaves about a tenth of the error
        last = root
        root = -2 * log10(relative_roughness / 3.7 + 2.51 * last / reynolds)
    return 1 / root**2


def gnielinski(reynolds: float, prandtl: float) -> float:
    r"""Nusselt number of turbulent flow.

    Parameters
    ----------
    reynolds : float
        Reynolds number, from about 3000. [-]
    prandtl : float
        Prandtl number. [-]

    Returns
    -------
    float
        :math:`\frac{(f/8)(Re - 1000) Pr}{1 + 12.7 \sqrt{f/8} (Pr^{2/3} - 1)}` with Petukhov's
        :math:`f = (0.79 \ln Re - 1.64)^{-2}` [1]_. [-]
    """
    part = (0.79 * log(reynolds) - 1.64) ** -2 / 8
    return part * (reynolds - 1000) * prandtl / (1 + 12.7 * sqrt(part) * (prandtl ** (2 / 3) - 1))


def pipe_flow(tube: Tube, state: FluidState, mass_flow: float) -> PipeFlow:
    """What a flow loses and passes on in a tube.

    Parameters
    ----------
    tube : Tube
        The tube.
    state : FluidState
        The fluid at its mean temperature.
    mass_flow : float
        Flow, > 0. [kg/s]

    Returns
    -------
    PipeFlow
        Velocity, regime, pressure per length, film.

    Raises
    ------
    ValueError
        If the flow is not positive.
    """
    positive(mass_flow, "the flow in the tube", "kg/s")
    inside = tube.inside_diameter
    velocity = mass_flow / (state.density * bore(tube))
    reynolds = state.density * velocity * inside / state.viscosity
    friction, nusselt = _numbers(
        reynolds, state.heat_capacity * state.viscosity / state.conductivity, ROUGHNESS / inside
    )
    regime = Regime.TURBULENT if reynolds >= TURBULENT else Regime.TRANSITION
    return PipeFlow(
        mass_flow=mass_flow,
        velocity=velocity,
        reynolds=reynolds,
        regime=Regime.LAMINAR if reynolds < LAMINAR else regime,
        friction_factor=friction,
        gradient=friction / inside * state.density * velocity**2 / 2,
        film=nusselt * state.conductivity / inside,
    )


def _numbers(reynolds: float, prandtl: float, roughness: float) -> tuple[float, float]:
    """Friction factor and Nusselt number; 4.36 is that of laminar flow at even flux."""
    laminar = (64 / min(reynolds, LAMINAR), 4.36)
    if reynolds < LAMINAR:
        return laminar
    full = max(reynolds, TURBULENT)
    turbulent = (colebrook(full, roughness), gnielinski(full, prandtl))
    share = min((reynolds - LAMINAR) / (TURBULENT - LAMINAR), 1.0)
    return (
        laminar[0] + share * (turbulent[0] - laminar[0]),
        laminar[1] + share * (turbulent[1] - laminar[1]),
    )
