"""Altitude and heat at the motor, against the power it gives.

Invariant: a derating without a measured load is never a pass.
"""

from __future__ import annotations

from wizard.calc.accepted import above_zero, within, zero_or_above
from wizard.calc.derating import (
    ALTITUDE,
    AMBIENT,
    CLASS_F_RISE,
    derated_fraction,
    permitted_rise,
)
from wizard.calc.gas import ZERO_CELSIUS
from wizard.calc.overload import SERVICE_FACTOR
from wizard.checks.given import given
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import Length, Number, Power, Ratio, Temperature, TemperatureDifference
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import OUR_JUDGEMENT, Source

HOTTEST = 46 + ZERO_CELSIUS
SERVICE_FACTOR_ALTITUDE = 2740.0


@check(
    "Altitude and heat at the motor",
    severity=Severity.SAFETY,
    source=(
        Source("NEMA MG 1 14.3, 14.4 and IEC 60034-1: 40 °C and 1000 m", "memory"),
        OUR_JUDGEMENT,
    ),
    results={"factor": "ratio", "allowed": "power"},
)
def altitude_and_heat(
    altitude: Length,
    ambient: Temperature,
    power: Power,
    shaft: Power | None = None,
    rise: TemperatureDifference | None = None,
    service_factor: Number | None = None,
    unbalance_factor: Ratio | None = None,
) -> Finding:
    """Shaft power stays below the nameplate derated for the site; above 46 °C nothing runs.

    Parameters
    ----------
    altitude : float
        Site elevation, -100 to 4000, [m]
    ambient : float
        Air at the motor's inlet, -20 °C to 60 °C, [K]
    power : float
        Nameplate power, [W]
    shaft : float, optional
        Shaft power measured near cut-out, [W]
    rise : float, optional
        Rated temperature rise; 105 K where none is marked, [K]
    service_factor : float, optional
        Nameplate service factor, [-]
    unbalance_factor : float, optional
        Derating for voltage unbalance, [-]
    """
    within("altitude", altitude, "length", "m", *ALTITUDE)
    within("ambient", ambient, "temperature", "°C", *AMBIENT)
    above_zero("power", power, "power", "hp")
    within("service_factor", given(service_factor, 1.0), "number", "", *SERVICE_FACTOR)
    within("unbalance_factor", given(unbalance_factor, 1.0), "ratio", "%", 1, 100)
    if shaft is not None:
        zero_or_above("shaft", shaft, "power", "hp")
    factor, steps = _factor(
        altitude, ambient, given(rise, CLASS_F_RISE), given(service_factor, 1.0)
    )
    allowed = power * factor * given(unbalance_factor, 1.0)
    verdict, severity, text = _grade(ambient, factor, allowed, shaft)
    good = verdict in (Verdict.PASS, Verdict.ADVISORY)
    return Finding(
        verdict,
        text,
        severity,
        Quantity(ambient, "temperature") if shaft is None else Quantity(shaft, "power"),
        Limit(None, HOTTEST, "temperature") if shaft is None else Limit(None, allowed, "power"),
        steps,
        danger="Thin or hot air cools less: the winding ages in weeks and then burns.",
        clears="" if good else "Cooler inlet air, less load, or a motor rated for the site.",
        results={"factor": factor, "allowed": allowed},
    )


def _factor(
    altitude: float, ambient: float, rise: float, service_factor: float
) -> tuple[float, tuple[Step, ...]]:
    """Share of nameplate power; a 1.15 service factor pays for 1000 m to 2740 m at 40 °C."""
    share, step = work(permitted_rise, altitude=altitude, ambient=ambient, rise=rise)
    spare = at_least(service_factor, 1.15) and at_most(altitude, SERVICE_FACTOR_ALTITUDE)
    if spare and at_most(ambient, 40 + ZERO_CELSIUS):
        return 1.0, (step,)
    fraction, fraction_step = work(derated_fraction, share=share)
    return fraction, (step, fraction_step)


def _grade(
    ambient: float, factor: float, allowed: float, shaft: float | None
) -> tuple[Verdict, Severity, str]:
    if not at_most(ambient, HOTTEST):
        return Verdict.FAIL, Severity.SAFETY, "The motor breathes air above 46 °C (115 °F): stop."
    if shaft is not None and not at_most(shaft, allowed):
        text = "The shaft power is above what the site leaves of the nameplate."
        return Verdict.FAIL, Severity.HANDOVER, text
    if at_least(factor, 1.0):
        return Verdict.PASS, Severity.SAFETY, "Neither altitude nor heat takes power away."
    if shaft is None:
        text = "The motor is derated here; the shaft power must stay below it."
        return Verdict.ADVISORY, Severity.ADVISORY, text
    return Verdict.PASS, Severity.SAFETY, "The shaft power is inside the derated nameplate."
