"""Air pipe as laid: fall, hold test and the pressure that reaches the last user.

Invariant: a hold test longer than ten minutes is judged with temperatures or not at all.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.accepted import above_zero, inside, one_of
from wizard.calc.air_state import absolute_pressure
from wizard.calc.gas import STANDARD_PRESSURE
from wizard.calc.pipe_line import expected_hold_pressure, pipe_fall, pressure_lost
from wizard.checks.pipe import BUDGET_PRACTICE, budget_finding
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import (
    AbsolutePressure,
    GaugePressure,
    Length,
    Ratio,
    Temperature,
    Time,
)
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source

SLOPE_RULE = Source(
    "NAVEDTRA 14265 (3 in per 100 ft); NAVFAC MO-209 (6 in per 100 ft)", "confirmed"
)
HOLD_RULE = Source("UFGS 15217N 3.2.6, no drop except by temperature", "confirmed")
HOLD_ALLOWANCE = 0.005
"""Share of the absolute pressure that good gauges and thermometers may differ by."""


@check(
    "Fall of the pipe",
    severity=Severity.HANDOVER,
    source=SLOPE_RULE,
    results={"slope": "ratio"},
)
def pipe_slope(fall: Length, length: Length, direction: str = "with the flow") -> Finding:
    """2.5 mm/m with the flow, 5 mm/m where the pipe must rise against it.

    Parameters
    ----------
    fall : float
        Height between the ends, [m]
    length : float
        Length of the run, [m]
    direction : str, optional
        with the flow, or against the flow
    """
    one_of("direction", direction, ("with the flow", "against the flow"))
    slope, step = work(pipe_fall, fall=fall, length=length)
    least = 0.0025 if direction == "with the flow" else 0.005
    sound = at_least(slope, least)
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "Water rolls to the drain." if sound else "The pipe is too level for water to drain.",
        Severity.HANDOVER,
        Quantity(slope, "ratio"),
        Limit(least, None, "ratio"),
        (step,),
        danger="Water stands in the pipe, freezes, rusts it and runs into tools.",
        clears="" if sound else "Re-hang the pipe, or add drip legs at the low points.",
        ask="Is the fall in the same unit as the length? It is steep for a main."
        if slope > 0.1
        else "",
        results={"slope": slope},
    )


@check(
    "Pressure from receiver to the farthest user",
    severity=Severity.HANDOVER,
    source=BUDGET_PRACTICE,
    results={"drop": "pressure difference", "share": "ratio"},
)
def system_pressure_drop(
    receiver: GaugePressure, farthest: GaugePressure, flow_share: Ratio
) -> Finding:
    """At most 10 % lost at full flow; with little flow the answer means nothing.

    Parameters
    ----------
    receiver : float
        Pressure at the receiver, gauge, [Pa]
    farthest : float
        Pressure at the farthest point at the same moment, gauge, [Pa]
    flow_share : float
        Flow at that moment over the normal peak, [-]
    """
    above_zero("receiver pressure", receiver, "gauge pressure")
    above_zero("farthest pressure", farthest, "gauge pressure")
    inside("share of peak flow", flow_share, "ratio", "%", 0, 150)
    share, step = work(pressure_lost, receiver=receiver, farthest=farthest)
    finding = budget_finding(share, receiver - farthest, (step,))
    if not at_least(flow_share, 0.7):
        return replace(
            finding,
            verdict=Verdict.INCONCLUSIVE,
            severity=Severity.HANDOVER,
            text="The flow was below 70 % of the normal peak, so the drop says nothing.",
            clears="Read both gauges again under the heaviest normal demand.",
        )
    if farthest > receiver:
        return replace(
            finding,
            verdict=Verdict.INCONCLUSIVE,
            severity=Severity.HANDOVER,
            text="The farthest gauge reads more than the receiver, which cannot be.",
            clears="Swap the two gauges and read again.",
        )
    return finding


@check(
    "Hold test of new pipe",
    severity=Severity.SAFETY,
    source=(HOLD_RULE, COMMON_PRACTICE, OUR_JUDGEMENT),
    results={"expected": "absolute pressure", "loss": "pressure difference"},
)
def pipe_hold_test(
    start: GaugePressure,
    end: GaugePressure,
    duration: Time,
    working_pressure: GaugePressure,
    relief_set: GaugePressure,
    start_temperature: Temperature | None = None,
    end_temperature: Temperature | None = None,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
) -> Finding:
    """Pressure held at working pressure, corrected for temperature; never a proof test.

    Parameters
    ----------
    start : float
        Pressure at the start, gauge, [Pa]
    end : float
        Pressure at the end, gauge, [Pa]
    duration : float
        Time held, [s]
    working_pressure : float
        Highest working pressure, gauge, [Pa]
    relief_set : float
        Setting of the relief valve on this air, gauge, [Pa]
    start_temperature : float, optional
        Temperature of the pipe at the start, [K]
    end_temperature : float, optional
        Temperature of the pipe at the end, [K]
    ambient : float, optional
        Air pressure around the site, [Pa]
    """
    for what, pressure in (("start pressure", start), ("end pressure", end)):
        above_zero(what, pressure, "gauge pressure")
    above_zero("duration", duration, "time", "min")
    for what, kelvin in (("start", start_temperature), ("end", end_temperature)):
        inside(f"{what} temperature", kelvin, "temperature", "°C", -50, 100)
    if (start_temperature is None) != (end_temperature is None):
        raise InputError("temperatures", "only one", "both, at start and end")
    if refused := _proof_pressure(start, min(working_pressure, relief_set)):
        return refused
    if start_temperature is None and not at_most(duration, 600.0):
        return Finding(
            Verdict.INCONCLUSIVE,
            "A hold longer than 10 minutes cannot be judged without temperatures.",
            Severity.HANDOVER,
            clears="Repeat it with a thermometer on the pipe at start and end.",
        )
    first, first_step = work(absolute_pressure, gauge=start, ambient=ambient)
    expected, step = work(
        expected_hold_pressure,
        start_pressure=first,
        start_temperature=start_temperature or 293.15,
        end_temperature=end_temperature or 293.15,
    )
    return _hold_finding(expected, end + ambient, (first_step, step))


def _proof_pressure(start: float, highest: float) -> Finding | None:
    if at_most(start, highest):
        return None
    return Finding(
        Verdict.FAIL,
        "That is a proof test with air, above working pressure or the relief setting; refused.",
        Severity.SAFETY,
        Quantity(start, "gauge pressure"),
        Limit(None, highest, "gauge pressure"),
        danger="Pipe or fittings that fail under air burst like a bomb.",
        clears="Let the pressure down. Leak-test at working pressure; a proof test is an "
        "engineering job.",
    )


def _hold_finding(expected: float, end: float, working: tuple[Step, ...]) -> Finding:
    loss = expected - end
    passed = Finding(
        Verdict.PASS,
        "The pipe held; any change is temperature.",
        Severity.HANDOVER,
        Quantity(loss, "pressure difference"),
        Limit(None, HOLD_ALLOWANCE * expected, "pressure difference"),
        working,
        danger="A joint that leaks can be one that is letting go.",
        results={"expected": expected, "loss": loss},
    )
    if not at_most(loss, HOLD_ALLOWANCE * expected):
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text="The pipe lost more than its temperature explains.",
            clears="Soap every joint, let the pressure down, remake the leaking one.",
        )
    if not at_least(loss, -2.0 * HOLD_ALLOWANCE * expected):
        return replace(
            passed,
            verdict=Verdict.INCONCLUSIVE,
            text="The pressure rose more than the temperature explains.",
            clears="Check that nothing fed the pipe and where the thermometer sat; repeat.",
        )
    return passed
