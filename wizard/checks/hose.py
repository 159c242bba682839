"""Hoses: rating against the relief setting when hot, burst ratio, heat on the discharge line.

Invariant: a hose is compared with the relief setting, never with the cut-out.
"""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

from wizard.calc.accepted import above_zero, inside, one_of
from wizard.calc.compression import stage_temperature
from wizard.calc.gas import STANDARD_PRESSURE
from wizard.calc.hose import (
    RATINGS,
    burst_to_working,
    hose_to_relief,
    hot_working_pressure,
    metal_hose_factor,
)
from wizard.checks.relief import unit_question
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import GaugePressure, Ratio, Temperature
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source

HOSE_LAW = Source(
    "46 CFR 197.312(a)(1) by analogy; 29 CFR 1926.302(b)(5), working pressure not exceeded",
    "confirmed",
)
BURST_LAW = Source("46 CFR 197.312(a)(2) by analogy; ISO 2398 and ISO 7751", "confirmed")
METAL_FACTORS = Source(
    "lowest braid factors of US hose tables, or ISO 10380; the maker's own factor outranks them",
    "memory",
)
METAL = "metal flexible hose"
NOT_STATED = "not stated"
RUBBER = "rubber or plastic air hose"
RUBBER_LIMIT = 343.15
"""Without a marking of its own, rubber and plastic end at 70 °C."""
WHIP = "A hose that lets go whips its end at head height; it can blind or kill."


@check(
    "Hose working pressure against the relief setting",
    severity=Severity.SAFETY,
    source=(HOSE_LAW, METAL_FACTORS, OUR_JUDGEMENT),
    results={"hot": "gauge pressure", "ratio": "ratio"},
)
def hose_rating(
    working_pressure: GaugePressure,
    relief_set: GaugePressure,
    kind: str,
    temperature: Temperature,
    burst: GaugePressure | None = None,
    marked_temperature: Temperature | None = None,
    rating: str = RATINGS[0],
    maker_factor: Ratio | None = None,
) -> Finding:
    """The hose stands what the relief valve lets stand, at the temperature it really has.

    Parameters
    ----------
    working_pressure : float
        Marked working pressure, gauge, [Pa]
    relief_set : float
        Set pressure of the relief valve that protects it, gauge, [Pa]
    kind : str
        metal flexible hose, or rubber or plastic air hose
    temperature : float
        Highest temperature of hose wall or air, [K]
    burst : float, optional
        Burst or proof pressure, if printed too, gauge, [Pa]
    marked_temperature : float, optional
        Highest temperature on the hose's own marking, [K]
    rating : str, optional
        How a metal hose was rated: US, a quarter of burst; ISO 10380; not stated
    maker_factor : float, optional
        Maker's own factor for a metal hose at this temperature, [-]
    """
    one_of("kind of hose", kind, (METAL, RUBBER))
    one_of("rating", rating, (*RATINGS, NOT_STATED))
    above_zero("hose working pressure", working_pressure, "gauge pressure")
    above_zero("relief setting", relief_set, "gauge pressure")
    inside("hose temperature", temperature, "temperature", "°C", -50, 426.85)
    if burst is not None and at_most(burst, working_pressure):
        raise InputError(
            "hose working pressure",
            "a value at or above the printed burst or proof pressure",
            "the working pressure, which is well below it",
        )
    if (hot_limit := _too_hot(kind, temperature, marked_temperature)) is not None:
        return hot_limit
    factor, steps = _factor(kind, temperature, rating, maker_factor)
    hot, hot_step = work(hot_working_pressure, working_pressure=working_pressure, factor=factor)
    ratio, ratio_step = work(hose_to_relief, working_pressure=hot, relief_set=relief_set)
    passed = Finding(
        Verdict.PASS,
        "The hose stands more than the relief valve lets stand.",
        Severity.SAFETY,
        Quantity(hot, "gauge pressure"),
        Limit(relief_set, None, "gauge pressure"),
        (*steps, hot_step, ratio_step),
        danger=WHIP,
        ask=unit_question(working_pressure, relief_set),
        results={"hot": hot, "ratio": ratio},
    )
    if not at_least(ratio, 1.0):
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text="At its temperature the hose stands less than the relief setting.",
            clears="Fit a hose with a higher working pressure at this temperature.",
        )
    if not at_least(ratio, 1.1):
        return replace(
            passed,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="The hose stands the relief setting, but not 10 % more, where the valve blows.",
            clears="Prefer a hose rated 10 % or more above the relief setting.",
        )
    return passed


def _factor(
    kind: str, temperature: float, rating: str, maker_factor: float | None
) -> tuple[float, tuple[Step, ...]]:
    if kind != METAL:
        return 1.0, ()
    if maker_factor is not None:
        return maker_factor, ()
    strictest = RATINGS[1] if rating == NOT_STATED else rating
    factor, step = work(metal_hose_factor, temperature=temperature, rating=strictest)
    return factor, (step,)


def _too_hot(kind: str, temperature: float, marked: float | None) -> Finding | None:
    if kind == METAL and marked is None:
        return None
    limit = RUBBER_LIMIT if marked is None else marked
    if at_most(temperature, limit):
        return None
    return Finding(
        Verdict.FAIL,
        "The hose is hotter than it may be.",
        Severity.SAFETY,
        Quantity(temperature, "temperature"),
        Limit(None, limit, "temperature"),
        danger=WHIP,
        clears="Fit a hose marked for this temperature, or metal.",
    )


