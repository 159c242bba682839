"""Voltage drop along the branch, with the feeder where it is known.

Invariant: a percentage that no real run has is refused, because a unit or a length is wrong.
"""

from __future__ import annotations

from wizard.calc.accepted import one_of, within
from wizard.calc.motor_circuit import PHASES
from wizard.calc.voltage_drop import (
    LENGTH,
    RUNNING_POWER_FACTOR,
    drop_share,
    effective_impedance,
    line_drop,
)
from wizard.checks.given import given
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Current, Length, Ratio, Voltage
from wizard.quantities import Quantity, at_most
from wizard.sources import Source

BRANCH, TOTAL, CREDIBLE = 0.03, 0.05, 0.20
LONG_RUN = 152.4
"""500 ft, m."""


@check(
    "Voltage drop",
    severity=Severity.HANDOVER,
    source=(
        Source(
            "NEC 210.19 and 215.2 informational notes: 3 % branch, a recommendation", "confirmed"
        ),
        Source("5 % in all as a limit is our judgement; IEC 60364-5-52 gives 5 % too", "judgement"),
    ),
    results={"drop": "voltage", "share": "ratio"},
)
def voltage_drop(
    current: Current,
    length: Length,
    size: str,
    supply: Voltage,
    phases: str,
    power_factor: Ratio | None = None,
    conduit: str | None = None,
    feeder: Ratio | None = None,
    strict: bool = False,
    method: str = "R cos + X sin",
) -> Finding:
    """At full load, 3 % along the branch is noted and 5 % with the feeder must be put right.

    Parameters
    ----------
    current : float
        Nameplate current for the connected voltage, [A]
    length : float
        One-way length of the branch, 1 to 2000 ft, [m]
    size : str
        Copper size, AWG or mm²
    supply : float
        Nominal line-to-line voltage, [V]
    phases : str
        single or three
    power_factor : float, optional
        Running power factor, 0.85 where none is known, [-]
    conduit : str, optional
        steel, or PVC or aluminium; steel where none is named
    feeder : float, optional
        Drop of the feeder before the branch, [-]
    strict : bool, optional
        Whether the specification makes 3 % a limit, [-]
    method : str, optional
        R cos + X sin, or printed
    """
    one_of("phases", phases, PHASES)
    within("length", length, "length", "ft", *LENGTH)
    within("supply", supply, "voltage", "V", 100, 690)
    impedance, z_step = work(
        effective_impedance,
        size=size,
        power_factor=given(power_factor, RUNNING_POWER_FACTOR),
        conduit=conduit or "steel",
        method=method,
    )
    drop, step = work(line_drop, current=current, impedance=impedance, length=length, phases=phases)
    if drop > CREDIBLE * supply:
        raise InputError(
            "voltage drop", f"{100 * drop / supply:.3g} %", "20 % or less; check length and units"
        )
    branch, _ = work(drop_share, drop=drop, supply=supply)
    total, share_step = work(drop_share, drop=drop, supply=supply, feeder=given(feeder, 0.0))
    verdict, severity, text = _grade(branch, total, strict)
    if feeder is None:
        text += " The feeder is not counted."
    return Finding(
        verdict,
        text,
        severity,
        Quantity(total, "ratio"),
        Limit(None, TOTAL, "ratio"),
        (z_step, step, share_step),
        danger="A starved motor may never break away at start; its contactor chatters and welds.",
        clears="" if verdict is Verdict.PASS else "Larger conductors or a shorter run.",
        ask="Is this the one-way length, not the round trip?" if length > LONG_RUN else "",
        results={"drop": drop, "share": total},
    )


def _grade(branch: float, total: float, strict: bool) -> tuple[Verdict, Severity, str]:
    if not at_most(total, TOTAL):
        return Verdict.FAIL, Severity.HANDOVER, "More than 5 % is lost on the way to the motor."
    if not at_most(branch, BRANCH):
        if strict:
            text = "More than 3 % is lost on the branch, which the specification forbids."
            return Verdict.FAIL, Severity.HANDOVER, text
        return Verdict.ADVISORY, Severity.ADVISORY, "More than 3 % is lost on the branch."
    return Verdict.PASS, Severity.HANDOVER, "At most 3 % is lost on the branch."
