"""Values in a sentence, in US and in metric units, for readers of either system."""

from __future__ import annotations

import math

from wizard.errors import InputError
from wizard.kinds import KINDS
from wizard.quantities import format_quantity


def both(value: float, kind: str) -> str:
    """An SI value in the US and the metric unit of its kind.

    >>> both(13.79e5, "gauge pressure")
    '200 psig (13.79 bar(g))'
    """
    us = format_quantity(value, kind, KINDS[kind].us)
    metric = format_quantity(value, kind, KINDS[kind].metric)
    return us if us == metric else f"{us} ({metric})"


def above_zero(what: str, value: float | None, kind: str) -> None:
    """Refuse an SI value that is not a finite number above zero; None passes.

    >>> above_zero("relief set", -1e5, "gauge pressure")
    Traceback (most recent call last):
    ...
    wizard.errors.InputError: relief set: given -14.5 psig (-1 bar(g)), accepted more than zero.
    """
    if value is not None and not (math.isfinite(value) and value > 0):
        raise InputError(what, both(value, kind), "more than zero")


def inside(what: str, value: float | None, kind: str, low: float, high: float) -> None:
    """Refuse an SI value outside `low` to `high`; None passes."""
    if value is not None and not low <= value <= high:
        raise InputError(what, both(value, kind), f"{both(low, kind)} to {both(high, kind)}")


USUAL_PRESSURE = 21e5
"""Tank pressures above this are outside the usual range of these machines, Pa gauge."""


def unusual_pressure(what: str, *pressures: float) -> str:
    """The question to put when a tank pressure is far from what such machines run at."""
    if any(p > USUAL_PRESSURE for p in pressures):
        usual = both(USUAL_PRESSURE, "gauge pressure")
        return (
            f"Is the {what} right? These machines stay below {usual}; "
            "kPa typed as psi, or psi as bar, looks like this."
        )
    return ""
