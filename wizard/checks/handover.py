"""Settings as left against the settings that were tested."""

from __future__ import annotations

from wizard.calc.accepted import above_zero
from wizard.calc.us_units import PSI
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.kinds import GaugePressure
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import OUR_JUDGEMENT


@check("Setting as left", severity=Severity.HANDOVER, source=OUR_JUDGEMENT)
def setting_as_left(left: GaugePressure, tested: tuple[GaugePressure, ...]) -> Finding:
    """A pressure setting is left as it was tested, within 3 psi or 2 % of the tested mean.

    Parameters
    ----------
    left : float
        Setting as left, gauge, [Pa]
    tested : tuple of float
        Readings in the test cycles, gauge, [Pa]
    """
    for one in (left, *tested):
        above_zero("pressure", one, "gauge pressure", "psig")
    mean = sum(tested) / len(tested)
    slack = max(3 * PSI, 0.02 * mean)
    same = at_least(left, mean - slack) and at_most(left, mean + slack)
    return Finding(
        Verdict.PASS if same else Verdict.FAIL,
        "Left as it was tested."
        if same
        else f"Left {'above' if left > mean else 'below'} what was tested: it has been changed.",
        Severity.HANDOVER,
        Quantity(left, "gauge pressure"),
        Limit(mean - slack, mean + slack, "gauge pressure"),
        danger="A switch turned after its test has lost its margin to the relief valve.",
        clears="" if same else "Set it back, or repeat the cut-in and cut-out cycles.",
    )
