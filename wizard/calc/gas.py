"""Constants of air and the guards that every air formula shares.

Invariant: a value that cannot be is refused by the name of its parameter.
"""

from __future__ import annotations

import math

from wizard.errors import InputError
from wizard.sources import Source

STANDARD_PRESSURE = 101325.0
STANDARD_TEMPERATURE = 288.15
ZERO_CELSIUS = 273.15
GAS_CONSTANT = 287.05287
"""Of dry air, J/(kg K), the value of ISO 2533."""
VAPOUR_GAS_CONSTANT = 461.523
HEAT_RATIO = 1.4

GAS_LAW = Source("ideal-gas law", "computed")
MASS_BALANCE = Source("mass balance on an ideal gas", "computed")


def positive(what: str, value: float) -> None:
    """Refuse a value that is not a finite number above zero."""
    if not (math.isfinite(value) and value > 0):
        raise InputError(what, f"{value:g}", "a number above zero")


def fraction(what: str, value: float) -> None:
    """Refuse a share outside 0 to 100 %."""
    if not 0 <= value <= 1:
        raise InputError(what, f"{100 * value:g} %", "0 % to 100 %")


def zero_or_more(what: str, value: float) -> None:
    """Refuse a value that is not a finite number of zero or more."""
    if not (math.isfinite(value) and value >= 0):
        raise InputError(what, f"{value:g}", "zero or more")
