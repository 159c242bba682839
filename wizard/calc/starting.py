"""The start of the motor: current with the rotor at rest, and how far the volts fall.

Invariant: estimates are on the high side of the dip, so a start that passes here does start.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from wizard.both_units import both
from wizard.calc.accepted import above_zero, one_of, within, zero_or_above
from wizard.calc.fault import IMPEDANCE, TRANSFORMER
from wizard.calc.motor_circuit import PHASES
from wizard.calc.supply import plate_voltage
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import ApparentPower, Current, Number, Power, Ratio, Voltage
from wizard.quantities import from_si
from wizard.sources import Source
from wizard.tables import table

STARTERS = ("direct on line", "star-delta", "soft starter")
STARTING_POWER_FACTOR = 0.40
"""Typical of a rotor at rest, 0.35 to 0.50, from memory."""


class Letter(NamedTuple):
    """Range of locked-rotor apparent power per horsepower, kVA/hp."""

    low: float
    high: float


@formula(
    "Locked-rotor kVA per horsepower of a code letter",
    equation="range = table row of letter (kVA per hp)",
    results={"low": "number", "high": "number"},
    source=Source("NEC Table 430.7(B)", "confirmed"),
)
def code_letter_range(letter: str) -> Letter:
    """Range of locked-rotor kVA per horsepower that a nameplate code letter stands for.

    Parameters
    ----------
    letter : str
        Code letter, A to U without I, O and Q; V has no upper end

    Returns
    -------
    Letter
        Ends of the range, kVA per hp, [-]

    Examples
    --------
    >>> code_letter_range("G")
    Letter(low=5.6, high=6.29)
    """
    rows = table("code_letter").rows
    row = next((r for r in rows if r["letter"] == letter.strip().upper()), None)
    if row is None:
        raise InputError("code letter", f"“{letter}”", " ".join(r["letter"] for r in rows))
    if "high" not in row:
        raise OutsideValidity(
            "code letter", "V, 22.4 kVA per hp and up", "the locked-rotor amperes of the plate"
        )
    return Letter(row["low"], row["high"])


@formula(
    "Locked-rotor current from the code letter",
    equation="current = kva_per_hp × power in hp × 1000 / (√3 × voltage), without √3 on one "
    "phase, a third of it where the motor starts in star",
    results="current",
    source=(
        Source("NEC 430.7(B)", "confirmed"),
        Source("star connection draws a third of the line current", "computed"),
    ),
)
def locked_rotor_current(
    kva_per_hp: Number,
    power: Power,
    voltage: Voltage,
    phases: str = "three",
    starter: str = "direct on line",
) -> Current:
    """Line current with the rotor at rest.

    I = 1000 kVA/hp hp / (sqrt(3) V); single-phase without sqrt(3); star-delta one third

    Parameters
    ----------
    kva_per_hp : float
        Locked-rotor kVA per horsepower, [-]
    power : float
        Rated power, [W]
    voltage : float
        Rated voltage, [V]
    phases : str, optional
        single or three
    starter : str, optional
        direct on line, star-delta, or soft starter (taken as direct: the ramp is not known)

    Returns
    -------
    float
        Current, [A]

    Notes
    -----
    An inverter never lets the motor draw this current; the calculation does not apply to it.

    Examples
    --------
    20 hp, 460 V, letter G: 158 A (published exercise on Table 430.7(B)):

    >>> round(locked_rotor_current(6.29, 20 * 745.69987158227, 460.0))
    158
    """
    within("kva_per_hp", kva_per_hp, "number", "", 0.1, 50)
    above_zero("power", power, "power", "hp")
    within("power", power, "power", "hp", 0, 500)
    plate_voltage("voltage", voltage)
    one_of("phases", phases, PHASES)
    one_of("starter", starter, STARTERS)
    root = math.sqrt(3) if phases == "three" else 1.0
    direct = 1000 * kva_per_hp * from_si(power, "power", "hp") / (root * voltage)
    return direct / 3 if starter == "star-delta" else direct


@formula(
    "Apparent power drawn at start",
    equation="apparent = √3 × voltage × current, without √3 on one phase",
    results="apparent power",
    source=Source("definition of apparent power", "computed"),
)
def starting_power(current: Current, voltage: Voltage, phases: str = "three") -> ApparentPower:
    """Apparent power behind a starting current.

    S = sqrt(3) V I; single-phase V I

    Parameters
    ----------
    current : float
        Starting line current, [A]
    voltage : float
        Line-to-line voltage, [V]
    phases : str, optional
        single or three

    Returns
    -------
    float
        Apparent power, [VA]

    Examples
    --------
    >>> round(starting_power(88.987, 460.0) / 1000, 2)
    70.9
    """
    above_zero("current", current, "current", "A")
    plate_voltage("voltage", voltage)
    one_of("phases", phases, PHASES)
    return (math.sqrt(3) if phases == "three" else 1.0) * voltage * current


@formula(
    "Dip of the supply while the motor starts",
    equation="dip = starting / (starting + transformer / impedance)",
    results="ratio",
    source=Source("voltage divider of starting power and short-circuit power", "computed"),
)
def source_dip(starting: ApparentPower, transformer: ApparentPower, impedance: Ratio) -> Ratio:
    """Share of the voltage lost in the supply transformer at start.

    dip = S_start / (S_start + S_tx / z); scalar, so on the high side

    Parameters
    ----------
    starting : float
        Apparent power drawn at start, [VA]
    transformer : float
        Rated power of the transformer, [VA]
    impedance : float
        Impedance on its plate, 0.5 to 20 %, [-]

    Returns
    -------
    float
        Dip, [-]

    Notes
    -----
    The grid behind the transformer is taken as stiff.

    Examples
    --------
    10 hp, letter H (7.09 kVA/hp) on 75 kVA, 3 %:

    >>> round(source_dip(70.9e3, 75e3, 0.03), 6)
    0.027578
    """
    above_zero("starting", starting, "apparent power", "kVA")
    within("transformer", transformer, "apparent power", "kVA", *TRANSFORMER)
    within("impedance", impedance, "ratio", "%", *IMPEDANCE)
    return starting / (starting + transformer / impedance)


@formula(
    "Voltage at the motor while it starts",
    equation="voltage = supply × (1 - dip) - cable_drop",
    results="voltage",
    source=Source("the drops add on the low side", "computed"),
)
def voltage_at_start(supply: Voltage, dip: Ratio, cable_drop: Voltage) -> Voltage:
    """Line voltage left at the motor terminals at the instant of starting.

    V = V_supply (1 - dip) - V_cable

    Parameters
    ----------
    supply : float
        Line voltage before the start, [V]
    dip : float
        Dip of the source, [-]
    cable_drop : float
        Drop along the branch at starting current, [V]

    Returns
    -------
    float
        Voltage, [V]

    Examples
    --------
    >>> round(voltage_at_start(480.0, 0.027578, 12.432), 2)
    454.33
    """
    above_zero("supply", supply, "voltage", "V")
    within("dip", dip, "ratio", "%", 0, 100)
    zero_or_above("cable_drop", cable_drop, "voltage", "V")
    left = supply * (1 - dip) - cable_drop
    if left <= 0:
        raise OutsideValidity(
            "cable drop at start", both(cable_drop, "voltage"), "less than the supply"
        )
    return left


@formula(
    "Voltage while starting against the rating",
    equation="share = lowest / rating",
    results="ratio",
    source=Source("torque follows the square of this share", "computed"),
)
def starting_share(lowest: Voltage, rating: Voltage) -> Ratio:
    """Lowest voltage during a start as a share of the rating of motor or coil.

    share = V_min / V_rated

    Parameters
    ----------
    lowest : float
        Lowest voltage during the start, [V]
    rating : float
        Nameplate voltage of the motor, or coil rating, [V]

    Returns
    -------
    float
        Share, [-]

    Examples
    --------
    >>> starting_share(414.0, 460.0)
    0.9
    """
    within("lowest", lowest, "voltage", "V", 1, 1000)
    within("rating", rating, "voltage", "V", 10, 1000)
    return lowest / rating
