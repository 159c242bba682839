"""What a rating means at the site: the volume a pump takes in, and the pressure of equal ratio.

Invariant: a piston pump sweeps a volume, so a rating is kept by volume and not by mass; a hill
or a hot room does not make a sound pump fail.
"""

from __future__ import annotations

from wizard.calc.accepted import above_zero
from wizard.calc.air_state import flow_state, reference_flow
from wizard.calc.gas import STANDARD_PRESSURE
from wizard.formula import formula
from wizard.kinds import AbsolutePressure, Flow, GaugePressure
from wizard.sources import Source

FREE_AIR = "free air at the intake"
RATED_INTAKE = "ISO 1217: 1 bar, 20 °C, dry"
FAD = Source("ISO 1217:2009: free air is a volume at the state of the intake", "memory")


@formula(
    "Intake volume behind a rated flow",
    equation="intake flow = rated_flow stated at reference, taken in at 1 bar, 20 °C, dry",
    results="flow",
    source=(FAD, Source("the rating was taken at 1 bar, 20 °C, dry", "judgement")),
)
def rated_intake_flow(rated_flow: Flow, reference: str) -> float:
    """Volume that the pump takes in to meet its rating.

    Free air and ISO 1217 ratings are that volume; others are brought to 1 bar, 20 °C, dry.

    Parameters
    ----------
    rated_flow : float
        Flow on the plate, [m3/s]
    reference : str
        "free air at the intake" or the name of a flow reference, [-]

    Returns
    -------
    float
        Free air at the intake, [m3/s]

    Examples
    --------
    48.6 scfm at 14.696 psia and 60 °F are 50 cfm taken in at 1 bar and 20 °C:

    >>> round(rated_intake_flow(48.598, "US: 14.696 psia, 60 °F, dry"), 2)
    50.0
    """
    above_zero("rated_flow", rated_flow, "flow")
    if reference == FREE_AIR:
        return rated_flow
    return reference_flow(rated_flow, *flow_state(reference), *flow_state(RATED_INTAKE))


@formula(
    "Absolute pressure of the rated ratio at this site",
    equation="pressure = (rated_pressure + 101325 Pa) / 101325 Pa × ambient",
    results="absolute pressure",
    source=Source("volumetric efficiency follows the pressure ratio", "computed"),
)
def same_ratio_pressure(rated_pressure: GaugePressure, ambient: AbsolutePressure) -> float:
    """Pressure at which the pump works over the same ratio as in its rating at sea level.

    p = (p_rated + 1 atm) / 1 atm p_a: thin air makes the same gauge pressure a larger ratio

    Parameters
    ----------
    rated_pressure : float
        Gauge pressure of the rating, [Pa]
    ambient : float
        Air pressure at the site, [Pa]

    Returns
    -------
    float
        Absolute pressure at the site, [Pa]

    Examples
    --------
    At sea level it is the rated pressure itself:

    >>> same_ratio_pressure(1e6, 101325.0)
    1101325.0
    """
    above_zero("rated_pressure", rated_pressure, "gauge pressure")
    above_zero("ambient", ambient, "absolute pressure")
    return (rated_pressure + STANDARD_PRESSURE) / STANDARD_PRESSURE * ambient
