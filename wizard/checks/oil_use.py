"""Oil that leaves with the air."""

from __future__ import annotations

from wizard.calc.accepted import above_zero
from wizard.calc.carry_over import BALANCE, OIL_DENSITY, oil_in_air, oil_lost
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import Concentration, Density, Flow, Time, Volume
from wizard.quantities import Quantity, at_most
from wizard.sources import Source

USUAL_CARRY_OVER = Source(
    "5 to 25 mg/m3 when new is usual, above 50 mg/m3 something is wrong; never breathing air "
    "without purification and monitoring, 29 CFR 1910.134(i)",
    "memory",
)
USUAL, MOST = 25e-6, 50e-6


@check(
    "Oil carried over with the air",
    severity=Severity.HANDOVER,
    source=(USUAL_CARRY_OVER, BALANCE),
    results={"lost": "volume"},
)
def oil_carry_over(
    flow: Flow,
    concentration: Concentration | None = None,
    topped_up: Volume | None = None,
    running: Time | None = None,
    density: Density | None = None,
) -> Finding:
    """Oil in the air at most 50 mg/m3, measured or from the top-up.

    Parameters
    ----------
    flow : float
        Free air delivered, [m3/s]
    concentration : float, optional
        Oil in the air as measured, [kg/m3]
    topped_up : float, optional
        Oil added to come back to the same level, [m3]
    running : float, optional
        Running time between the two levels, by hour meter, [s]
    density : float, optional
        Density of the oil; 0.88 kg/L if not given, [kg/m3]
    """
    above_zero("flow", flow, "flow", "m3/min")
    weight = OIL_DENSITY if density is None else density
    steps: tuple[Step, ...] = ()
    if concentration is None and topped_up is not None and running is not None:
        concentration, step = work(
            oil_in_air, topped_up=topped_up, running=running, flow=flow, density=weight
        )
        steps = (step,)
    if concentration is None:
        return Finding(
            Verdict.INCONCLUSIVE,
            "Neither the oil in the air nor a top-up with its hours was given.",
            Severity.HANDOVER,
            danger="Oil in the air fouls tools, paint and drains.",
            clears="Measure the oil, or note the top-up and the hours between two equal levels.",
        )
    lost, lost_step = work(oil_lost, concentration=concentration, flow=flow, density=weight)
    verdict, text, clears = Verdict.PASS, "The pump keeps its oil.", ""
    if not at_most(concentration, MOST):
        verdict, text = Verdict.FAIL, "The pump loses far too much oil with the air."
        clears = (
            "Look for an overfilled sump, worn or unseated rings, a blocked breather, wrong oil."
        )
    elif not at_most(concentration, USUAL):
        verdict, text = Verdict.ADVISORY, "The pump loses more oil than is usual for a new one."
        clears = "Watch the level; it should fall as the rings run in."
    return Finding(
        verdict,
        text,
        Severity.ADVISORY if verdict is Verdict.ADVISORY else Severity.HANDOVER,
        Quantity(concentration, "concentration"),
        Limit(None, MOST, "concentration"),
        (*steps, lost_step),
        danger="Oil in the air fouls tools, paint and drains, and must not be breathed.",
        clears=clears,
        results={"lost": lost},
    )
