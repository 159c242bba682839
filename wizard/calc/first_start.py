"""First start: the pressure at which a person stops the motor.

Invariant: the hand-stop pressure is always below the relief setting.
"""

from __future__ import annotations

from wizard.calc.us_units import PSI
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import GaugePressure
from wizard.sources import OUR_JUDGEMENT


@formula(
    "Pressure at which to stop by hand",
    equation="hand stop = smaller of (expected_cut_out + 5 psi) and (relief_set − 5 psi)",
    results="gauge pressure",
    source=OUR_JUDGEMENT,
)
def hand_stop_pressure(expected_cut_out: GaugePressure, relief_set: GaugePressure) -> GaugePressure:
    """Test gauge reading at which the operator stops the motor by hand.

    p = min(cut-out + 5 psi, relief set - 5 psi)

    Parameters
    ----------
    expected_cut_out : float
        Cut-out that the switch is meant to have, gauge, [Pa]
    relief_set : float
        Stamped set pressure, gauge, [Pa]

    Returns
    -------
    float
        Hand-stop pressure, gauge, [Pa]

    Notes
    -----
    The relief setting must be above the expected cut-out.

    Examples
    --------
    Cut-out 175, relief 200 psig gives 180 psig:

    >>> psi = 6894.757293168
    >>> round(hand_stop_pressure(175 * psi, 200 * psi) / psi, 6)
    180.0
    """
    if not relief_set > expected_cut_out > 0:
        raise InputError(
            "expected cut-out", "at or above the relief setting", "a value below that setting"
        )
    return min(expected_cut_out + 5 * PSI, relief_set - 5 * PSI)
