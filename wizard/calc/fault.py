"""Fault current: what the supply can give, and what a ground fault draws.

Invariant: the transformer alone limits the fault, so the result is never too low.
"""

from __future__ import annotations

import math

from wizard.calc.accepted import one_of, within
from wizard.calc.motor_circuit import PHASES
from wizard.formula import formula
from wizard.kinds import ApparentPower, Current, Ratio, Resistance, Voltage
from wizard.sources import Source

TRANSFORMER = (1, 10_000)
"""Rated power of a supply transformer, kVA."""
IMPEDANCE = (0.5, 20)
"""Impedance on its plate, %."""
OHM = Source("Ohm's law", "computed")


@formula(
    "Fault current at the terminals of the supply transformer",
    equation="fault = transformer / (√3 × voltage × impedance), without √3 on one phase",
    results="current",
    source=Source("transformer impedance on an unlimited grid", "computed"),
)
def transformer_fault_current(
    transformer: ApparentPower, impedance: Ratio, voltage: Voltage, phases: str = "three"
) -> Current:
    """Largest symmetrical fault current that a transformer lets through.

    I = S / (sqrt(3) V z), single-phase S / (V z)

    Parameters
    ----------
    transformer : float
        Rated power of the transformer, 1 kVA to 10 MVA, [VA]
    impedance : float
        Impedance on its plate, 0.5 to 20 %, [-]
    voltage : float
        Secondary line-to-line voltage, [V]
    phases : str, optional
        single or three

    Returns
    -------
    float
        Fault current; cable and grid make the real one smaller, [A]

    Examples
    --------
    500 kVA, 5.75 %, 480 V: about 10.45 kA (a published fault-current calculator's example):

    >>> round(transformer_fault_current(500e3, 0.0575, 480.0))
    10459
    """
    within("transformer", transformer, "apparent power", "kVA", *TRANSFORMER)
    within("impedance", impedance, "ratio", "%", *IMPEDANCE)
    within("voltage", voltage, "voltage", "V", 100, 1000)
    one_of("phases", phases, PHASES)
    root = math.sqrt(3) if phases == "three" else 1.0
    return transformer / (root * voltage * impedance)


@formula(
    "Ground-fault current",
    equation="fault = voltage_to_ground / loop",
    results="current",
    source=OHM,
)
def ground_fault_current(voltage_to_ground: Voltage, loop: Resistance) -> Current:
    """Current through line and grounding conductor when a winding touches the frame.

    I = V / Z

    Parameters
    ----------
    voltage_to_ground : float
        Line-to-ground voltage, [V]
    loop : float
        Impedance of the whole fault loop, [ohm]

    Returns
    -------
    float
        Fault current, [A]

    Examples
    --------
    >>> round(ground_fault_current(277.0, 1.1), 3)
    251.818
    """
    within("voltage_to_ground", voltage_to_ground, "voltage", "V", 50, 400)
    within("loop", loop, "resistance", "ohm", 0.0001, 10_000)
    return voltage_to_ground / loop
