"""Pressure switch and gauge: where it stops and starts the motor, how well it repeats.

Invariant: the switch is the working limit, the relief valve the safety limit; they never meet.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.accepted import above_zero
from wizard.calc.pressure_switch import cut_out_spread, gauge_error, spread_allowance, switch_band
from wizard.calc.us_units import PSI
from wizard.checks.relief import operating_margin, unit_question
from wizard.checks.rule import check
from wizard.checks.unusual import unusual_pressure
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import GaugePressure
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT

PRACTICE = (COMMON_PRACTICE, OUR_JUDGEMENT)
NARROW, WIDE = 15.0 * PSI, 50.0 * PSI
SWITCH_CYCLES = "Windings and contacts cook when the motor starts too often."


@check(
    "Pressure switch settings",
    severity=Severity.HANDOVER,
    source=PRACTICE,
    results={"differential": "pressure difference"},
)
def switch_settings(
    cut_out: GaugePressure, cut_in: GaugePressure, maximum: GaugePressure | None = None
) -> Finding:
    """Cut-out is at or below the builder's limit, cut-in 15 to 50 psi below it.

    Parameters
    ----------
    cut_out : float
        Pressure at which the motor stops, gauge, [Pa]
    cut_in : float
        Pressure at which it starts again, gauge, [Pa]
    maximum : float, optional
        Builder's highest working pressure, gauge, [Pa]
    """
    above_zero("cut-out", cut_out, "gauge pressure")
    above_zero("cut-in", cut_in, "gauge pressure")
    above_zero("builder's limit", maximum, "gauge pressure")
    band, step = work(switch_band, cut_out=cut_out, cut_in=cut_in)
    passed = Finding(
        Verdict.PASS,
        "The switch works within the builder's limit and with a sound differential.",
        Severity.HANDOVER,
        Quantity(band, "pressure difference"),
        Limit(NARROW, WIDE, "pressure difference"),
        (step,),
        ask=unit_question(cut_out, cut_in),
        results={"differential": band},
    )
    if maximum is not None and not at_most(cut_out, maximum):
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text="The cut-out is above the builder's highest working pressure.",
            value=Quantity(cut_out, "gauge pressure"),
            limit=Limit(None, maximum, "gauge pressure"),
            danger="The pump overheats and carbon on its valves can burn.",
            clears="Lower the cut-out with the range adjustment, not the differential adjustment.",
        )
    if not at_least(band, NARROW):
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text="The differential is below 15 psi (1.03 bar), so the motor starts too often.",
            danger=SWITCH_CYCLES,
            clears="Widen the differential, then take cut-out and cut-in again.",
        )
    if not at_most(band, WIDE):
        return replace(
            passed,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="The differential is above 50 psi (3.4 bar); users see the pressure swing.",
        )
    return passed


@check("Differential from measured cut-ins", severity=Severity.HANDOVER, source=PRACTICE)
def switch_differential(cut_out: GaugePressure, cut_in: tuple[GaugePressure, ...]) -> Finding:
    """Mean of three measured cut-ins against the mean cut-out.

    Parameters
    ----------
    cut_out : float
        Mean measured cut-out, gauge, [Pa]
    cut_in : tuple of float
        Measured cut-ins, gauge, [Pa]
    """
    found, step = work(cut_out_spread, readings=cut_in)
    finding = switch_settings(cut_out, found.mean)
    if len(cut_in) < 3:
        return _too_few(replace(finding, working=(step, *finding.working)))
    return replace(finding, working=(step, *finding.working))


def _too_few(finding: Finding) -> Finding:
    if finding.verdict is Verdict.FAIL:
        return finding
    return replace(
        finding,
        verdict=Verdict.INCONCLUSIVE,
        severity=Severity.HANDOVER,
        text="Fewer than three cycles do not show whether the switch repeats.",
        clears="Run three full cycles and read the test gauge each time.",
    )


@check(
    "Repeatability of the pressure switch",
    severity=Severity.HANDOVER,
    source=PRACTICE,
    results={"mean": "gauge pressure", "highest": "gauge pressure"},
)
def switch_repeatability(readings: tuple[GaugePressure, ...]) -> Finding:
    """Three cut-outs lie within 3 psi or 2 % of each other, whichever is more.

    Parameters
    ----------
    readings : tuple of float
        Measured cut-outs, gauge, [Pa]
    """
    found, step = work(cut_out_spread, readings=readings)
    allowed, limit_step = work(spread_allowance, mean=found.mean)
    sound = at_most(found.spread, allowed)
    finding = Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "The switch repeats well." if sound else "The cut-outs lie too far apart.",
        Severity.HANDOVER,
        Quantity(found.spread, "pressure difference"),
        Limit(None, allowed, "pressure difference"),
        (step, limit_step),
        danger="A switch that drifts hands the work to the relief valve, which wears out.",
        clears="" if sound else "Replace the switch, then run three cycles again.",
        ask=unusual_pressure("cut-out", *readings),
        results={"mean": found.mean, "highest": found.highest},
    )
    return finding if len(readings) >= 3 else _too_few(finding)


@check(
    "Measured cut-out against the relief setting and the builder's limit",
    severity=Severity.SAFETY,
    source=PRACTICE,
    results={"margin": "ratio"},
)
def measured_cut_out(
    readings: tuple[GaugePressure, ...],
    relief_set: GaugePressure,
    maximum: GaugePressure | None = None,
) -> Finding:
    """The highest cut-out stays below the relief setting, the mean within the builder's limit.

    Parameters
    ----------
    readings : tuple of float
        Measured cut-outs, gauge, [Pa]
    relief_set : float
        Stamp on the relief valve, gauge, [Pa]
    maximum : float, optional
        Builder's highest working pressure, gauge, [Pa]
    """
    found, step = work(cut_out_spread, readings=readings)
    above_zero("builder's limit", maximum, "gauge pressure")
    finding = operating_margin(relief_set, found.highest)
    finding = replace(finding, working=(step, *finding.working))
    if finding.holds or maximum is None or at_most(found.mean, maximum):
        return finding
    return replace(
        finding,
        verdict=Verdict.FAIL,
        severity=Severity.HANDOVER,
        text="The mean cut-out is above the builder's highest working pressure.",
        value=Quantity(found.mean, "gauge pressure"),
        limit=Limit(None, maximum, "gauge pressure"),
        danger="The pump overheats and carbon on its valves can burn.",
        clears="Lower the cut-out with the range adjustment and take three cycles again.",
    )


@check(
    "Panel gauge against the test gauge",
    severity=Severity.HANDOVER,
    source=PRACTICE,
    results={"error": "ratio"},
)
def panel_gauge(panel: GaugePressure, test: GaugePressure) -> Finding:
    """The gauge that people will live with agrees with the test gauge within 3 %.

    Parameters
    ----------
    panel : float
        Panel gauge near cut-out, gauge, [Pa]
    test : float
        Test gauge at the same moment, gauge, [Pa]
    """
    above_zero("test gauge", test, "gauge pressure")
    above_zero("panel gauge", panel, "gauge pressure")
    error, step = work(gauge_error, panel=panel, test=test)
    sound = at_least(error, -0.03) and at_most(error, 0.03)
    way = "low" if error < 0 else "high"
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "The panel gauge agrees with the test gauge."
        if sound
        else f"The panel gauge reads {100 * abs(error):.3g} % {way}.",
        Severity.HANDOVER,
        Quantity(error, "ratio"),
        Limit(-0.03, 0.03, "ratio"),
        (step,),
        danger="People set and watch the pressure by this gauge, and a low one hides an excess.",
        clears="" if sound else "Blow the tank down and replace the panel gauge.",
        ask=unit_question(panel, test),
        results={"error": error},
    )
