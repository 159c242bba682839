"""Evidence for oil and intake: chemistry and gas libraries, published limits, numerics."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import exp, log10, pi, sqrt

import numpy as np
from chemicals.viscosity import Saybolt_universal_eq, viscosity_index
from scipy.linalg import eigh_tridiagonal
from scipy.optimize import brentq

from tests.proof.model import Proof
from tests.units import PropsSI
from wizard.calc import carry_over, intake, oil
from wizard.checks import intake as intakes
from wizard.checks import oil as oils
from wizard.checks import oil_temperature, oil_use

Case = tuple[float | str, float | str]
INCH = 0.0254
FULL_D341 = "full ASTM D341 with the exponential term, solved by scipy brentq"


def full_d341(viscosity: float) -> float:
    """log log Z of the full standard, viscosity in cSt."""
    tail = exp(-1.47 - 1.84 * viscosity - 0.51 * viscosity**2)
    return log10(log10(viscosity + 0.7 + tail))


def full_line(at_40: float, at_100: float) -> tuple[float, float]:
    slope, intercept = np.polyfit(
        np.log10([313.15, 373.15]), [full_d341(at_40), full_d341(at_100)], 1
    )
    return float(intercept), float(-slope)


def full_viscosity(temperature: float, at_40: float, at_100: float) -> float:
    intercept, slope = full_line(at_40, at_100)
    wanted = intercept - slope * log10(temperature)
    return float(brentq(lambda v: full_d341(v) - wanted, 1.9, 3e5))


def full_temperature(viscosity: float, at_40: float, at_100: float) -> float:
    return float(
        brentq(lambda t: full_viscosity(t, at_40, at_100) - viscosity, 250, 400, xtol=1e-9)
    )


def library_index(at_40: float, at_100: float) -> float:
    """Viscosity index from the library, viscosities in cSt."""
    found = viscosity_index(at_40 * 1e-6, at_100 * 1e-6)
    assert found is not None
    return float(found)


def hot_viscosity(at_40: float, index: float) -> float:
    """Viscosity at 100 °C by root finding on the library's viscosity index, cSt."""
    found = brentq(lambda v: library_index(at_40, v) - index, 2.5, 39)
    return float(found)


def index_cases() -> Iterator[Case]:
    yield round(oil.viscosity_index_of(73.3e-6, 8.86e-6)), 92
    for at_40, at_100 in ((100, 11.07), (46, 6.9), (150, 14.9), (32, 6.6), (220, 30.0)):
        ours = oil.viscosity_index_of(at_40 * 1e-6, at_100 * 1e-6)
        yield ours, library_index(at_40, at_100)


def hot_cases() -> Iterator[Case]:
    for at_40, index in ((100.0, 95.0), (100.0, 130.0), (46.0, 100.0), (150.0, 92.0)):
        yield oil.viscosity_at_100(at_40 * 1e-6, index) * 1e6, hot_viscosity(at_40, index)


def line_cases() -> Iterator[Case]:
    for at_40, at_100 in ((100.0, 11.066), (68.0, 8.7)):
        ours = oil.viscosity_line(at_40 * 1e-6, at_100 * 1e-6)
        yield from zip(ours, full_line(at_40, at_100), strict=True)


def thickness_cases() -> Iterator[Case]:
    for temperature in (273.15, 293.15, 353.15):
        yield (
            oil.viscosity_at(temperature, 100e-6, 11.066e-6) * 1e6,
            full_viscosity(temperature, 100.0, 11.066),
        )


def coldest_cases() -> Iterator[Case]:
    for viscosity in (1000.0, 500.0, 2000.0):
        yield (
            oil.temperature_at_viscosity(viscosity * 1e-6, 100e-6, 11.066e-6),
            full_temperature(viscosity, 100.0, 11.066),
        )


def saybolt_cases() -> Iterator[Case]:
    at_100_f, at_210_f = 310.92777777777775, 372.0388888888889
    for viscosity in (10.0, 42.9, 100.0):
        yield oil.saybolt_seconds(viscosity * 1e-6, at_100_f), Saybolt_universal_eq(viscosity)
    yield oil.saybolt_seconds(500e-6, at_210_f), 4.664 * 500


def carry_cases() -> Iterator[Case]:
    milligrams = Fraction(10) * Fraction(85, 100) * 60 * 1000
    yield carry_over.oil_lost(10e-6, 0.85 / 60) * 1e3, float(milligrams / 10**6 / Fraction(88, 100))


