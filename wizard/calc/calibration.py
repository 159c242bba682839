"""Days until the calibration of an instrument runs out."""

from __future__ import annotations

from datetime import date

from wizard.formula import formula
from wizard.sources import Source


@formula(
    "Days of calibration left",
    equation="days left = due - visit",
    results="number",
    source=Source("calendar", "computed"),
)
def calibration_days_left(due: date, visit: date) -> float:
    """Days from the visit to the date on the calibration label.

    Parameters
    ----------
    due : date
        Date on the label
    visit : date
        First day of the work

    Returns
    -------
    float
        Days left; negative after the date, [-]

    Examples
    --------
    >>> calibration_days_left(date(2028, 3, 1), date(2028, 2, 28))
    2.0
    """
    return float((due - visit).days)
