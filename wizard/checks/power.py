"""Power against air: two independent measurements that must agree.

Invariant: amperes alone make an estimate, and an estimate is not judged.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.acceptance import ISO_1217, rating_tolerance
from wizard.calc.accepted import above_zero, one_of
from wizard.calc.air_state import absolute_pressure
from wizard.calc.gas import STANDARD_PRESSURE
from wizard.calc.power import (
    compression_efficiency,
    compression_power,
    power_per_flow,
    pump_shaft_power,
)
from wizard.checks.air_state import STAGES, percent
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import AbsolutePressure, Flow, GaugePressure, Power, Ratio, SpecificPower
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT
from wizard.tables import table

TRUE_POWER = "true-power meter"
AMPERES = "amperes only"
METHODS = (TRUE_POWER, AMPERES)
PER_MINUTE = 60e3
"""J/m3 in one kW/(m3/min)."""
LEAST, MOST = 0.45, 0.90
USUAL = (0.55, 0.80)
WASTE = "Power that makes no air makes heat: valves, rings, belts or motor pay for it."


def _estimate(method: str, power: float | None, flow: float | None) -> str:
    """Why the power cannot be judged, or nothing."""
    if power is None or flow is None:
        return "Power or delivery is not known."
    if method == AMPERES:
        return "From amperes alone this is an estimate: at light load they say nothing of power."
    return ""


def _unjudged(said: str) -> Finding:
    return Finding(
        Verdict.INCONCLUSIVE,
        said,
        Severity.ADVISORY,
        clears="Measure with a true-power meter, clamps on all phases and voltage leads.",
    )


@check(
    "Specific power",
    severity=Severity.HANDOVER,
    source=(COMMON_PRACTICE, ISO_1217, OUR_JUDGEMENT),
    results={"specific_power": "specific power"},
)
def specific_power(
    method: str,
    stages: str,
    input_power: Power | None = None,
    flow: Flow | None = None,
    rated: SpecificPower | None = None,
) -> Finding:
    """Electrical input for the air made, against what is usual or what was promised.

    Parameters
    ----------
    method : str
        true-power meter or amperes only
    stages : str
        one or two
    input_power : float, optional
        Electrical input, loaded, near rated pressure, [W]
    flow : float, optional
        Free air delivered, [m3/s]
    rated : float, optional
        Specific power in the contract, [J/m3]
    """
    one_of("method", method, METHODS)
    one_of("stages", stages, tuple(STAGES))
    for what, value, kind in (
        ("input power", input_power, "power"),
        ("flow", flow, "flow"),
        ("rated specific power", rated, "specific power"),
    ):
        above_zero(what, value, kind)
    if input_power is None or flow is None or _estimate(method, input_power, flow):
        return _unjudged(_estimate(method, input_power, flow))
    found, step = work(power_per_flow, input_power=input_power, flow=flow)
    row = table("specific_power_bands").row("stages", stages)
    low, high = row["low"] * PER_MINUTE, row["high"] * PER_MINUTE
    finding = Finding(
        Verdict.PASS,
        "Usual for this kind of pump.",
        Severity.HANDOVER,
        Quantity(found, "specific power"),
        Limit(low, high, "specific power"),
        (step,),
        danger=WASTE,
        results={"specific_power": found},
    )
    if rated is not None:
        return _against_rating(finding, found, rated, flow)
    if at_least(found, low) and at_most(found, high):
        return finding
    return replace(
        finding,
        verdict=Verdict.ADVISORY,
        severity=Severity.ADVISORY,
        text="Less power than air needs: slipping, starved, or a wrong figure."
        if found < low
        else "More power than usual for the air that comes.",
        clears="Check the flow and the power again, then valves, belts and filter.",
    )


def _against_rating(finding: Finding, found: float, rated: float, flow: float) -> Finding:
    tolerance = rating_tolerance(flow).specific_energy
    highest = rated * (1 + tolerance)
    finding = replace(finding, limit=Limit(None, highest, "specific power"))
    if at_most(found, highest):
        return replace(finding, text="It keeps what the contract says.")
    return replace(
        finding,
        verdict=Verdict.FAIL,
        text=f"More than the contract allows with {percent(tolerance)} of tolerance.",
        clears="Look for lost air and lost power: valves, belts, filter, motor.",
    )


@check(
    "Overall efficiency of compression",
    severity=Severity.HANDOVER,
    source=(COMMON_PRACTICE, OUR_JUDGEMENT),
    results={"efficiency": "ratio"},
)
def overall_efficiency(
    method: str,
    stages: str,
    pressure: GaugePressure,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
    input_power: Power | None = None,
    flow: Flow | None = None,
    motor_efficiency: Ratio | None = None,
    belt_efficiency: Ratio = 0.96,
) -> Finding:
    """Ideal power for the air made over power at the shaft: the floor that nothing undercuts.

    Parameters
    ----------
    method : str
        true-power meter or amperes only
    stages : str
        one or two
    pressure : float
        Tank gauge while the power was read, [Pa]
    ambient : float, optional
        Air pressure at the machine, [Pa]
    input_power : float, optional
        Electrical input, loaded, [W]
    flow : float, optional
        Free air delivered, [m3/s]
    motor_efficiency : float, optional
        Efficiency of the motor, [-]
    belt_efficiency : float, optional
        Efficiency of the belt, 0.95 to 0.97, [-]
    """
    one_of("method", method, METHODS)
    one_of("stages", stages, tuple(STAGES))
    above_zero("pressure", pressure, "gauge pressure")
    above_zero("input power", input_power, "power")
    above_zero("flow", flow, "flow")
    if input_power is None or flow is None or _estimate(method, input_power, flow):
        return _unjudged(_estimate(method, input_power, flow))
    if motor_efficiency is None:
        return _unjudged("The efficiency of the motor is not known.")
    ideal, first = work(
        compression_power,
        inlet=ambient,
        flow=flow,
        ratio=absolute_pressure(pressure, ambient) / ambient,
        stages=STAGES[stages],
    )
    shaft, second = work(
        pump_shaft_power,
        input_power=input_power,
        motor_efficiency=motor_efficiency,
        belt_efficiency=belt_efficiency,
    )
    efficiency, third = work(compression_efficiency, ideal_power=ideal, shaft=shaft)
    finding = Finding(
        Verdict.PASS,
        "Flow and power agree.",
        Severity.HANDOVER,
        Quantity(efficiency, "ratio"),
        Limit(LEAST, MOST, "ratio"),
        (first, second, third),
        danger=WASTE,
        results={"efficiency": efficiency},
    )
    return _believable(finding, efficiency)


def _believable(finding: Finding, efficiency: float) -> Finding:
    if not at_most(efficiency, MOST):
        return replace(
            finding,
            verdict=Verdict.FAIL,
            text="Better than any such machine: flow or power is wrong.",
            clears="Measure power on all phases and the delivery again.",
        )
    if not at_least(efficiency, LEAST):
        return replace(
            finding,
            verdict=Verdict.FAIL,
            text="More than half of the power is lost.",
            clears="Find the loss: valves, rings, belt slip, throttled intake, motor.",
        )
    if at_least(efficiency, USUAL[0]) and at_most(efficiency, USUAL[1]):
        return finding
    return replace(
        finding,
        verdict=Verdict.ADVISORY,
        severity=Severity.ADVISORY,
        text="Possible, but outside the usual 55 % to 80 %.",
        clears="Compare flow and power once more.",
    )
