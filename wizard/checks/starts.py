"""Starts per hour: short cycling is the quiet killer of piston machines."""

from __future__ import annotations

from wizard.calc.starts import cycle_starts, starts_allowed
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import MomentOfInertia, Power, Time
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import Source

CUSTOM = 6 / 3600


@check(
    "Starts per hour",
    severity=Severity.HANDOVER,
    source=(
        Source("NEMA MG 10 Table 2-3", "confirmed"),
        Source("more than 6 an hour is noted: our judgement", "judgement"),
    ),
    results={"starts": "rate", "allowed": "rate"},
)
def starts_per_hour(
    run: Time, off: Time, power: Power, poles: str, inertia: MomentOfInertia | None = None
) -> Finding:
    """Starts of the measured cycle against the motor's table, and rest between starts.

    Parameters
    ----------
    run : float
        Mean time running in a cycle, 1 to 3600, [s]
    off : float
        Mean time at rest in a cycle, [s]
    power : float
        Rated power, 1.5 to 30 hp, [W]
    poles : str
        2, 4 or 6
    inertia : float, optional
        Inertia of the load at the motor shaft, [kg·m2]
    """
    starts, step = work(cycle_starts, run=run, off=off)
    allowed, allowed_step = work(starts_allowed, power=power, poles=poles, inertia=inertia)
    verdict, severity, text = Verdict.PASS, Severity.HANDOVER, "The motor rests enough."
    if not at_most(starts, allowed.starts):
        verdict, text = Verdict.FAIL, "The motor starts more often than it may."
    elif not at_least(off, allowed.rest):
        verdict, text = Verdict.FAIL, "The rest between starts is too short for the motor."
    elif not at_most(starts, CUSTOM):
        verdict, severity = Verdict.ADVISORY, Severity.ADVISORY
        text = "More than 6 starts an hour: a larger receiver or band would spare the motor."
    return Finding(
        verdict,
        text,
        severity,
        Quantity(starts, "rate"),
        Limit(None, allowed.starts, "rate"),
        (step, allowed_step),
        danger="Each start heats the rotor like minutes of running; short cycling burns it.",
        clears=""
        if verdict is Verdict.PASS
        else "More air storage, a wider pressure band, fewer leaks, or continuous run unloaded.",
        results={"starts": starts, "allowed": allowed.starts},
    )
