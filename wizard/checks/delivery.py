"""Delivery against its rating: pass, short, wrong data, or not known well enough to say.

Invariant: data errors come first, then the uncertainty, and only then the limit.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.acceptance import ISO_1217, lowest_accepted_flow, rating_tolerance
from wizard.calc.accepted import above_zero
from wizard.calc.displacement import measured_efficiency
from wizard.calc.rating import rated_intake_flow
from wizard.calc.uncertainty import GUM
from wizard.checks.air_state import percent
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import Flow, Ratio
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import Source

TOO_GOOD = 1.15
TOO_FULL = 0.95
SHORT = "The customer pays for air that does not come; the machine runs without a rest."
DECISION = (ISO_1217, GUM, Source("rules of decision and of data errors", "judgement"))


def decide(
    rated: float, flow: float, uncertainty: float, origin: str, efficiency: float | None
) -> Finding:
    """The decision on a delivery at rated speed and pressure; `uncertainty` is expanded."""
    tolerance, first = work(rating_tolerance, rated_flow=rated)
    lowest, second = work(lowest_accepted_flow, rated_flow=rated, tolerance=tolerance.flow)
    found = Finding(
        Verdict.PASS,
        f"The delivery meets its rating, known to {percent(uncertainty / flow)}.",
        Severity.HANDOVER,
        Quantity(flow, "flow"),
        Limit(lowest, TOO_GOOD * rated, "flow"),
        (first, second),
        results={"flow": flow, "uncertainty": uncertainty / flow, "rated": rated},
    )
    if not at_most(flow, TOO_GOOD * rated) or (efficiency and not at_most(efficiency, TOO_FULL)):
        return replace(
            found,
            verdict=Verdict.FAIL,
            text="More air than this pump can make: volume, pressure, speed or time is wrong.",
            danger="A wrong number here hides a short delivery.",
            clears="Check tank volume, pipes, gauge, sheaves and stopwatch, and run it again.",
        )
    if not at_most(uncertainty / flow, tolerance.flow):
        return replace(
            found,
            verdict=Verdict.INCONCLUSIVE,
            text=f"Known only to {percent(uncertainty / flow)}, and the tolerance is "
            f"{percent(tolerance.flow)}; most of it comes from {origin}.",
            danger="A pass or fail that cannot be defended is worse than none.",
            clears="Full span, test gauge of 0.25 %, settled pressure; then it can judge.",
        )
    if at_least(flow, lowest):
        return found
    return _short(found, at_least(flow + uncertainty, lowest), 1 - flow / rated)


def _short(found: Finding, unclear: bool, missing: float) -> Finding:
    """Below the limit: by more than the test's doubt, or not."""
    if unclear:
        return replace(
            found,
            verdict=Verdict.INCONCLUSIVE,
            text="Below the limit, but by less than the test can tell.",
            danger=SHORT,
            clears="Repeat it better.",
        )
    return replace(
        found,
        verdict=Verdict.FAIL,
        text=f"The delivery is {percent(missing)} below its rating.",
        danger=SHORT,
        clears="Look at filter, valves, rings, head gasket, belts and speed; then run it again.",
    )


def unjudged(said: str, flow: float | None, steps: tuple[Step, ...]) -> Finding:
    return Finding(
        Verdict.INCONCLUSIVE,
        said,
        Severity.HANDOVER,
        None if flow is None else Quantity(flow, "flow"),
        working=steps,
        danger="The customer's air has not been judged.",
        clears="Take what is missing, and run it again where needed.",
    )


@check(
    "Delivery by flow meter against the rating",
    severity=Severity.HANDOVER,
    source=DECISION,
    results={"flow": "flow", "uncertainty": "ratio", "rated": "flow"},
)
def metered_delivery(
    rated_flow: Flow,
    flow_reference: str,
    flow: Flow | None = None,
    meter_uncertainty: Ratio | None = None,
    displacement: Flow | None = None,
) -> Finding:
    """Free air read from a meter at rated pressure and speed, against the rating.

    Parameters
    ----------
    rated_flow : float
        Rated flow, [m3/s]
    flow_reference : str
        Reference condition of the rating
    flow : float, optional
        Free air at the intake by the meter, [m3/s]
    meter_uncertainty : float, optional
        Expanded uncertainty of the meter, share of the reading, [-]
    displacement : float, optional
        Piston displacement at the measured speed, [m3/s]
    """
    above_zero("rated flow", rated_flow, "flow")
    above_zero("flow", flow, "flow")
    above_zero("meter uncertainty", meter_uncertainty, "ratio")
    if flow is None:
        return Finding(Verdict.NOT_APPLICABLE, "No flow meter was used.", Severity.HANDOVER)
    if meter_uncertainty is None:
        return unjudged("The uncertainty of the meter is not known.", flow, ())
    efficiency = None if displacement is None else measured_efficiency(flow, displacement)
    rated = rated_intake_flow(rated_flow, flow_reference)
    return decide(rated, flow, flow * meter_uncertainty, "the meter", efficiency)
