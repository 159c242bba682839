"""Taper pipe threads: how far a fitting goes in with counted turns."""

from __future__ import annotations

from wizard.calc.accepted import zero_or_above
from wizard.calc.us_units import INCH
from wizard.formula import formula
from wizard.kinds import Number
from wizard.sources import Source
from wizard.tables import table


@formula(
    "How far a taper thread goes in with the wrench",
    equation="make-up = turns / threads per inch of size",
    results="length",
    source=Source("ASME B1.20.1 pitch", "confirmed"),
)
def thread_make_up(size: str, turns: Number) -> float:
    """Axial travel of a taper pipe thread over a number of turns.

    make-up = turns / TPI

    Parameters
    ----------
    size : str
        Nominal size, 1/8 to 2, in inches
    turns : float
        Turns past hand-tight, [-]

    Returns
    -------
    float
        Travel along the axis, [m]

    Examples
    --------
    Three turns of 1/2 in: 0.21429 in

    >>> round(thread_make_up("1/2", 3.0) / 0.0254, 5)
    0.21429
    """
    zero_or_above("turns", turns, "number")
    row = table("npt_threads").row("size", size)
    return float(turns / row["threads_per_inch"] * INCH)
