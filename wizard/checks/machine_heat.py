"""Temperatures around the pump: the air it breathes and the oil it stands in."""

from __future__ import annotations

from wizard.calc.accepted import inside
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.kinds import Temperature
from wizard.quantities import Quantity, at_most
from wizard.sources import COMMON_PRACTICE, Source

INTAKE_NOTE, INTAKE_FIX = 273.15 + 40, 273.15 + 46
SUMP_MINERAL, SUMP_SYNTHETIC = 273.15 + 90, 273.15 + 105


@check(
    "Intake air temperature",
    severity=Severity.HANDOVER,
    source=Source("usual limit of compressor builders", "memory"),
)
def intake_air_temperature(measured: Temperature) -> Finding:
    """Air at the intake filter, not at the wall.

    Parameters
    ----------
    measured : float
        Air temperature at the intake filter, [K]
    """
    inside("intake temperature", measured, "temperature", "°C", -60, 80)
    value = Quantity(measured, "temperature")
    if at_most(measured, INTAKE_NOTE):
        ask = "" if 233.15 <= measured <= 333.15 else "Is that the air at the filter, in that unit?"
        return Finding(
            Verdict.PASS,
            "Cool enough.",
            Severity.HANDOVER,
            value,
            Limit(None, INTAKE_NOTE, "temperature"),
            ask=ask,
        )
    bad = not at_most(measured, INTAKE_FIX)
    return Finding(
        Verdict.FAIL if bad else Verdict.ADVISORY,
        "Too hot to run in." if bad else "Warmer than pumps like it.",
        Severity.HANDOVER if bad else Severity.ADVISORY,
        value,
        Limit(None, INTAKE_FIX if bad else INTAKE_NOTE, "temperature"),
        danger="Every degree at the intake is more than one at the valves.",
        clears="Bring in outside air, and lead the hot cooling air away.",
    )


@check("Oil sump temperature", severity=Severity.HANDOVER, source=COMMON_PRACTICE)
def sump_temperature(measured: Temperature, oil: str) -> Finding:
    """Oil temperature after the warm-up, by the kind of oil.

    Parameters
    ----------
    measured : float
        Contact thermometer on the crankcase at oil level, [K]
    oil : str
        Kind of oil; a full synthetic stands more heat than any other
    """
    inside("sump temperature", measured, "temperature", "°C", -40, 200)
    kind = oil.casefold()
    synthetic = "synthetic" in kind and "semi" not in kind and "part" not in kind
    highest = SUMP_SYNTHETIC if synthetic else SUMP_MINERAL
    value, limit = Quantity(measured, "temperature"), Limit(None, highest, "temperature")
    if at_most(measured, highest):
        return Finding(Verdict.PASS, "The oil is cool enough.", Severity.HANDOVER, value, limit)
    return Finding(
        Verdict.FAIL,
        "The oil is too hot.",
        Severity.HANDOVER,
        value,
        limit,
        danger="Thin, oxidised oil leaves bearings dry and carbon on the valves.",
        clears="Check level, grade, fins, rotation and the cooling air.",
    )
