"""Supply voltage and frequency against the motor nameplate."""

from __future__ import annotations

from typing import NamedTuple

from wizard.formula import formula
from wizard.kinds import Ratio, Voltage
from wizard.sources import Source


class VoltageBand(NamedTuple):
    """Lowest and highest accepted voltage, V."""

    low: float
    high: float


@formula(
    "Voltage band of a motor nameplate",
    equation="band = nameplate × (1 ± tolerance)",
    results={"low": "voltage", "high": "voltage"},
    source=Source("NEMA MG 1-2011 12.44.1", "confirmed"),
)
def voltage_band(nameplate: Voltage, tolerance: Ratio = 0.10) -> VoltageBand:
    """Lowest and highest voltage at which a motor may run at rated load.

    low = nameplate (1 - tolerance), high = nameplate (1 + tolerance)

    Parameters
    ----------
    nameplate : float
        Rated voltage as connected, [V]
    tolerance : float, optional
        Half width of the band, [-]

    Returns
    -------
    VoltageBand
        Ends of the band, [V]

    Examples
    --------
    A 230 V plate gives 207 V to 253 V (T. Bishop, 2013):

    >>> [round(v, 6) for v in voltage_band(230.0)]
    [207.0, 253.0]
    """
    return VoltageBand(nameplate * (1 - tolerance), nameplate * (1 + tolerance))
