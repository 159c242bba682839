"""Copper conductors: sizes by name, and the current they may carry.

Invariant: a size is text as printed on the jacket, "10 AWG" or "6 mm²"; copper only.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from wizard.both_units import both
from wizard.calc.accepted import above_zero, one_of, within
from wizard.calc.gas import ZERO_CELSIUS
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import Current, Number, Ratio, Temperature
from wizard.quantities import at_least, to_si
from wizard.sources import Source
from wizard.tables import table

INSULATION = ("60 °C", "75 °C", "90 °C")
TERMINALS = ("60 °C", "75 °C", "not marked")
MOST_CONDUCTORS = 41
"""41 stands for 41 and more."""

_AWG = re.compile(r"(?:AWG )?(\d{1,2})(?: AWG)?", re.IGNORECASE)
_MM2 = re.compile(r"(\d{1,3}(?:[.,]\d)?) ?(?:mm2|mm²|sqmm)", re.IGNORECASE)
AMPACITY = Source(
    "NEC Table 310.16 and 310.15(B)(1)(1) (2023), 310.15(B)(3)(a) (2014), 110.14(C)(1)(a)",
    "confirmed",
)


class Ampacity(NamedTuple):
    """Table value, factors, the current they leave, and what the terminals leave of it, A."""

    table: float
    heat: float
    company: float
    corrected: float
    usable: float


def awg_of(size: str) -> int | None:
    """The AWG number of a size, None where the size is metric.

    >>> awg_of("10 AWG"), awg_of("6 mm²")
    (10, None)
    """
    metric = {float(r["area"]) for r in table("conductor_metric").rows}
    awg = {int(r["awg"]) for r in table("conductor_copper").rows}
    text = " ".join(size.split())
    if (found := _AWG.fullmatch(text)) and int(found[1]) in awg:
        return int(found[1])
    if (found := _MM2.fullmatch(text)) and float(found[1].replace(",", ".")) in metric:
        return None
    raise InputError(
        "conductor size",
        f"“{size}”",
        "copper 14, 12, 10, 8, 6, 4, 3 or 2 AWG, or 1.5 to 35 mm² as 6 mm²",
    )


def square_millimetres(size: str) -> float:
    """The cross-section of a metric size, mm²; InputError where the size is AWG.

    >>> square_millimetres("2.5 mm²")
    2.5
    """
    if awg_of(size) is not None:
        raise InputError("conductor size", size, "a metric size such as 6 mm²")
    found = _MM2.fullmatch(" ".join(size.split()))
    return float(found[1].replace(",", ".")) if found else 0.0


def circular_mils(size: str) -> float:
    """The area of an AWG size, circular mils; InputError where the size is metric.

    >>> circular_mils("8 AWG")
    16510.0
    """
    awg = awg_of(size)
    if awg is None:
        raise InputError("conductor size", size, "an AWG size such as 10 AWG")
    return float(table("conductor_copper").row("awg", awg)["circular_mils"])


@formula(
    "Ampacity that a motor circuit needs",
    equation="required = 1.25 × current",
    results="current",
    source=Source("NEC 430.22", "confirmed"),
)
def required_ampacity(current: Current) -> Current:
    """Ampacity that the conductors of one motor must have.

    required = 1.25 I

    Parameters
    ----------
    current : float
        Table current of the motor, [A]

    Returns
    -------
    float
        Required ampacity, [A]

    Examples
    --------
    28 A needs 35 A (published exam answer, 10 hp at 230 V):

    >>> required_ampacity(28.0)
    35.0
    """
    above_zero("current", current, "current", "A")
    return 1.25 * current


def ambient_factor(ambient: float, insulation: str, cool_credit: bool) -> float:
    """Correction for the ambient temperature; above 1 only where a cool room is credited."""
    within("ambient", ambient, "temperature", "°C", -20, 60)
    row = table("ampacity_ambient").at_or_above("up_to", ambient - ZERO_CELSIUS)
    factor = row.get("c" + insulation[:2])
    if factor is None:
        hottest = both(to_si(55, "temperature", "°C"), "temperature")
        accepted = f"up to {hottest} with {insulation} insulation"
        raise OutsideValidity("ambient", both(ambient, "temperature"), accepted)
    return float(factor if cool_credit else min(factor, 1.0))


@formula(
    "Current that an installed conductor may carry",
    equation="usable = smaller of (table value of size with insulation × factor for heat at "
    "ambient × factor for company of conductors) and table value of size at terminal",
    results={
        "table": "current",
        "heat": "number",
        "company": "number",
        "corrected": "current",
        "usable": "current",
    },
    source=AMPACITY,
    absolute=False,
)
def usable_ampacity(
    size: str,
    insulation: str,
    terminal: str,
    ambient: Temperature,
    conductors: int = 3,
    cool_credit: bool = False,
) -> Ampacity:
    """Ampacity corrected for heat and bundling, capped by the terminals.

    corrected = table(insulation) f_ambient f_bundling;
    usable = min(corrected, table(terminal))

    Parameters
    ----------
    size : str
        Copper size, 14 to 2 AWG
    insulation : str
        Insulation temperature, 60 °C, 75 °C or 90 °C
    terminal : str
        Lowest terminal marking of the run, 60 °C, 75 °C or not marked (taken as 60 °C)
    ambient : float
        Hottest ambient along the run, -20 °C to 60 °C, [K]
    conductors : int, optional
        Current-carrying conductors together, 1 to 41
    cool_credit : bool, optional
        Whether an ambient below 26 °C may raise the ampacity, [-]

    Returns
    -------
    Ampacity
        Table value, [A], factors, [-], corrected and usable ampacity, [A]

    Examples
    --------
    12 AWG at 75 °C in a 40 °C room carries 22 A (2023 NEC guide example):

    >>> round(usable_ampacity("12 AWG", "75 °C", "75 °C", 313.15).corrected, 6)
    22.0
    """
    one_of("insulation", insulation, INSULATION)
    one_of("terminal", terminal, TERMINALS)
    within("conductors", float(conductors), "number", "", 1, MOST_CONDUCTORS)
    awg = awg_of(size)
    if awg is None:
        raise OutsideValidity("conductor size", size, "AWG; IEC 60364-5-52 tables for metric sizes")
    row = table("conductor_ampacity").row("awg", awg)
    by_insulation = float(row["c" + insulation[:2]])
    heat = ambient_factor(ambient, insulation, cool_credit)
    company = float(table("ampacity_bundling").at_or_above("up_to", conductors)["factor"])
    corrected = by_insulation * heat * company
    at_terminal = float(row["c75" if terminal == "75 °C" else "c60"])
    return Ampacity(by_insulation, heat, company, corrected, min(corrected, at_terminal))


@formula(
    "Smallest conductor for a motor circuit",
    equation="minimum = first size in AWG whose usable ampacity reaches 1.25 × current",
    results="number",
    source=(Source("NEC 430.22", "confirmed"), AMPACITY),
    absolute=False,
)
def minimum_conductor(
    current: Current,
    insulation: str,
    terminal: str,
    ambient: Temperature,
    conductors: int = 3,
    cool_credit: bool = False,
) -> Number:
    """Smallest copper size, AWG, that may carry a motor.

    Parameters
    ----------
    current : float
        Table current of the motor, [A]
    insulation : str
        Insulation temperature, 60 °C, 75 °C or 90 °C
    terminal : str
        Lowest terminal marking of the run, 60 °C, 75 °C or not marked (taken as 60 °C)
    ambient : float
        Hottest ambient along the run, [K]
    conductors : int, optional
        Current-carrying conductors together
    cool_credit : bool, optional
        Whether a cool ambient may raise the ampacity, [-]

    Returns
    -------
    float
        AWG number, [-]

    Examples
    --------
    28 A on 75 °C wire takes 10 AWG at 75 °C terminals, 8 AWG at 60 °C terminals:

    >>> minimum_conductor(28.0, "75 °C", "75 °C", 303.15)
    10.0
    >>> minimum_conductor(28.0, "75 °C", "not marked", 303.15)
    8.0
    """
    required = required_ampacity(current)
    for row in table("conductor_ampacity").rows:
        carries = usable_ampacity(
            f"{row['awg']} AWG", insulation, terminal, ambient, conductors, cool_credit
        )
        if at_least(carries.usable, required):
            return float(row["awg"])
    raise OutsideValidity(
        "required ampacity", both(required, "current"), "what 2 AWG copper carries"
    )


@formula(
    "Spare capacity of a conductor over the overload setting",
    equation="spare = capacity / setting",
    results="ratio",
    source=Source("IEC 60364-4-43 433.1", "memory"),
)
def capacity_ratio(capacity: Current, setting: Current) -> Ratio:
    """Current-carrying capacity over the current that the protection lets through.

    Parameters
    ----------
    capacity : float
        Current-carrying capacity as installed, [A]
    setting : float
        Motor current or overload setting, the larger, [A]

    Returns
    -------
    float
        1 or more where the conductor is protected, [-]

    Examples
    --------
    >>> capacity_ratio(31.0, 24.8)
    1.25
    """
    within("capacity", capacity, "current", "A", 0.1, 2000)
    within("setting", setting, "current", "A", 0.1, 2000)
    return capacity / setting
