"""Tightening torque of electrical terminals.

Invariant: the label on the equipment comes first; the table is for terminals without one.
"""

from __future__ import annotations

from wizard.calc.accepted import above_zero, within
from wizard.calc.conductor import awg_of
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import Ratio, Torque
from wizard.quantities import to_si
from wizard.sources import Source
from wizard.tables import table

BY_SIZE = {
    "slotted, slot to 0.047 in wide and 1/4 in long": "small_slot",
    "slotted, larger slot": "large_slot",
    "hex head, split-bolt": "split_bolt",
    "hex head, other": "hex",
}
"""Screw drives whose torque follows the conductor, and their table columns."""


@formula(
    "Tightening torque of a terminal without a label",
    equation="target = table value for screw and conductor size",
    results="torque",
    source=Source("NEC Informative Annex I, after UL 486A-486B", "confirmed"),
)
def terminal_target(screw: str, size: str) -> Torque:
    """Torque for a power terminal that carries no torque label.

    Parameters
    ----------
    screw : str
        Drive of the screw
    size : str
        Copper conductor, 14 to 2 AWG

    Returns
    -------
    float
        Torque, [N·m]

    Notes
    -----
    Control-circuit screws: maker's value only.

    Examples
    --------
    10 AWG under a large slotted screw, 35 lbf·in:

    >>> round(terminal_target("slotted, larger slot", "10 AWG"), 4)
    3.9545
    """
    awg = awg_of(size)
    if awg is None:
        raise OutsideValidity("conductor size", size, "AWG; metric terminals: maker's value")
    if screw in BY_SIZE:
        value = table("screw_torque").row("awg", awg)[BY_SIZE[screw]]
        return to_si(value, "torque", "lbf·in")
    by_head = {r["screw"]: r["torque"] for r in table("screw_torque_by_head").rows}
    if screw not in by_head:
        raise InputError("screw", f"“{screw}”", "; ".join((*BY_SIZE, *by_head)))
    if screw.startswith("below No. 10") and awg < 8:
        raise OutsideValidity("conductor size", size, "8 AWG or smaller under so small a screw")
    return to_si(by_head[screw], "torque", "lbf·in")


@formula(
    "Deviation of the torque applied",
    equation="deviation = (applied - target) / target",
    results="ratio",
    source=Source("definition", "computed"),
)
def torque_deviation(applied: Torque, target: Torque) -> Ratio:
    """How far the torque applied lies from its target.

    deviation = (applied - target) / target

    Parameters
    ----------
    applied : float
        Torque applied, [N·m]
    target : float
        Torque of the label or table, [N·m]

    Returns
    -------
    float
        Deviation, negative when loose, [-]

    Examples
    --------
    >>> round(torque_deviation(3.0, 3.9545), 5)
    -0.24137
    """
    for what, torque in (("applied", applied), ("target", target)):
        above_zero(what, torque, "torque", "N·m")
        within(what, torque, "torque", "N·m", 0.01, 1000)
    return (applied - target) / target
