"""The guards that site formulas and checks share.

Invariant: an input that cannot be used is refused by name, with what was given and what is
accepted, in the unit a technician thinks in; nothing is clamped.
"""

from __future__ import annotations

import math

from wizard.errors import InputError, OutsideValidity
from wizard.quantities import at_least, at_most, format_quantity, to_si


def within(what: str, value: float, kind: str, unit: str, low: float, high: float) -> None:
    """Refuse an SI value outside `low` to `high`, both given in `unit`.

    >>> within("angle", 2.0, "angle", "°", 0, 90)
    Traceback (most recent call last):
    ...
    wizard.errors.OutsideValidity: angle: given 114.6 °, accepted 0 ° to 90 °.
    """
    if at_least(value, to_si(low, kind, unit)) and at_most(value, to_si(high, kind, unit)):
        return
    raise OutsideValidity(
        what,
        format_quantity(value, kind, unit),
        " to ".join(f"{end:g} {unit}".rstrip() for end in (low, high)),
    )


def above_zero(what: str, value: float, kind: str = "number", unit: str = "") -> None:
    """Refuse an SI value that is not a finite number above zero."""
    if not (math.isfinite(value) and value > 0):
        raise InputError(what, format_quantity(value, kind, unit), f"more than 0 {unit}".rstrip())


def zero_or_above(what: str, value: float, kind: str = "number", unit: str = "") -> None:
    """Refuse an SI value that is not a finite number of zero or more."""
    if not (math.isfinite(value) and value >= 0):
        least = f"0 {unit}".rstrip()
        raise InputError(what, format_quantity(value, kind, unit), f"{least} or more")


def fraction(what: str, value: float) -> None:
    """Refuse a share outside 0 to 100 %."""
    if not 0 <= value <= 1:
        raise InputError(what, format_quantity(value, "ratio", "%"), "0 % to 100 %")


def one_of(what: str, value: str, accepted: tuple[str, ...]) -> None:
    """Refuse a word that is not in the list."""
    if value not in accepted:
        raise InputError(what, f"“{value}”", "; ".join(accepted))
