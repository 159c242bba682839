"""Vibration: from a peak reading to the rms value that limits are written in."""

from __future__ import annotations

from math import sqrt

from wizard.calc.accepted import zero_or_above
from wizard.formula import formula
from wizard.kinds import VibrationVelocity
from wizard.sources import Source


@formula(
    "Rms value of a pure tone",
    equation="rms = peak / √2",
    results="vibration velocity",
    source=Source("definition of the root mean square", "computed"),
)
def rms_of_peak(peak: VibrationVelocity) -> float:
    """Rms velocity of a vibration with one frequency.

    rms = peak / sqrt(2)

    Parameters
    ----------
    peak : float
        Peak velocity, zero to peak, [m/s]

    Returns
    -------
    float
        Rms velocity, [m/s]

    Notes
    -----
    Right for a pure tone only; a piston machine shakes at many frequencies, so measure rms.

    Examples
    --------
    >>> round(rms_of_peak(10e-3) * 1e3, 4)
    7.0711
    """
    zero_or_above("peak", peak, "vibration velocity")
    return peak / sqrt(2.0)
