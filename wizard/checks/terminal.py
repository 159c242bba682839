"""Tightening torque applied to the power terminals.

Invariant: a torque label on the equipment is the target; the table is for terminals without one.
"""

from __future__ import annotations

from wizard.calc.accepted import above_zero, within
from wizard.calc.terminal import terminal_target, torque_deviation
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import Torque
from wizard.quantities import Quantity, at_least, at_most, to_si
from wizard.sources import OUR_JUDGEMENT, Source

LOOSE, TIGHT = -0.10, 0.20
LOOSE_DANGER = "Most electrical fires at motors start at a terminal that was loose or stripped."


@check(
    "Torque of the power terminals",
    severity=Severity.HANDOVER,
    source=(
        Source("NEC 110.14(D); Informative Annex I, after UL 486A-486B", "confirmed"),
        OUR_JUDGEMENT,
    ),
    results={"target": "torque"},
)
def terminal_torque(
    applied: Torque, label: Torque | None = None, screw: str | None = None, size: str | None = None
) -> Finding:
    """Not more than 10 % under and 20 % over the target.

    Parameters
    ----------
    applied : float
        Torque applied with a calibrated tool, [N·m]
    label : float, optional
        Torque on the label of the equipment, which comes first, [N·m]
    screw : str, optional
        Drive of the screw, where there is no label
    size : str, optional
        Copper conductor under the screw
    """
    above_zero("applied", applied, "torque", "lbf·in")
    within("applied", applied, "torque", "lbf·in", 0, 1000)
    working: tuple[Step, ...] = ()
    if label is not None:
        target = label
    elif screw is not None and size is not None:
        target, target_step = work(terminal_target, screw=screw, size=size)
        working = (target_step,)
    else:
        return Finding(
            Verdict.INCONCLUSIVE,
            "No target: neither a label torque nor screw and conductor size are given.",
            Severity.HANDOVER,
            Quantity(applied, "torque"),
            danger=LOOSE_DANGER,
            clears="Read the torque on the label, or give screw and size.",
        )
    deviation, step = work(torque_deviation, applied=applied, target=target)
    verdict, text = Verdict.PASS, "Tightened as it should be."
    if not at_least(deviation, LOOSE):
        verdict, text = Verdict.FAIL, "Too loose: more than 10 % below the target."
    elif not at_most(deviation, TIGHT):
        verdict, text = Verdict.FAIL, "Too tight: more than 20 % above the target; inspect it."
    return Finding(
        verdict,
        text,
        Severity.HANDOVER,
        Quantity(applied, "torque"),
        Limit((1 + LOOSE) * target, (1 + TIGHT) * target, "torque"),
        (*working, step),
        danger=LOOSE_DANGER,
        clears=""
        if verdict is Verdict.PASS
        else "Isolated and locked: undo it, look for cut strands, tighten again to the target.",
        ask="So much on so small a screw: is the unit right?"
        if applied > to_si(300, "torque", "lbf·in")
        else "",
        results={"target": target},
    )
