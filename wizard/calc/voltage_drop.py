"""Voltage lost along a run of copper conductors.

Invariant: the length is one way; the return conductor is in the factor of the formula.
"""

from __future__ import annotations

import math

from wizard.calc.accepted import above_zero, one_of, within, zero_or_above
from wizard.calc.conductor import awg_of, circular_mils, square_millimetres
from wizard.calc.motor_circuit import PHASES
from wizard.formula import formula
from wizard.kinds import Current, Length, Number, Ratio, ResistancePerLength, Voltage
from wizard.quantities import from_si, to_si
from wizard.sources import Source
from wizard.tables import table

CONDUITS = {"steel": "steel", "PVC or aluminium": "pvc"}
"""Conduit, and the columns of the impedance table it reads."""
METHODS = ("R cos + X sin", "printed")
LENGTH = (1, 2000)
RUNNING_POWER_FACTOR = 0.85
METRIC_REACTANCE = 0.08
"""Ohm per km where no cable data are given, IEC 60364-5-52 Annex G, from memory."""
WARMING = 1 + 0.00393 * 50
"""Copper from 20 °C to 70 °C."""


@formula(
    "Effective impedance of a conductor",
    equation="impedance = R of size in conduit × power_factor + X × sin(arccos(power_factor))",
    results="resistance per length",
    source=(
        Source("NEC Chapter 9 Table 9", "confirmed"),
        Source("IEC 60228 Table 2 at 70 °C, reactance IEC 60364-5-52 Annex G", "memory"),
    ),
)
def effective_impedance(
    size: str,
    power_factor: Ratio = RUNNING_POWER_FACTOR,
    conduit: str = "steel",
    method: str = "R cos + X sin",
) -> ResistancePerLength:
    """Impedance of one conductor that counts for the drop in voltage.

    Z = R cos(phi) + X sin(phi); AWG from the 75 °C table, metric at 70 °C

    Parameters
    ----------
    size : str
        Copper size, 14 to 2 AWG or 1.5 to 35 mm²
    power_factor : float, optional
        Of the current carried, 0.3 to 1.0, [-]
    conduit : str, optional
        steel, or PVC or aluminium; not used for metric sizes
    method : str, optional
        R cos + X sin, or printed for the table column at power factor 0.85 (AWG only)

    Returns
    -------
    float
        Impedance per length of one conductor, [ohm/m]

    Examples
    --------
    8 AWG in steel at 0.85 is 0.69724 ohm per 1000 ft:

    >>> round(effective_impedance("8 AWG") * 304.8, 5)
    0.69724
    """
    within("power_factor", power_factor, "ratio", "", 0.3, 1.0)
    one_of("conduit", conduit, tuple(CONDUITS))
    one_of("method", method, METHODS)
    sine = math.sqrt(1 - min(power_factor, 1.0) ** 2)
    awg = awg_of(size)
    if awg is None:
        row = table("conductor_metric").row("area", square_millimetres(size))
        per_km = row["resistance"] * WARMING * power_factor + METRIC_REACTANCE * sine
        return to_si(per_km, "resistance per length", "ohm/km")
    row, place = table("conductor_impedance").row("awg", awg), CONDUITS[conduit]
    if method == "printed":
        return to_si(row[f"z_{place}"], "resistance per length", "ohm/kft")
    per_kft = row[f"r_{place}"] * power_factor + row[f"x_{place}"] * sine
    return to_si(per_kft, "resistance per length", "ohm/kft")


@formula(
    "Voltage drop along a run",
    equation="drop = √3 × current × impedance × length, with 2 for √3 on one phase",
    results="voltage",
    source=Source("NEC Chapter 9 Table 9 note 2; published voltage-drop examples", "confirmed"),
)
def line_drop(
    current: Current, impedance: ResistancePerLength, length: Length, phases: str = "three"
) -> Voltage:
    """Line-to-line voltage lost between the two ends of a run.

    three-phase: sqrt(3) I Z L; single-phase: 2 I Z L

    Parameters
    ----------
    current : float
        Line current, [A]
    impedance : float
        Effective impedance of one conductor, [ohm/m]
    length : float
        One-way length, 1 to 2000 ft, [m]
    phases : str, optional
        single or three

    Returns
    -------
    float
        Drop, [V]

    Examples
    --------
    20 A over 200 ft of 10 AWG (1.1 ohm per 1000 ft), published as 7.62 V:

    >>> round(line_drop(20.0, 1.1 / 304.8, 60.96), 4)
    7.621
    """
    above_zero("current", current, "current", "A")
    above_zero("impedance", impedance, "resistance per length", "ohm/kft")
    within("length", length, "length", "ft", *LENGTH)
    one_of("phases", phases, PHASES)
    return (math.sqrt(3) if phases == "three" else 2.0) * current * impedance * length


@formula(
    "Voltage drop by the copper constant",
    equation="drop = √3 × constant × current × length in ft / circular mils of size, "
    "with 2 for √3 on one phase",
    results="voltage",
    source=Source("copper constant 12.9 ohm·cmil/ft, common practice", "memory"),
)
def copper_constant_drop(
    current: Current,
    length: Length,
    size: str,
    phases: str = "three",
    constant: Number = 12.9,
) -> Voltage:
    """Voltage drop from circular mils, without reactance; a quick check of the other way.

    three-phase: sqrt(3) K I L / cmil; single-phase: 2 K I L / cmil

    Parameters
    ----------
    current : float
        Line current, [A]
    length : float
        One-way length, 1 to 2000 ft, [m]
    size : str
        Copper size, 14 to 2 AWG
    phases : str, optional
        single or three
    constant : float, optional
        Resistance of one foot of one circular mil of copper, [ohm·cmil/ft]

    Returns
    -------
    float
        Drop, [V]

    Examples
    --------
    22 A over 75 ft of 10 AWG, single-phase:

    >>> round(copper_constant_drop(22.0, 22.86, "10 AWG", "single"), 4)
    4.1012
    """
    above_zero("current", current, "current", "A")
    within("length", length, "length", "ft", *LENGTH)
    one_of("phases", phases, PHASES)
    within("constant", constant, "number", "", 10, 14)
    root = math.sqrt(3) if phases == "three" else 2.0
    return root * constant * current * from_si(length, "length", "ft") / circular_mils(size)


@formula(
    "Voltage drop as a share of the supply, feeder included",
    equation="share = drop / supply + feeder",
    results="ratio",
    source=Source("NEC 210.19 and 215.2 informational notes", "confirmed"),
)
def drop_share(drop: Voltage, supply: Voltage, feeder: Ratio = 0.0) -> Ratio:
    """Drop relative to the supply voltage, with the drop of the feeder added.

    share = VD / V + feeder

    Parameters
    ----------
    drop : float
        Drop along the branch, [V]
    supply : float
        Nominal or measured supply voltage, [V]
    feeder : float, optional
        Drop of the feeder before the branch, [-]

    Returns
    -------
    float
        Share, [-]

    Examples
    --------
    7.62 V of 480 V:

    >>> round(drop_share(7.621, 480.0), 6)
    0.015877
    """
    zero_or_above("drop", drop, "voltage", "V")
    within("supply", supply, "voltage", "V", 100, 1000)
    within("feeder", feeder, "ratio", "%", 0, 20)
    return drop / supply + feeder
