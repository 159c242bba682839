"""Insulation of the motor windings before power goes on.

Invariant: judged at 40 °C and only at 500 V DC, with the motor alone on the leads.
"""

from __future__ import annotations

from wizard.both_units import both
from wizard.calc.accepted import within
from wizard.calc.insulation import insulation_at_40, insulation_at_40_thermosetting
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Resistance, Temperature, Voltage
from wizard.quantities import Quantity, at_least
from wizard.sources import Source

TEST_VOLTAGE = 500.0
MEGOHM = 1e6
WET_DANGER = (
    "Energising a wet winding punches it for ever, and a weak one can put the frame at line "
    "voltage."
)


@check(
    "Insulation resistance of the motor",
    severity=Severity.SAFETY,
    source=(
        Source("IEEE 43: 5 megohm for windings below 1 kV, doubling per 10 °C", "confirmed"),
        Source("IEEE 43-2000 Table 1: 500 V DC below 1000 V", "confirmed"),
        Source("IEC 60204-1 18.3: not less than 1 megohm", "memory"),
    ),
    results={"lowest": "resistance"},
)
def insulation_resistance(
    readings: tuple[Resistance, ...],
    temperature: Temperature,
    test_voltage: Voltage = TEST_VOLTAGE,
    rated_voltage: Voltage | None = None,
    thermosetting: bool = False,
) -> Finding:
    """Each phase to frame after 60 s, corrected to 40 °C: 1, 5 and 100 megohm decide.

    Parameters
    ----------
    readings : tuple of float
        Insulation resistance of each phase to frame after 60 s, [ohm]
    temperature : float
        Winding temperature, -10 °C to 90 °C, [K]
    test_voltage : float, optional
        Test voltage, DC, [V]
    rated_voltage : float, optional
        Rated voltage of the winding, below 1000, [V]
    thermosetting : bool, optional
        Whether to correct as a thermosetting winding instead of the general rule, [-]
    """
    _test(test_voltage, rated_voltage)
    if not 1 <= len(readings) <= 3:
        raise InputError("readings", f"{len(readings)} readings", "one to three, one a phase")
    rule = insulation_at_40_thermosetting if thermosetting else insulation_at_40
    worked = [work(rule, resistance=r, temperature=temperature) for r in readings]
    corrected = sorted(value for value, _ in worked)
    lowest = corrected[0]
    step = min(worked, key=lambda pair: pair[0])[1]
    verdict, severity, text, clears = _grade(lowest)
    apart = len(corrected) > 1 and lowest < 0.5 * corrected[1] * (1 - 1e-9)
    if apart and at_least(lowest, MEGOHM):
        verdict, severity = Verdict.FAIL, Severity.HANDOVER
        text = "One phase has less than half of the others: moisture or damage."
        clears = "Find the moisture or damage in that phase, then measure again."
    return Finding(
        verdict,
        text,
        severity,
        Quantity(lowest, "resistance"),
        Limit(5 * MEGOHM, None, "resistance"),
        (step,),
        danger=WET_DANGER,
        clears=clears,
        results={"lowest": lowest},
    )


def _test(test_voltage: float, rated_voltage: float | None) -> None:
    if rated_voltage is not None:
        within("rated_voltage", rated_voltage, "voltage", "V", 100, 999)
    if not abs(test_voltage - TEST_VOLTAGE) <= 0.01 * TEST_VOLTAGE:
        raise InputError(
            "test voltage",
            both(test_voltage, "voltage"),
            "500 V DC for a winding below 1000 V, never more",
        )


def _grade(lowest: float) -> tuple[Verdict, Severity, str, str]:
    if not at_least(lowest, MEGOHM):
        text = "Below 1 megohm at 40 °C: do not energise."
        clears = "Dry the motor out or replace it; measure again before any power."
        return Verdict.FAIL, Severity.SAFETY, text, clears
    if not at_least(lowest, 5 * MEGOHM):
        text = "Below 5 megohm at 40 °C: damp or dirty."
        return Verdict.FAIL, Severity.HANDOVER, text, "Dry out with gentle heat, then retest."
    if not at_least(lowest, 100 * MEGOHM):
        text = "Sound, corrected to 40 °C; a good new motor shows 100 megohm there."
        return Verdict.ADVISORY, Severity.ADVISORY, text, ""
    return Verdict.PASS, Severity.SAFETY, "Dry and sound.", ""
