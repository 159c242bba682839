"""Oil that leaves with the air: concentration and top-up volume."""

from __future__ import annotations

from wizard.calc.accepted import above_zero, within, zero_or_above
from wizard.formula import formula
from wizard.kinds import Concentration, Density, Flow, Time, Volume
from wizard.sources import Source

BALANCE = Source("mass balance; ISO 8573-1 and -2 give the classes and the method", "computed")
OIL_DENSITY = 880.0
THOUSAND_HOURS = 3_600_000.0


def _density(density: Density) -> None:
    within("oil density", density, "density", "kg/L", 0.80, 1.05)


@formula(
    "Oil lost with the air",
    equation="volume = concentration × flow × running / density",
    results="volume",
    source=BALANCE,
)
def oil_lost(
    concentration: Concentration,
    flow: Flow,
    running: Time = THOUSAND_HOURS,
    density: Density = OIL_DENSITY,
) -> Volume:
    """Volume of oil that leaves with the air over a running time.

    V = c Q t/rho

    Parameters
    ----------
    concentration : float
        Oil in the air, [kg/m3]
    flow : float
        Free air delivered, [m3/s]
    running : float, optional
        Running time, 1000 h if not given, [s]
    density : float, optional
        Density of the oil, [kg/m3]

    Returns
    -------
    float
        Volume of oil, [m3]

    Examples
    --------
    10 mg/m3 in 0.85 m3/min is 0.58 L in 1000 h (computed):

    >>> round(oil_lost(10e-6, 0.85 / 60) * 1000, 5)
    0.57955
    """
    zero_or_above("oil in the air", concentration, "concentration", "mg/m3")
    above_zero("flow", flow, "flow", "m3/min")
    above_zero("running time", running, "time", "h")
    _density(density)
    return concentration * flow * running / density


@formula(
    "Oil in the air from the top-up",
    equation="concentration = topped_up × density / (flow × running)",
    results="concentration",
    source=BALANCE,
)
def oil_in_air(
    topped_up: Volume, running: Time, flow: Flow, density: Density = OIL_DENSITY
) -> Concentration:
    """Oil carried over, from what was topped up between two equal levels.

    c = V rho/(Q t)

    Parameters
    ----------
    topped_up : float
        Oil added to come back to the same level, [m3]
    running : float
        Running time between the two levels, by hour meter, [s]
    flow : float
        Free air delivered, [m3/s]
    density : float, optional
        Density of the oil, [kg/m3]

    Returns
    -------
    float
        Oil in the air, [kg/m3]

    Examples
    --------
    0.58 L in 1000 h at 0.85 m3/min is 10 mg/m3 (computed):

    >>> round(oil_in_air(0.57955e-3, 3.6e6, 0.85 / 60) * 1e6, 3)
    10.0
    """
    zero_or_above("oil topped up", topped_up, "volume", "L")
    above_zero("running time", running, "time", "h")
    above_zero("flow", flow, "flow", "m3/min")
    _density(density)
    return topped_up * density / (flow * running)
