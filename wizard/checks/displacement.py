"""Pump speed and displacement, and how much of the displacement becomes air."""

from __future__ import annotations

from dataclasses import replace

from wizard.both_units import both
from wizard.calc.accepted import above_zero, one_of
from wizard.calc.displacement import measured_efficiency, piston_displacement
from wizard.checks.air_state import STAGES
from wizard.checks.delivery import TOO_FULL
from wizard.checks.rule import check
from wizard.errors import OutsideValidity
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Flow, GaugePressure, Length, RotationalSpeed
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source
from wizard.tables import table

SLOW_SHARE = 0.97
UNDER_BAND = 0.05
HIGHER_THAN_BAND = 1.05
PLATE = Source("the pump's own plate", "confirmed")


@check(
    "Pump speed and displacement",
    severity=Severity.SAFETY,
    source=(PLATE, Source("3 % below the plate", "judgement")),
    results={"displacement": "flow"},
)
def displacement_speed(
    measured: RotationalSpeed,
    rated: RotationalSpeed,
    maximum: RotationalSpeed,
    bore: Length,
    stroke: Length,
    cylinders: int,
) -> Finding:
    """Pump speed against its plate, and the volume it sweeps at that speed.

    Parameters
    ----------
    measured : float
        Pump speed by tachometer on the flywheel, running loaded, [r/s]
    rated : float
        Rated pump speed, [r/s]
    maximum : float
        Highest pump speed on the plate, [r/s]
    bore : float
        Bore of a low-pressure cylinder, [m]
    stroke : float
        Stroke, [m]
    cylinders : int
        Low-pressure cylinders, [-]
    """
    for what, speed in (("measured", measured), ("rated", rated), ("maximum", maximum)):
        above_zero(what, speed, "rotational speed")
    found = Finding(
        Verdict.PASS,
        "",
        Severity.SAFETY,
        Quantity(measured, "rotational speed"),
        Limit(None, maximum, "rotational speed"),
    )
    if not at_most(measured, maximum):
        return replace(
            found,
            verdict=Verdict.FAIL,
            text="The pump turns faster than its plate allows.",
            danger="Rods, valves and flywheel fail at overspeed, and pieces fly.",
            clears="Stop, lock out, fit the motor sheave that gives rated speed, and measure.",
        )
    try:
        displacement, step = work(
            piston_displacement, bore=bore, stroke=stroke, cylinders=cylinders, speed=measured
        )
    except OutsideValidity as problem:
        return replace(
            found,
            verdict=Verdict.INCONCLUSIVE,
            text=f"The displacement cannot be worked out. {problem}",
            severity=Severity.HANDOVER,
            clears="Correct bore, stroke or speed; inches typed as millimetres look like this.",
        )
    found = replace(found, working=(step,), results={"displacement": displacement})
    if at_least(measured, SLOW_SHARE * rated):
        said = f"It sweeps {both(displacement, 'flow')}, which no delivery can exceed."
        return replace(found, text=said)
    return replace(
        found,
        verdict=Verdict.ADVISORY,
        severity=Severity.ADVISORY,
        text="The pump turns more than 3 % slower than its plate.",
        limit=Limit(SLOW_SHARE * rated, maximum, "rotational speed"),
        danger="It delivers that much less air.",
        clears="Look for a wrong sheave, belt slip or low voltage.",
    )


@check(
    "Volumetric efficiency",
    severity=Severity.HANDOVER,
    source=(COMMON_PRACTICE, OUR_JUDGEMENT),
    results={"efficiency": "ratio"},
)
def volumetric_efficiency(
    stages: str,
    flow: Flow | None = None,
    displacement: Flow | None = None,
    rated_pressure: GaugePressure | None = None,
) -> Finding:
    """Free air over displacement at the same speed: the health of valves, rings and gaskets.

    Parameters
    ----------
    stages : str
        one or two
    flow : float, optional
        Free air at rated pressure and measured speed, [m3/s]
    displacement : float, optional
        Piston displacement at the same speed, [m3/s]
    rated_pressure : float, optional
        Gauge pressure of the flow, [Pa]
    """
    one_of("stages", stages, tuple(STAGES))
    above_zero("flow", flow, "flow")
    above_zero("displacement", displacement, "flow")
    above_zero("rated pressure", rated_pressure, "gauge pressure")
    if flow is None or displacement is None:
        return Finding(
            Verdict.INCONCLUSIVE,
            "Flow or displacement is not known.",
            Severity.HANDOVER,
            clears="Measure the delivery and the pump speed.",
        )
    efficiency, step = work(measured_efficiency, flow=flow, displacement=displacement)
    row = table("volumetric_bands").row("stages", stages)
    verdict, severity, text, clears = _health(efficiency, row, rated_pressure)
    return Finding(
        verdict,
        text,
        severity,
        Quantity(efficiency, "ratio"),
        Limit(row["low"], row["high"], "ratio"),
        (step,),
        danger=""
        if verdict is Verdict.PASS
        else "A sick valve runs hot, breaks, and drops into the cylinder.",
        clears=clears,
        results={"efficiency": efficiency},
    )


def _health(
    efficiency: float, row: dict[str, float], rated_pressure: float | None
) -> tuple[Verdict, Severity, str, str]:
    """Verdict, severity, sentence and cure for an efficiency against the band of its stages."""
    if not at_most(efficiency, TOO_FULL):
        return (
            Verdict.FAIL,
            Severity.HANDOVER,
            "More air than any piston pump makes of its displacement.",
            "Check volume, pressure, speed and cylinder count; a figure is wrong.",
        )
    if not at_most(efficiency, row["high"]):
        return (
            Verdict.ADVISORY,
            Severity.ADVISORY,
            "Better than usual; a figure may be wrong.",
            "Check the volume and the pressure of the run.",
        )
    if at_least(efficiency, row["low"]):
        return Verdict.PASS, Severity.HANDOVER, "Usual for a sound pump.", ""
    cure = "Look at valves, rings, head gasket and filter."
    if rated_pressure and not at_most(rated_pressure, HIGHER_THAN_BAND * row["highest_pressure"]):
        return (
            Verdict.ADVISORY,
            Severity.ADVISORY,
            "Below the usual band, which is for a lower pressure than this.",
            cure,
        )
    if at_least(efficiency, row["low"] - UNDER_BAND):
        return Verdict.ADVISORY, Severity.ADVISORY, "A little below the usual band.", cure
    return Verdict.FAIL, Severity.HANDOVER, "Clearly below the usual band.", cure
