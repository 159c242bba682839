"""The guards that formulas and checks share.

Invariant: an input that cannot be used is refused by name, with what was given and what is
accepted, in the units of both systems; nothing is clamped. An input that is not given passes.
"""

from __future__ import annotations

import math

from wizard.both_units import both, both_range, zero
from wizard.errors import InputError, OutsideValidity
from wizard.quantities import is_within, to_si


def within(what: str, value: float | None, kind: str, unit: str, low: float, high: float) -> None:
    """Refuse an SI value that a formula does not reach: outside `low` to `high` in `unit`.

    >>> within("ambient", 333.15, "temperature", "°C", 0, 40)
    Traceback (most recent call last):
    ...
    wizard.errors.OutsideValidity: ambient: given 140 °F (60 °C), accepted 32 °F to 104 °F \
(0 °C to 40 °C).
    """
    if said := _outside(value, kind, unit, low, high):
        raise OutsideValidity(what, *said)


def inside(what: str, value: float | None, kind: str, unit: str, low: float, high: float) -> None:
    """Refuse an SI value that no such thing has: outside `low` to `high` in `unit`."""
    if said := _outside(value, kind, unit, low, high):
        raise InputError(what, *said)


def _outside(
    value: float | None, kind: str, unit: str, low: float, high: float
) -> tuple[str, str] | None:
    """What was given and what is accepted, where the value is outside."""
    ends = to_si(low, kind, unit), to_si(high, kind, unit)
    if value is None or is_within(value, *ends):
        return None
    return both(value, kind, unit), both_range(*ends, kind, unit)


def above_zero(what: str, value: float | None, kind: str, unit: str = "") -> None:
    """Refuse an SI value that is not a finite number above zero.

    >>> above_zero("relief set", -1e5, "gauge pressure")
    Traceback (most recent call last):
    ...
    wizard.errors.InputError: relief set: given -14.5 psig (-1 bar(g)), accepted more than zero.
    """
    if value is not None and not (math.isfinite(value) and value > 0):
        raise InputError(what, both(value, kind, unit), f"more than {zero(kind)}")


def each_above_zero(kind: str, **values: float | None) -> None:
    """Refuse the first of several SI values of one kind that is not a number above zero."""
    for what, value in values.items():
        above_zero(what, value, kind)


def zero_or_above(what: str, value: float | None, kind: str, unit: str = "") -> None:
    """Refuse an SI value that is not a finite number of zero or more."""
    if value is not None and not (math.isfinite(value) and value >= 0):
        raise InputError(what, both(value, kind, unit), f"{zero(kind)} or more")


def fraction(what: str, value: float) -> None:
    """Refuse a share outside 0 to 100 %."""
    if not 0 <= value <= 1:
        raise InputError(what, both(value, "ratio"), "0 % to 100 %")


def one_of(what: str, value: str, accepted: tuple[str, ...]) -> None:
    """Refuse a word that is not in the list."""
    if value not in accepted:
        raise InputError(what, f"“{value}”", "; ".join(accepted))
