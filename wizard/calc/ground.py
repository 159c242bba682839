"""Grounding conductor and bond: size, resistance expected, limit.

Invariant: the bond limit is never below 0.10 ohm, the everyday ceiling.
"""

from __future__ import annotations

from wizard.calc.accepted import above_zero, within, zero_or_above
from wizard.calc.conductor import awg_of, square_millimetres
from wizard.formula import formula
from wizard.kinds import Area, Current, Length, Number, Resistance
from wizard.quantities import at_most, from_si, to_si
from wizard.sources import OUR_JUDGEMENT, Source
from wizard.tables import table

COPPER_DRIFT = 0.00323
"""Change of resistance per kelvin around 75 °C, NEC Chapter 9 Table 8 note."""
DEVICE_RATING = (15, 300)


@formula(
    "Copper equipment grounding conductor",
    equation="size = AWG of the first table row at or above rating",
    results="number",
    source=Source("NEC Table 250.122", "confirmed"),
)
def ground_size(rating: Current) -> Number:
    """Smallest copper equipment grounding conductor, AWG, behind an overcurrent device.

    Parameters
    ----------
    rating : float
        Rating of the overcurrent device, 15 to 300; a smaller device takes the 15 A row, [A]

    Returns
    -------
    float
        AWG number, [-]

    Examples
    --------
    20 A takes 12 AWG and 200 A takes 6 AWG (NEC Table 250.122):

    >>> ground_size(20.0), ground_size(200.0), ground_size(70.0)
    (12.0, 6.0, 8.0)
    """
    above_zero("rating", rating, "current", "A")
    within("rating", rating, "current", "A", 0, DEVICE_RATING[1])
    return float(table("ground_conductor").at_or_above("rating", rating)["awg"])


@formula(
    "Grounding conductor where the phase conductors are upsized",
    equation="area = ground × phase / minimum_phase, not above phase (circular mils)",
    results="number",
    source=Source("NEC 250.122(A) and (B)", "memory"),
)
def ground_area(ground: Number, phase: Number, minimum_phase: Number) -> Number:
    """Area of the grounding conductor in proportion to upsized phase conductors.

    area = min(ground phase / minimum_phase, phase)

    Parameters
    ----------
    ground : float
        Area of the table size, circular mils, [-]
    phase : float
        Area of the phase conductor installed, circular mils, [-]
    minimum_phase : float
        Area of the smallest phase conductor that would carry the motor, circular mils, [-]

    Returns
    -------
    float
        Required area, circular mils, [-]

    Examples
    --------
    A 45 A device, 10 AWG by table, phases raised from 8 to 6 AWG:

    >>> round(ground_area(10380.0, 26240.0, 16510.0))
    16497
    """
    for what, value in (("ground", ground), ("phase", phase), ("minimum_phase", minimum_phase)):
        above_zero(what, value, "number", "")
    return min(ground * max(1.0, phase / minimum_phase), phase)


@formula(
    "Protective conductor by the size of the line conductor",
    equation="least = phase to 16 mm², 16 mm² to 35 mm², half of phase above",
    results="area",
    source=Source("IEC 60364-5-54 Table 54.2", "confirmed"),
)
def protective_conductor(phase: Area) -> Area:
    """Smallest copper protective conductor of the same circuit, IEC practice.

    Parameters
    ----------
    phase : float
        Cross-section of the line conductor, [m2]

    Returns
    -------
    float
        Smallest cross-section, [m2]

    Examples
    --------
    >>> [round(1e6 * protective_conductor(a * 1e-6), 6) for a in (6, 16, 25, 35, 50)]
    [6.0, 16.0, 16.0, 16.0, 25.0]
    """
    above_zero("phase", phase, "area", "mm2")
    if at_most(phase, 16e-6):
        return phase
    return 16e-6 if at_most(phase, 35e-6) else phase / 2


@formula(
    "Resistance expected of a copper bonding conductor at 20 °C",
    equation="expected = resistance of size per length at 20 °C × length",
    results="resistance",
    source=(
        Source("NEC Chapter 9 Table 8 and its temperature note", "confirmed"),
        Source("IEC 60228 Table 2", "confirmed"),
    ),
)
def bond_expected(size: str, length: Length) -> Resistance:
    """Resistance at 20 °C of the grounding conductor alone.

    AWG: R = R75 (1 + 0.00323 (20 - 75)) L; metric: R = R20 L

    Parameters
    ----------
    size : str
        Copper size, 14 to 2 AWG or 1.5 to 35 mm²
    length : float
        Length of the conductor, [m]

    Returns
    -------
    float
        Resistance, [ohm]

    Examples
    --------
    100 ft of 10 AWG:

    >>> round(bond_expected("10 AWG", 30.48), 5)
    0.10197
    """
    zero_or_above("length", length, "length", "ft")
    awg = awg_of(size)
    if awg is None:
        row = table("conductor_metric").row("area", square_millimetres(size))
        return float(row["resistance"] / 1000 * length)
    at_75 = table("conductor_copper").row("awg", awg)["resistance"]
    per_foot = at_75 * (1 + COPPER_DRIFT * (20 - 75)) / 1000
    return float(per_foot * from_si(length, "length", "ft"))


@formula(
    "Highest accepted bond resistance",
    equation="limit = larger of 0.10 ohm and 1.15 × expected + 0.05 ohm",
    results="resistance",
    source=OUR_JUDGEMENT,
)
def bond_limit(expected: Resistance) -> Resistance:
    """Resistance that a bond may show, joints included.

    limit = max(0.10, 1.15 R + 0.05)

    Parameters
    ----------
    expected : float
        Resistance of the conductor alone, [ohm]

    Returns
    -------
    float
        Limit, [ohm]

    Examples
    --------
    >>> round(bond_limit(0.10197), 5), bond_limit(0.024)
    (0.16727, 0.1)
    """
    zero_or_above("expected", expected, "resistance", "ohm")
    return max(0.10, 1.15 * expected + 0.05)


def area_of(size: str) -> float:
    """Cross-section of a metric size, m2."""
    return to_si(square_millimetres(size), "area", "mm2")