def top_up_cases() -> Iterator[Case]:
    grams = Fraction(818, 1000) * 880
    cubic_metres = Fraction(40, 100) * 60 * 1000
    ours = carry_over.oil_in_air(0.818e-3, 3.6e6, 0.40 / 60)
    yield ours * 1e6, float(grams * 1000 / cubic_metres)


def intake_loss_cases() -> Iterator[Case]:
    for drop, ambient in ((2490.889, 101325.0), (6227.2, 85000.0)):
        thin = PropsSI("D", "T", 293.15, "P", ambient - drop, "Air")
        thick = PropsSI("D", "T", 293.15, "P", ambient, "Air")
        yield intake.intake_flow_loss(drop, ambient), 1 - thin / thick


def sound_cases() -> Iterator[Case]:
    for temperature in (263.15, 293.15, 313.15):
        theirs = PropsSI("A", "T", temperature, "P", 101325.0, "Air")
        yield intake.sound_speed(temperature), float(theirs)


def quarter_wave(temperature: float, frequency: float, mode: int) -> float:
    """Length of a closed-open air column, from the eigenvalues of its discretised wave equation."""
    count = 2000
    diagonal = np.full(count, 2.0)
    diagonal[0] = 1.0
    values = eigh_tridiagonal(
        diagonal, np.full(count - 1, -1.0), select="i", select_range=(mode, mode)
    )[0]
    speed = PropsSI("A", "T", temperature, "P", 101325.0, "Air")
    return float(sqrt(values[0]) * (count + 0.5) * speed / (2 * pi * frequency))


def resonance_cases() -> Iterator[Case]:
    yield intake.resonant_length(293.15, 15.0, 1), quarter_wave(293.15, 15.0, 0)
    yield intake.resonant_length(293.15, 17.5, 2), quarter_wave(293.15, 35.0, 0)
    yield intake.resonant_length(293.15, 800 / 60, 1, 3), quarter_wave(293.15, 800 / 60, 1)


def level_check_cases() -> Iterator[Case]:
    for sixteenth in range(17):
        share = Fraction(sixteenth, 16)
        verdict = "PASS"
        if share < Fraction(1, 2):
            verdict = "FAIL safety"
        elif share > Fraction(3, 4):
            verdict = "FAIL handover"
        for indicator in ("sight glass", "dipstick"):
            ours = oils.oil_level(indicator, float(share))
            grade = "" if ours.verdict == "PASS" else f" {ours.severity}"
            yield f"{ours.verdict}{grade}", verdict


def grade_check_cases() -> Iterator[Case]:
    for grade in ("ISO VG 46", "ISO VG 68", "ISO VG 100", "ISO VG 150"):
        at_40 = float(grade.split()[-1])
        warm = full_viscosity((130 + 459.67) / 1.8, at_40, hot_viscosity(at_40, 95.0))
        thick = Saybolt_universal_eq(warm) * (1 + 0.000061 * 30) >= 200
        ours = oils.oil_grade(grade, "not stated", oils.NON_DETERGENT, "only this oil")
        yield str(ours.verdict), "ADVISORY" if thick else "FAIL"


def lot_check_cases() -> Iterator[Case]:
    published = {46: (41.4, 50.6), 68: (61.2, 74.8), 100: (90.0, 110.0), 150: (135.0, 165.0)}
    for grade, (low, high) in published.items():
        for value, verdict in (
            (low, "PASS"),
            (high, "PASS"),
            (low - 0.1, "FAIL"),
            (high + 0.1, "FAIL"),
        ):
            yield str(oils.oil_viscosity(f"ISO VG {grade}", value * 1e-6).verdict), verdict


def sheet_check_cases() -> Iterator[Case]:
    fahrenheit = {349: "FAIL", 350: "PASS", 351: "PASS"}
    for flash, verdict in fahrenheit.items():
        yield str(oils.oil_data_sheet(flash_point=(flash + 459.67) * 5 / 9).verdict), verdict
    for pour, verdict in ((35, "PASS"), (36, "FAIL")):
        yield str(oils.oil_data_sheet(pour_point=(pour + 459.67) * 5 / 9).verdict), verdict
    for carbon, verdict in ((0.02, "PASS"), (0.021, "FAIL")):
        yield str(oils.oil_data_sheet(carbon_residue=carbon).verdict), verdict


