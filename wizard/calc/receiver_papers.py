"""Receiver papers: pressure times volume, proof pressure, and when the inspection runs out.

Invariant: dates come in as dates; nothing here asks what day it is.
"""

from __future__ import annotations

from calendar import monthrange
from datetime import date

from wizard.calc.accepted import above_zero
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import GaugePressure, Time, Volume
from wizard.sources import Source

DAY = 86_400.0
PROOF_FACTORS = {
    "ASME VIII-1 from the 1999 addenda": 1.3,
    "ASME VIII-1 before the 1999 addenda": 1.5,
    "simple pressure vessel": 1.5,
}


@formula(
    "Pressure times volume of a receiver",
    equation="product = pressure × volume",
    results="energy",
    source=Source("definition, gauge pressure times volume", "computed"),
)
def pressure_volume(pressure: GaugePressure, volume: Volume) -> float:
    """Product that European and British rules sort receivers by.

    product = p V

    Parameters
    ----------
    pressure : float
        Highest pressure, gauge, [Pa]
    volume : float
        Volume, [m3]

    Returns
    -------
    float
        Product; 1 bar L is 100 J, [J]

    Examples
    --------
    10 bar and 270 L are 2700 bar L:

    >>> round(pressure_volume(10e5, 0.270) / 100, 6)
    2700.0
    """
    above_zero("pressure", pressure, "gauge pressure")
    above_zero("volume", volume, "volume")
    return pressure * volume


@formula(
    "Hydrostatic proof pressure of a receiver",
    equation="proof = factor of rule × mawp",
    results="gauge pressure",
    source=Source(
        "ASME BPVC VIII-1 UG-99 (1.3, before the 1999 addenda 1.5); 2014/29/EU (1.5)", "memory"
    ),
)
def hydrostatic_proof_pressure(
    mawp: GaugePressure, rule: str = "ASME VIII-1 from the 1999 addenda"
) -> float:
    """Water pressure at which the maker proved the receiver; to read papers by, not to repeat.

    proof = factor x MAWP

    Parameters
    ----------
    mawp : float
        Maximum allowable working pressure, gauge, [Pa]
    rule : str, optional
        ASME VIII-1 from or before the 1999 addenda, or simple pressure vessel

    Returns
    -------
    float
        Proof pressure, gauge, [Pa]

    Examples
    --------
    >>> round(hydrostatic_proof_pressure(200.0), 6)
    260.0
    """
    above_zero("mawp", mawp, "gauge pressure")
    if rule not in PROOF_FACTORS:
        raise OutsideValidity("rule", rule, "; ".join(PROOF_FACTORS))
    return PROOF_FACTORS[rule] * mawp


def due_date(last: date, months: int) -> date:
    """The same day `months` later, or the last day of a month that is too short.

    >>> due_date(date(2024, 1, 31), 1)
    datetime.date(2024, 2, 29)
    """
    month = last.month - 1 + months
    year, month = last.year + month // 12, month % 12 + 1
    return date(year, month, min(last.day, monthrange(year, month)[1]))


@formula(
    "Time left to the next inspection",
    equation="left = last_inspection + (months) months − judged_on",
    results="time",
    source=Source("calendar", "computed"),
)
def inspection_time_left(last_inspection: date, months: int, judged_on: date) -> Time:
    """Time from the day of judgement to the day the inspection runs out.

    left = last + months - today, negative when it has run out

    Parameters
    ----------
    last_inspection : date
        Day of the last inspection
    months : int
        Interval, [month]
    judged_on : date
        Day of judgement

    Returns
    -------
    float
        Time left, [s]

    Examples
    --------
    Inspected 2021-03-01, every 60 months, judged 2026-02-27: two days

    >>> inspection_time_left(date(2021, 3, 1), 60, date(2026, 2, 27)) / 86400
    2.0
    """
    if not 1 <= months <= 240:
        raise InputError("months", str(months), "1 to 240")
    if last_inspection > judged_on:
        raise InputError("last inspection", str(last_inspection), f"no later than {judged_on}")
    return (due_date(last_inspection, months) - judged_on).days * DAY
