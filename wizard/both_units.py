"""Values in a sentence, in US and in metric units, for readers of either system.

A calculation does not know the units of the job. Invariant: what it refuses is said in the units
of both systems where these differ, in those in which such a thing is read.
"""

from __future__ import annotations

from wizard.kinds import KINDS
from wizard.quantities import format_quantity, format_range, from_si

_PAIRS = {
    ("length", "ft"): ("ft", "m"),
    ("length", "m"): ("ft", "m"),
    ("area", "ft2"): ("ft2", "m2"),
    ("torque", "lbf·in"): ("lbf·in", "N·m"),
    ("stress", "psf"): ("psf", "kPa"),
    ("pressure difference", "inH2O"): ("inH2O", "mbar"),
    ("absolute pressure", "hPa"): ("inHg", "hPa"),
}
"""Units of the two systems that go together, where they are not the usual ones of the kind."""


def units_of(kind: str, unit: str = "") -> tuple[str, str]:
    """The US and the metric unit for a value that is thought of in `unit`.

    >>> units_of("length"), units_of("length", "m"), units_of("time", "h")
    (('in', 'mm'), ('ft', 'm'), ('h', 'h'))
    """
    usual = KINDS[kind].us, KINDS[kind].metric
    return _PAIRS.get((kind, unit), usual if not unit or unit in usual else (unit, unit))


def both(value: float, kind: str, unit: str = "") -> str:
    """An SI value in the US and the metric unit.

    >>> both(13.79e5, "gauge pressure"), both(2.0, "length", "m"), both(7200.0, "time", "h")
    ('200 psig (13.79 bar(g))', '6.562 ft (2 m)', '2 h')
    """
    return _said(*(format_quantity(value, kind, one) for one in units_of(kind, unit)))


def both_range(low: float, high: float, kind: str, unit: str = "") -> str:
    """SI `low` to `high` in US and in metric units; every end as shown lies inside.

    >>> both_range(273.15, 313.15, "temperature")
    '32 °F to 104 °F (0 °C to 40 °C)'
    """
    return _said(*(format_range(low, high, kind, one) for one in units_of(kind, unit)))


def zero(kind: str) -> str:
    """What zero in SI is called.

    >>> zero("flow"), zero("temperature")
    ('zero', 'absolute zero')
    """
    starts = all(from_si(0.0, kind, unit) == 0.0 for unit in units_of(kind))
    return "zero" if starts else "absolute zero"


def _said(us: str, metric: str) -> str:
    return us if us == metric else f"{us} ({metric})"