def cold_check_cases() -> Iterator[Case]:
    for at_40, index in ((100, 95.0), (100, 130.0), (68, 95.0), (150, 100.0)):
        ours = oil_temperature.cold_start(f"ISO VG {at_40}", 300.0, index=index)
        coldest = full_temperature(1000.0, at_40, hot_viscosity(at_40, index))
        yield ours.results["coldest_start"] - 273.15, coldest - 273.15


def film_check_cases() -> Iterator[Case]:
    for at_40, celsius in ((46, 80), (68, 90), (100, 90), (100, 105)):
        ours = oil_temperature.running_film(f"ISO VG {at_40}", celsius + 273.15, index=95.0)
        theirs = full_viscosity(celsius + 273.15, at_40, hot_viscosity(at_40, 95.0))
        yield str(ours.verdict), "PASS" if theirs >= 10 else "ADVISORY"
        yield ours.results["viscosity"] * 1e6, theirs


def carry_check_cases() -> Iterator[Case]:
    for litres in (0.5, 1.0, 2.0, 4.0):
        milligrams = Fraction(litres) * 880_000 / (Fraction(85, 100) * 60 * 1000)
        verdict = "FAIL" if milligrams > 50 else "ADVISORY" if milligrams > 25 else "PASS"
        ours = oil_use.oil_carry_over(0.85 / 60, topped_up=litres * 1e-3, running=3.6e6)
        yield str(ours.verdict), verdict


def restriction_check_cases() -> Iterator[Case]:
    for inches, verdict in ((5, "PASS"), (6, "ADVISORY"), (15, "ADVISORY"), (16, "FAIL")):
        column = inches * INCH * 999.972 * 9.80665
        ours = intakes.filter_restriction(column, 101325.0)
        yield str(ours.verdict), verdict


def bore_check_cases() -> Iterator[Case]:
    for bore, port, verdict in ((1.049, 1.049, "PASS"), (0.824, 1.049, "ADVISORY")):
        assert (pi * bore**2 / 4 >= pi * port**2 / 4) == (verdict == "PASS")
        yield str(intakes.intake_bore(bore * INCH, port * INCH).verdict), verdict


def resonance_check_cases() -> Iterator[Case]:
    lengths = [quarter_wave(293.15, 15.0, mode) for mode in range(4)]
    for metres in np.arange(0.6, 30.0, 0.7):
        close = any(0.8 * one <= metres <= 1.2 * one for one in lengths)
        ours = intakes.intake_resonance(float(metres), 15.0, 1, 293.15)
        yield str(ours.verdict), "ADVISORY" if close else "PASS"


PROOFS: list[Proof] = [
    Proof("viscosity_index_of", "chemicals; example 92 of ASTM D2270", index_cases, 1e-9),
    Proof("viscosity_at_100", "chemicals, solved by scipy brentq", hot_cases, 1e-9),
    Proof("viscosity_line", FULL_D341, line_cases, 1e-4),
    Proof("viscosity_at", FULL_D341, thickness_cases, 1e-4),
    Proof("temperature_at_viscosity", FULL_D341, coldest_cases, 1e-5),
    Proof("saybolt_seconds", "chemicals; 4.664 SSU per cSt at 210 °F", saybolt_cases, 1e-3),
    Proof("oil_lost", "mg, L and 1000 h in fractions", carry_cases, 1e-9),
    Proof("oil_in_air", "mg and m3 in fractions", top_up_cases, 1e-9),
    Proof("intake_flow_loss", "density of real air (CoolProp)", intake_loss_cases, 1e-3),
    Proof("sound_speed", "real air (CoolProp)", sound_cases, 1e-3),
    Proof("resonant_length", "eigenvalues of an air column, CoolProp", resonance_cases, 1e-3),
    Proof("oil_level", "the band in sixteenths, in fractions", level_check_cases),
    Proof("oil_grade", "chemicals, full ASTM D341: 200 SSU at 130 °F", grade_check_cases),
    Proof("oil_viscosity", "limits printed in ISO 3448", lot_check_cases),
    Proof("oil_data_sheet", "limits printed in NAVEDTRA 14259", sheet_check_cases),
    Proof("cold_start", FULL_D341 + " and chemicals", cold_check_cases, 1e-3),
    Proof("running_film", FULL_D341 + " and chemicals", film_check_cases, 1e-3),
    Proof("oil_carry_over", "mg and m3 in fractions", carry_check_cases),
    Proof("filter_restriction", "weight of a water column", restriction_check_cases),
    Proof("intake_bore", "areas of standard pipe bores", bore_check_cases),
    Proof("intake_resonance", "eigenvalues of an air column, CoolProp", resonance_check_cases),
]
