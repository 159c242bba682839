"""Loads: what hangs on the hook, what share of a capacity it uses, papers against scale."""

from __future__ import annotations

from wizard.calc.accepted import above_zero, within, zero_or_above
from wizard.formula import formula
from wizard.kinds import Mass
from wizard.sources import Source

LOADS = (50, 20000)
"""Lightest and heaviest load these formulas are for, lb."""


@formula(
    "Weight on the hook",
    equation="gross = load + rigging",
    results="mass",
    source=Source("sum of the weights", "computed"),
)
def hook_load(load: Mass, rigging: Mass = 0.0) -> float:
    """What hook and hoist carry: the machine with skid, and all that is below the hook.

    Parameters
    ----------
    load : float
        Weight of the machine with skid and crate, 23 to 9000, [kg]
    rigging : float, optional
        Weight of slings, shackles and spreader, [kg]

    Returns
    -------
    float
        Weight on the hook, [kg]

    Examples
    --------
    >>> hook_load(650.0, 12.0)
    662.0
    """
    zero_or_above("rigging", rigging, "mass", "lb")
    within("load", load, "mass", "lb", *LOADS)
    within("load with rigging", load + rigging, "mass", "lb", *LOADS)
    return load + rigging


@formula(
    "Share of the capacity that is used",
    equation="utilisation = load / capacity",
    results="ratio",
    source=Source("definition", "computed"),
)
def sling_utilisation(load: Mass, capacity: Mass) -> float:
    """Load over capacity; 1 is all of it.

    Parameters
    ----------
    load : float
        Load carried, [kg]
    capacity : float
        Load allowed, [kg]

    Returns
    -------
    float
        Utilisation, [-]

    Examples
    --------
    885.06 lb on a sling good for 1100 lb:

    >>> round(sling_utilisation(885.06, 1100.0), 4)
    0.8046
    """
    zero_or_above("load", load, "mass", "lb")
    above_zero("capacity", capacity, "mass", "lb")
    return load / capacity


@formula(
    "Difference between weighed and stated weight",
    equation="difference = weighed / stated - 1",
    results="ratio",
    source=Source("definition", "computed"),
)
def weight_difference(weighed: Mass, stated: Mass) -> float:
    """How far a weighed load is from its papers.

    Parameters
    ----------
    weighed : float
        Weight by the scale or the crate label, [kg]
    stated : float
        Weight in the papers, [kg]

    Returns
    -------
    float
        Difference over the stated weight, [-]

    Examples
    --------
    >>> round(weight_difference(690.0, 600.0), 3)
    0.15
    """
    above_zero("weighed", weighed, "mass", "lb")
    above_zero("stated", stated, "mass", "lb")
    return weighed / stated - 1
