"""Values that such a machine could have and hardly has: the question to put before judging."""

from __future__ import annotations

from wizard.both_units import both

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