@check(
    "Burst pressure of the hose against its working pressure",
    severity=Severity.SAFETY,
    source=(BURST_LAW, OUR_JUDGEMENT),
    results={"ratio": "ratio"},
)
def hose_burst_ratio(
    working_pressure: GaugePressure, burst: GaugePressure | None = None
) -> Finding:
    """Four to one, for age, kinks and pulsation; less than three to one holds, by our judgement.

    Parameters
    ----------
    working_pressure : float
        Working pressure, gauge, [Pa]
    burst : float, optional
        Burst pressure from the hose certificate, gauge, [Pa]
    """
    above_zero("hose working pressure", working_pressure, "gauge pressure")
    above_zero("burst pressure", burst, "gauge pressure")
    if burst is None:
        return Finding(
            Verdict.NOT_APPLICABLE,
            "No certificate with a burst pressure is at hand.",
            Severity.ADVISORY,
        )
    ratio, step = work(burst_to_working, burst=burst, working_pressure=working_pressure)
    passed = Finding(
        Verdict.PASS,
        "The hose bursts at four times its working pressure or more.",
        Severity.SAFETY,
        Quantity(ratio, "ratio"),
        Limit(4.0, None, "ratio"),
        (step,),
        danger=WHIP,
        results={"ratio": ratio},
    )
    if at_least(ratio, 4.0):
        return passed
    text = "The hose bursts below four times its working pressure"
    grave = not at_least(ratio, 3.0)
    return replace(
        passed,
        verdict=Verdict.FAIL,
        severity=Severity.SAFETY if grave else Severity.HANDOVER,
        text=f"{text}, so far below that no pressure is put on it." if grave else f"{text}.",
        clears="Fit a hose with a burst ratio of four or more.",
    )


INTERCOOLER_APPROACH = 20.0
"""K by which air leaves the intercooler warmer than the room."""
LINES = (
    "metal tube",
    "metal flexible hose",
    "hose marked for the discharge temperature",
    "ordinary rubber or plastic hose",
)


@check(
    "Line from pump to tank",
    severity=Severity.SAFETY,
    source=(COMMON_PRACTICE, OUR_JUDGEMENT),
)
def discharge_line(
    kind: str,
    temperature: Temperature | None = None,
    marked: Temperature | None = None,
    highest_pressure: GaugePressure | None = None,
    hottest_intake: Temperature | None = None,
    stages: str = "one",
) -> Finding:
    """The hottest line of the machine is metal, or a hose marked for the heat.

    Parameters
    ----------
    kind : str
        metal tube, metal flexible hose, hose marked for the temperature, ordinary hose
    temperature : float, optional
        Measured discharge temperature, [K]
    marked : float, optional
        Highest temperature on the hose, [K]
    highest_pressure : float, optional
        Highest working pressure, to predict the temperature from, gauge, [Pa]
    hottest_intake : float, optional
        Hottest intake air, to predict the temperature from, [K]
    stages : str, optional
        one or two
    """
    one_of("line from pump to tank", kind, LINES)
    one_of("stages", stages, ("one", "two"))
    inside("discharge temperature", temperature, "temperature", "°C", -20, 426.85)
    inside("marked temperature", marked, "temperature", "°C", -20, 726.85)
    predicted, steps = _predicted(highest_pressure, hottest_intake, stages)
    passed = Finding(
        Verdict.PASS,
        "The line from pump to tank stands the heat.",
        Severity.SAFETY,
        working=steps,
        danger="Hot air softens the hose, it lets go at the pump and whips, and oil can burn.",
    )
    failed = replace(
        passed,
        verdict=Verdict.FAIL,
        severity=Severity.HANDOVER,
        clears="Fit metal tube, or a hose marked for the discharge temperature.",
    )
    allowed = marked if marked is not None else RUBBER_LIMIT if kind == LINES[3] else None
    if allowed is not None and temperature is not None and not at_most(temperature, allowed):
        return replace(
            failed,
            severity=Severity.SAFETY,
            text="The air from the pump is hotter than the line may be.",
            value=Quantity(temperature, "temperature"),
            limit=Limit(None, allowed, "temperature"),
        )
    if kind == LINES[3]:
        return replace(failed, text="Ordinary hose between pump and tank.")
    if kind == LINES[2] and marked is None:
        return replace(
            failed,
            verdict=Verdict.INCONCLUSIVE,
            text="The temperature marked on the hose is not on record.",
        )
    if marked is not None and predicted is not None and not at_most(predicted, marked):
        return replace(
            failed,
            text="The air from the pump is expected to be hotter than the line may be.",
            value=Quantity(predicted, "temperature"),
            limit=Limit(None, marked, "temperature"),
        )
    return passed


def _predicted(
    highest_pressure: float | None, hottest_intake: float | None, stages: str
) -> tuple[float | None, tuple[Step, ...]]:
    """Discharge temperature of an air-cooled pump at sea level, exponent 1.35."""
    if highest_pressure is None or hottest_intake is None:
        return None, ()
    above_zero("highest pressure", highest_pressure, "gauge pressure")
    inside("hottest intake", hottest_intake, "temperature", "°C", -50, 70)
    ratio = (highest_pressure + STANDARD_PRESSURE) / STANDARD_PRESSURE
    inlet = hottest_intake
    if stages == "two":
        ratio, inlet = sqrt(ratio), hottest_intake + INTERCOOLER_APPROACH
    value, step = work(stage_temperature, inlet_temperature=inlet, ratio=ratio, exponent=1.35)
    return value, (step,)
