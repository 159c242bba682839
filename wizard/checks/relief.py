"""Relief valve: set pressure against the receiver, margin above the working pressure, lift test.

Invariant: no rounding tolerance on a set pressure; a hair over the allowable pressure is over.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.accepted import above_zero
from wizard.calc.relief import Margin, lift_pressure, margin_below_relief, relieving_pressure
from wizard.calc.us_units import PSI
from wizard.checks.rule import check
from wizard.checks.unusual import unusual_pressure
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import GaugePressure
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source

RECEIVER_LAW = Source(
    "30 CFR 57.13011; 29 CFR 1917.155(b)(1); OAR 437-004-1505(3)(c)(A); ASME BPVC VIII-1 UG-125(c)",
    "confirmed",
)
AT_OR_BELOW_MAWP = Source(
    "8 CCR 465(b)(4): set at not more than the allowable pressure", "confirmed"
)
CODE_SETTING = Source("ASME BPVC VIII-1 UG-134, from 2021 in BPVC XIII", "memory")
MARGIN_GUIDE = Source("API 520-1 and ASME BPVC VIII-1 Appendix M guidance", "memory")
LIFT_LAW = Source("8 CCR 465(b)(3)(A); ASME BPVC VIII-1 UG-136(a)(3)", "confirmed")
_BAR_PER_PSI = 1e5 / PSI
LIFTS = "lifts freely and reseals"
BURST = "The tank can burst and throw its ends across the room; people beside it do not survive."


def unit_question(one: float, other: float) -> str:
    """Whether two pressures differ by the factor between psi and bar."""
    for ratio in (one / other, other / one):
        if abs(ratio / _BAR_PER_PSI - 1.0) < 0.12:
            return "Is one of the two pressures in bar and the other in psi? They differ by 14.5."
    return ""


@check(
    "Relief valve set pressure against the receiver",
    severity=Severity.SAFETY,
    source=(AT_OR_BELOW_MAWP, RECEIVER_LAW, CODE_SETTING),
)
def relief_set_pressure(
    set_pressure: GaugePressure,
    mawp: GaugePressure,
) -> Finding:
    """The stamped set pressure may not be above what the receiver is built for.

    Parameters
    ----------
    set_pressure : float
        Stamp on the valve body, gauge, [Pa]
    mawp : float
        Maximum allowable working pressure on the receiver plate, gauge, [Pa]
    """
    above_zero("set pressure", set_pressure, "gauge pressure")
    above_zero("receiver limit", mawp, "gauge pressure")
    _, over = work(relieving_pressure, set_pressure=set_pressure)
    ask = unit_question(set_pressure, mawp) or unusual_pressure("pressure", set_pressure, mawp)
    sound = at_most(set_pressure, mawp)
    share = set_pressure / mawp - 1.0
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "The relief valve opens at or below the receiver's limit."
        if sound
        else f"The relief valve opens {100 * share:.2g} % above the receiver's limit.",
        Severity.SAFETY,
        Quantity(set_pressure, "gauge pressure"),
        Limit(None, mawp, "gauge pressure"),
        (over,),
        danger=BURST,
        clears=""
        if sound
        else "Fit a valve stamped at or below that limit; never re-set one on site.",
        ask=ask,
    )


@check(
    "Relief valve stamp against the receiver plate",
    severity=Severity.ADVISORY,
    source=(AT_OR_BELOW_MAWP, RECEIVER_LAW, CODE_SETTING),
)
def relief_plate(set_pressure: GaugePressure, mawp: GaugePressure) -> Finding:
    """The same rule on the plates, before anybody sets out: the job is held by the valve as fitted.

    Parameters
    ----------
    set_pressure : float
        Stamp on the valve that came with the machine, gauge, [Pa]
    mawp : float
        Maximum allowable working pressure on the receiver plate, gauge, [Pa]
    """
    judged = relief_set_pressure(set_pressure, mawp)
    if judged.verdict is Verdict.PASS:
        return replace(judged, severity=Severity.ADVISORY, sources=())
    again = "This stamp is above the receiver's limit; are both plates read right, units too?"
    return replace(
        judged,
        verdict=Verdict.ADVISORY,
        severity=Severity.ADVISORY,
        clears="Do not fit this valve, and put no pressure in the tank under it. Read both plates "
        "again; then ask the maker or supplier for a valve stamped at or below that limit, or "
        "ask the pressure-vessel inspector. It is never re-set on site.",
        ask=judged.ask or again,
        sources=(),
    )


@check(
    "Rating of the parts against the relief setting",
    severity=Severity.SAFETY,
    source=(RECEIVER_LAW, CODE_SETTING),
)
def part_rating(rating: GaugePressure, set_pressure: GaugePressure) -> Finding:
    """The weakest part on the tank's air stands the pressure at which the relief valve opens.

    Parameters
    ----------
    rating : float
        Lowest rated pressure of hose, filter, switch, gauge, pipe on that air, gauge, [Pa]
    set_pressure : float
        Stamp on the relief valve, gauge, [Pa]
    """
    above_zero("rating", rating, "gauge pressure")
    above_zero("set pressure", set_pressure, "gauge pressure")
    _, over = work(relieving_pressure, set_pressure=set_pressure)
    sound = at_least(rating, set_pressure)
    share = 1.0 - rating / set_pressure
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "The weakest part stands the relief setting."
        if sound
        else f"The weakest part is rated {100 * share:.2g} % below the relief setting.",
        Severity.SAFETY,
        Quantity(rating, "gauge pressure"),
        Limit(set_pressure, None, "gauge pressure"),
        (over,),
        danger="The part bursts into somebody's face before the relief valve opens.",
        clears=""
        if sound
        else "Replace that part by one rated at the relief setting or above, or fit a relief "
        "valve stamped at or below its rating.",
        ask=unit_question(rating, set_pressure),
    )


@check(
    "Working pressure below the relief setting",
    severity=Severity.SAFETY,
    source=(MARGIN_GUIDE,),
    results={"margin": "ratio"},
)
def operating_margin(relief_set: GaugePressure, cut_out: GaugePressure) -> Finding:
    """The relief valve stays shut in normal work, so that it is fresh when it is needed.

    Parameters
    ----------
    relief_set : float
        Stamp on the valve body, gauge, [Pa]
    cut_out : float
        Pressure at which the switch stops the motor, gauge, [Pa]
    """
    above_zero("relief setting", relief_set, "gauge pressure")
    above_zero("cut-out", cut_out, "gauge pressure")
    margin, step = work(margin_below_relief, relief_set=relief_set, cut_out=cut_out)
    verdict, severity, text, danger = _margin_verdict(relief_set, cut_out, margin)
    return Finding(
        verdict,
        text,
        severity,
        Quantity(margin.share, "ratio"),
        Limit(0.10, None, "ratio"),
        (step,),
        danger=danger,
        clears=""
        if verdict is Verdict.PASS
        else "Lower the cut-out; never raise the relief setting or the receiver's limit.",
        ask=unit_question(relief_set, cut_out),
        results={"margin": margin.share},
    )


def _margin_verdict(
    relief_set: float, cut_out: float, margin: Margin
) -> tuple[Verdict, Severity, str, str]:
    if at_least(cut_out, relief_set):
        return (
            Verdict.FAIL,
            Severity.SAFETY,
            "The switch stops the motor only at or above the relief setting.",
            "The relief valve becomes the control and wears out, and then the tank can burst.",
        )
    if not at_least(margin.share, 0.05) or not at_least(margin.difference, 5.0 * PSI):
        return (
            Verdict.FAIL,
            Severity.HANDOVER,
            "The cut-out is less than 5 % or less than 5 psi (0.34 bar) below the relief setting.",
            "The valve simmers, wears its seat and leaks, and then somebody plugs it.",
        )
    if not at_least(margin.share, 0.10):
        return (
            Verdict.ADVISORY,
            Severity.ADVISORY,
            "The cut-out is between 5 % and 10 % below the relief setting.",
            "The valve may simmer and wear.",
        )
    text = "The cut-out is 10 % or more below the relief setting."
    return Verdict.PASS, Severity.SAFETY, text, ""


@check(
    "Setting of the relief valve between the stages",
    severity=Severity.SAFETY,
    source=(COMMON_PRACTICE, OUR_JUDGEMENT),
)
def relief_interstage(
    set_pressure: GaugePressure,
    builder_set: GaugePressure | None = None,
    normal: GaugePressure | None = None,
) -> Finding:
    """The relief valve between the stages is set as the builder says, above the normal pressure.

    Parameters
    ----------
    set_pressure : float
        Stamp on the interstage valve, gauge, [Pa]
    builder_set : float, optional
        Setting in the builder's papers, gauge, [Pa]
    normal : float, optional
        Builder's normal interstage pressure, gauge, [Pa]
    """
    above_zero("interstage relief setting", set_pressure, "gauge pressure")
    above_zero("builder's setting", builder_set, "gauge pressure")
    above_zero("normal interstage pressure", normal, "gauge pressure")
    passed = Finding(
        Verdict.PASS,
        "The valve between the stages is set no higher than the builder allows.",
        Severity.SAFETY,
        Quantity(set_pressure, "gauge pressure"),
        Limit(normal, builder_set, "gauge pressure"),
        danger="The intercooler or the low-pressure head can burst beside whoever stands there.",
    )
    if builder_set is None:
        return replace(
            passed,
            verdict=Verdict.INCONCLUSIVE,
            text="The builder's setting for the valve between the stages is not known.",
            clears="Get the setting from the builder's papers before the first start.",
            wants="builder_set",
        )
    fit_listed = "Fit the valve that the builder lists for this pump."
    if not at_most(set_pressure, builder_set):
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text="The valve between the stages opens above the builder's setting.",
            clears=fit_listed,
            ask=unit_question(set_pressure, builder_set),
        )
    if normal is not None and at_least(normal, set_pressure):
        return replace(
            passed,
            verdict=Verdict.FAIL,
            severity=Severity.HANDOVER,
            text="The valve between the stages opens at or below the normal interstage pressure.",
            danger="It lifts in normal running, wears its seat and blows hot air at people.",
            clears=fit_listed,
        )
    return passed


@check("Lift test of the relief valve", severity=Severity.SAFETY, source=LIFT_LAW)
def lift_test(
    pressure: GaugePressure, relief_set: GaugePressure, result: str | None = None
) -> Finding:
    """The lever is pulled at 75 % of the setting or more; the valve blows freely and reseals.

    Parameters
    ----------
    pressure : float
        Tank pressure when the lever was pulled, gauge, [Pa]
    relief_set : float
        Stamp on the valve body, gauge, [Pa]
    result : str, optional
        "lifts freely and reseals", or what it did instead
    """
    above_zero("relief setting", relief_set, "gauge pressure")
    above_zero("tank pressure", pressure, "gauge pressure")
    least, step = work(lift_pressure, relief_set=relief_set)
    text = "High enough for the lift test." if result is None else "The valve lifts and reseals."
    passed = Finding(
        Verdict.PASS,
        text,
        Severity.SAFETY,
        Quantity(pressure, "gauge pressure"),
        Limit(least, relief_set, "gauge pressure"),
        (step,),
        danger="A valve glued by rust or varnish stays shut, and the tank bursts instead.",
    )
    if not at_least(pressure, least):
        return replace(
            passed,
            verdict=Verdict.INCONCLUSIVE,
            text="The tank was below 75 % of the relief setting, so the test does not count.",
            danger="At low pressure it does not lift cleanly and dirt gets under the seat.",
            clears="Pump up to 75 % of the setting or more and lift it again.",
        )
    if not at_most(pressure, relief_set):
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text="The tank was above the relief setting and the valve had not opened.",
            clears="Stop, blow the tank down, replace the valve and check the gauge.",
        )
    if result is not None and result != LIFTS:
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text=f"The relief valve failed the lift test: {result}.",
            clears="Blow the tank down and replace the valve; it is not repaired on site.",
        )
    return passed
