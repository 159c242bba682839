"""Sizing of a motor branch circuit: table current, short-circuit device, disconnect.

Invariant: wiring is sized on the table current, never on the current measured.
"""

from __future__ import annotations

from math import isclose
from typing import Any, NamedTuple

from wizard.both_units import both
from wizard.calc.accepted import above_zero, one_of, within
from wizard.errors import OutsideValidity
from wizard.formula import formula
from wizard.kinds import Current, Power, Voltage
from wizard.quantities import at_least, at_most, from_si
from wizard.sources import Source
from wizard.tables import table

PHASES = ("single", "three")
DEVICES = (
    "inverse-time breaker",
    "dual-element time-delay fuse",
    "non-time-delay fuse",
    "instantaneous-trip breaker",
    "instantaneous-trip breaker, design B energy-efficient motor",
)
COLUMNS = ((110, 120, 115), (200, 200, 200), (208, 208, 208), (220, 240, 230), (440, 480, 460),
           (550, 600, 575))  # fmt: skip
"""Supply from, to, and the table column that is read for it, V."""
DEVICE_CURRENT = (1, 120)


class DeviceRating(NamedTuple):
    """Largest device: as calculated and as a standard rating, before and after a failed start."""

    basic: float
    basic_rating: float
    absolute: float
    absolute_rating: float


def table_column(voltage: float) -> int | None:
    """The voltage column of the code tables for a supply or nameplate, None where none fits."""
    return next(
        (c for low, high, c in COLUMNS if at_least(voltage, low) and at_most(voltage, high)), None
    )


def power_row(name: str, power: float) -> tuple[dict[str, Any], bool]:
    """The row of a table by horsepower for a rated power, and whether it is that row's own.

    A kilowatt rating listed beside a row counts as that row; a power between two rows takes
    the larger.
    """
    above_zero("power", power, "power", "kW")
    found = table(name)
    horsepower, kilowatts = from_si(power, "power", "hp"), from_si(power, "power", "kW")
    for row in found.rows:
        if isclose(horsepower, row["hp"], rel_tol=0.005) or any(
            isclose(kilowatts, kw, rel_tol=0.005) for kw in row.get("kw", ())
        ):
            return row, True
    within(found.title, power, "power", "hp", found.rows[0]["hp"], found.rows[-1]["hp"])
    return found.at_or_above("hp", horsepower), False


@formula(
    "Full-load current from the code table",
    equation="current = table value for power, phases and voltage",
    results="current",
    source=Source("NEC 430.6(A), Tables 430.248 and 430.250", "confirmed"),
)
def full_load_current(power: Power, phases: str, voltage: Voltage) -> Current:
    """Current that the code gives a motor for sizing wire, devices, disconnect and ground.

    Parameters
    ----------
    power : float
        Rated power, 1.5 to 10 hp single-phase, to 30 hp three-phase, [W]
    phases : str
        single or three
    voltage : float
        Nameplate or nominal supply voltage, [V]

    Returns
    -------
    float
        Table current, [A]

    Notes
    -----
    Supplies of 110 to 120, 220 to 240, 440 to 480 and 550 to 600 V read the 115, 230, 460 and
    575 V columns; 200 and 208 V are read directly. There is no column for 380 to 415 V: the
    nameplate current is used there. A power between two rows takes the larger row.

    Examples
    --------
    5 hp at 230 V, three-phase, and 7.5 hp on a 480 V system (NEC Table 430.250):

    >>> hp = 745.69987158227
    >>> full_load_current(5 * hp, "three", 230.0), full_load_current(7.5 * hp, "three", 480.0)
    (15.2, 11.0)
    """
    one_of("phases", phases, PHASES)
    column = table_column(voltage)
    if column is None:
        raise OutsideValidity(
            "voltage of the table",
            both(voltage, "voltage"),
            "110 to 120, 200, 208, 220 to 240, 440 to 480 or 550 to 600 V; "
            "elsewhere the nameplate current is used",
        )
    row, _ = power_row(f"full_load_current_{phases}", power)
    current = row.get(f"v{column}")
    if current is None:
        raise OutsideValidity(
            "table current",
            f"{both(power, 'power')}, {phases} phase, {column} V",
            "a combination that the table has a value for",
        )
    return float(current)


def standard_ratings(fuse: bool) -> tuple[float, ...]:
    """Standard ratings of fuses, or of breakers, A."""
    rows = table("standard_rating").rows
    return tuple(float(r["rating"]) for r in rows if fuse or not r["fuse_only"])


@formula(
    "Largest short-circuit and ground-fault device",
    equation="basic = percentage of current by device, next standard rating up; "
    "absolute = higher percentage, standard rating down",
    results={
        "basic": "current",
        "basic_rating": "current",
        "absolute": "current",
        "absolute_rating": "current",
    },
    source=(
        Source("NEC Table 430.52 and 430.52(C)(1) Exception 1, 240.6(A)", "confirmed"),
        Source("NEC 430.52(C)(1) Exception 2 limits after a failed start", "memory"),
    ),
)
def short_circuit_device(current: Current, device: str) -> DeviceRating:
    """Largest fuse or breaker for a motor circuit, and the ceiling after a failed start.

    Parameters
    ----------
    current : float
        Table current of the motor, 1 to 120, [A]
    device : str
        Kind of fuse or breaker

    Returns
    -------
    DeviceRating
        Calculated and standard rating, basic and after a failed start, [A]

    Notes
    -----
    Instantaneous-trip breakers are settings, not ratings, and are not rounded; they are only
    for listed combinations. Where the basic standard rating is already above the absolute value,
    as with very small motors, the basic rating stands and nothing more is allowed.

    Examples
    --------
    25 hp at 460 V, 34 A: 85 A and a 90 A breaker (published worked example of article 430):

    >>> short_circuit_device(34.0, "inverse-time breaker")
    DeviceRating(basic=85.0, basic_rating=90.0, absolute=136.0, absolute_rating=125.0)
    """
    one_of("device", device, DEVICES)
    within("current", current, "current", "A", *DEVICE_CURRENT)
    row = table("short_circuit_percentage").row("device", device)
    basic = current * row["basic"] / 100
    absolute = current * row["absolute" if at_most(current, 100) else "absolute_above"] / 100
    if device.startswith("instantaneous"):
        return DeviceRating(basic, basic, absolute, absolute)
    ratings = standard_ratings(device.endswith("fuse"))
    up = next((r for r in ratings if at_least(r, basic)), None)
    if up is None:
        raise OutsideValidity(
            "device", both(basic, "current"), f"up to {both(ratings[-1], 'current')}"
        )
    down = max((r for r in ratings if at_most(r, absolute)), default=0.0)
    return DeviceRating(basic, up, absolute, max(up, down))


@formula(
    "Smallest ampere rating of the disconnect",
    equation="least = 1.15 × current",
    results="current",
    source=Source("NEC 430.110(A)", "confirmed"),
)
def disconnect_minimum(current: Current) -> Current:
    """Ampere rating that the disconnect of one motor must have.

    least = 1.15 I

    Parameters
    ----------
    current : float
        Table current of the motor, [A]

    Returns
    -------
    float
        Smallest rating, [A]

    Examples
    --------
    >>> round(disconnect_minimum(28.0), 6)
    32.2
    """
    above_zero("current", current, "current", "A")
    return 1.15 * current
