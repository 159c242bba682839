"""Verdicts on relief valve, receiver and switch, against published limits worked out apart."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

import fluids
import numpy

from tests.proof.model import Proof
from tests.units import UNITS as U
from tests.units import PropsSI
from wizard.checks import pressure_switch, proof_record, receiver, relief, relief_flow
from wizard.checks import stored_energy as energy_check
from wizard.finding import Finding, Verdict

Case = tuple[float | str, float | str]
PSI = 6894.757293168
CFM = float(U.Quantity(1.0, "ft^3/min").to("m^3/s").magnitude)
T60 = 519.67 / 1.8


def word(finding: Finding) -> str:
    """The verdict, with its severity where it fails."""
    failed = finding.verdict is Verdict.FAIL
    return f"FAIL {finding.severity}" if failed else str(finding.verdict)


def pascal(value: float, unit: str) -> float:
    return float(U.Quantity(value, unit).to("Pa").magnitude)


def set_pressures() -> Iterator[Case]:
    pairs = (
        ((200, "psi"), (200, "psi")),
        ((175, "psi"), (165, "psi")),
        ((160, "psi"), (11, "bar")),
        ((159, "psi"), (11, "bar")),
        ((1.0, "megapascal"), (10, "bar")),
    )
    for stamp, limit in pairs:
        over = (U.Quantity(*stamp) / U.Quantity(*limit)).to("").magnitude > 1 + 1e-12
        ours = relief.relief_set_pressure(pascal(*stamp), pascal(*limit))
        yield word(ours), "FAIL safety" if over else "PASS"


def stamps() -> Iterator[Case]:
    for stamp, limit in (((290, "psi"), (20, "bar")), ((12, "bar"), (11, "bar"))):
        over = (U.Quantity(*stamp) / U.Quantity(*limit)).to("").magnitude > 1 + 1e-12
        ours = relief.relief_plate(pascal(*stamp), pascal(*limit))
        yield ours.verdict.value, "ADVISORY" if over else "PASS"


def ratings() -> Iterator[Case]:
    for rating, stamp in (
        ((232, "psi"), (200, "psi")),
        ((16, "bar"), (11, "bar")),
        ((8, "bar"), (11, "bar")),
        ((159, "psi"), (11, "bar")),
        ((1.1, "megapascal"), (11, "bar")),
    ):
        under = (U.Quantity(*rating) / U.Quantity(*stamp)).to("").magnitude < 1 - 1e-12
        yield (
            word(relief.part_rating(pascal(*rating), pascal(*stamp))),
            ("FAIL safety" if under else "PASS"),
        )


def margins() -> Iterator[Case]:
    for setting, cut_out in (
        (200, 175),
        (165, 150),
        (150, 145),
        (200, 180),
        (200, 190),
        (200, 191),
        (90, 85),
        (150, 150),
    ):
        share = Fraction(setting - cut_out, setting)
        if share <= 0:
            theirs = "FAIL safety"
        elif share < Fraction(1, 20) or setting - cut_out < 5:
            theirs = "FAIL handover"
        else:
            theirs = "ADVISORY" if share < Fraction(1, 10) else "PASS"
        yield word(relief.operating_margin(setting * PSI, cut_out * PSI)), theirs


def interstage() -> Iterator[Case]:
    """Normal intercooler pressures as a handbook prints them for 100, 150 and 200 psig."""
    for normal in (26.3, 34.5, 41.4):
        for setting in (normal - 1, normal + 10, normal + 30):
            above = setting > normal + 20
            theirs = "FAIL safety" if above else "FAIL handover" if setting < normal else "PASS"
            ours = relief.relief_interstage(setting * PSI, (normal + 20) * PSI, normal * PSI)
            yield word(ours), theirs


def lifts() -> Iterator[Case]:
    for setting, pressure in ((200, 150), (200, 149), (165, 124), (165, 123), (200, 201)):
        enough = Fraction(pressure, setting) >= Fraction(3, 4)
        theirs = "FAIL safety" if pressure > setting else "PASS" if enough else "INCONCLUSIVE"
        yield word(relief.lift_test(pressure * PSI, setting * PSI)), theirs


def capacities() -> Iterator[Case]:
    """Mass of cold dry air that is swept, over the density at 60 °F and 14.696 psia."""
    reference = PropsSI("D", "P", 14.696 * PSI, "T", T60, "Air")
    for flow, kelvin, pressure in (
        (50 * CFM, 273.15, 14.696 * PSI),
        (2.20 / 60, 263.15, 101325.0),
        (70.154 * CFM, (20 + 459.67) / 1.8, 14.696 * PSI),
        (50 * CFM, 268.15, 84311.0),
    ):
        cold = PropsSI("D", "P", pressure, "T", kelvin, "Air")
        found = relief_flow.relief_capacity(
            flow, kelvin, certified=100 * CFM, intake_pressure=pressure
        )
        yield found.results["required"], flow * cold / reference


def mass_stamps() -> Iterator[Case]:
    """A capacity in kg/h against the mass flow of the pump: the margin is the ratio of masses."""
    for kilograms, flow in ((250.0, 50 * CFM), (100.0, 50 * CFM)):
        swept = flow * PropsSI("D", "P", 101325.0, "T", 273.15, "Air")
        found = relief_flow.relief_capacity(flow, 273.15, certified_mass=kilograms / 3600)
        yield found.results["margin"], kilograms / 3600 / swept


def orifices() -> Iterator[Case]:
    for setting, area in ((200, 0.110), (165, 0.05)):
        square = float(U.Quantity(area, "in^2").to("m^2").magnitude)
        p1 = 1.1 * setting * PSI + 101325
        per_mass = fluids.API520_A_g(m=1.0, T=T60, Z=1.0, MW=28.9647, k=1.4, P1=p1, Kd=0.8775)
        volume = square / per_mass * 287.05287 * T60 / (14.7 * PSI)
        found = relief_flow.relief_orifice(volume, setting * PSI, square)
        yield found.results["possible"], volume
        for share in (1.14, 1.16):
            ours = relief_flow.relief_orifice(share * volume, setting * PSI, square)
            yield word(ours), "PASS" if share < 1.15 else "ADVISORY"


def settings() -> Iterator[Case]:
    for high, low, most in (
        (175, 140, 175),
        (175, 160, 175),
        (175, 161, 175),
        (175, 124, 175),
        (176, 140, 175),
    ):
        band = Fraction(high - low)
        theirs = "FAIL handover" if high > most or band < 15 else "PASS"
        if theirs == "PASS" and band > 50:
            theirs = "ADVISORY"
        yield word(pressure_switch.switch_settings(high * PSI, low * PSI, most * PSI)), theirs


def differentials() -> Iterator[Case]:
    for low in ((140, 141, 139), (161, 162, 160), (120, 121, 122)):
        band = Fraction(175) - Fraction(sum(low), 3)
        theirs = "FAIL handover" if band < 15 else "ADVISORY" if band > 50 else "PASS"
        ours = pressure_switch.switch_differential(175 * PSI, tuple(v * PSI for v in low))
        yield word(ours), theirs


def repeats() -> Iterator[Case]:
    for readings in ((174, 176, 175), (100, 103, 101), (100, 104, 101), (198, 202, 200)):
        spread, mean = int(numpy.ptp(readings)), Fraction(sum(readings), 3)
        theirs = "PASS" if spread <= max(Fraction(3), mean / 50) else "FAIL handover"
        ours = pressure_switch.switch_repeatability(tuple(v * PSI for v in readings))
        yield word(ours), theirs


def measured() -> Iterator[Case]:
    for readings, setting, most in (
        ((174, 176, 175), 200, 180),
        ((174, 176, 200), 200, 180),
        ((180, 181, 180), 250, 180),
    ):
        highest = sorted(readings)[-1]
        over = "FAIL handover" if Fraction(sum(readings), 3) > most else "PASS"
        theirs = "FAIL safety" if highest >= setting else over
        ours = pressure_switch.measured_cut_out(
            tuple(v * PSI for v in readings), setting * PSI, most * PSI
        )
        yield word(ours), theirs


def gauges() -> Iterator[Case]:
    for panel, test in ((168, 175), (170, 175), (180, 175), (181, 175), (97, 100), (103, 100)):
        error = abs(Fraction(panel - test, test))
        theirs = "PASS" if error <= Fraction(3, 100) else "FAIL handover"
        yield word(pressure_switch.panel_gauge(panel * PSI, test * PSI)), theirs


def energies() -> Iterator[Case]:
    """Real air that expands isentropically, against 100 kJ."""
    for gauge, volume in ((175 * PSI, 0.3028), (125 * PSI, 0.1136), (8e5, 0.024), (8e5, 0.05)):
        p = gauge + 101325
        mass = volume * PropsSI("D", "P", p, "T", 293.15, "Air")
        entropy = PropsSI("S", "P", p, "T", 293.15, "Air")
        after = PropsSI("U", "P", 101325, "S", entropy, "Air")
        joule = mass * (PropsSI("U", "P", p, "T", 293.15, "Air") - after)
        yield word(energy_check.stored_energy(volume, gauge)), "ADVISORY" if joule > 1e5 else "PASS"


def proof_tests() -> Iterator[Case]:
    for volume, gauge in ((0.3, 12e5), (0.5, 11e5)):
        found = energy_check.proof_test("test with air above working pressure", volume, gauge)
        yield word(found), "FAIL safety"
        yield found.results["distance"], 30.0
        for method in energy_check.PROOF_TESTS[:2]:
            yield word(energy_check.proof_test(method, volume, gauge)), "PASS"


def plates() -> Iterator[Case]:
    known = {"United States": "ASME U or UM", "European Union": "CE or UKCA"}
    for place, mark in known.items():
        yield word(receiver.receiver_plate("read in full", mark, place)), "PASS"
        yield word(receiver.receiver_plate("missing", mark, place)), "FAIL safety"
        yield word(receiver.receiver_plate("read in full", "none", place)), "FAIL safety"
        other = "other national mark"
        yield word(receiver.receiver_plate("read in full", other, place)), "FAIL handover"


def colds() -> Iterator[Case]:
    for site, plate in ((-10, -20), (-20, -20), (-21, -20), (14, 15)):
        lower = U.Quantity(site, "degC") < U.Quantity(plate, "degC")
        ours = receiver.receiver_temperature(site + 273.15, plate + 273.15)
        yield word(ours), "FAIL safety" if lower else "PASS"


def papers() -> Iterator[Case]:
    for bar, litre in ((10, 270), (8, 24), (10, 25), (10, 24.9)):
        product = (U.Quantity(bar, "bar") * U.Quantity(litre, "L")).to("bar*L").magnitude
        needed = round(float(product), 9) >= 250
        ours = receiver.receiver_papers("United Kingdom", "none", bar * 1e5, litre / 1e3)
        yield word(ours), "FAIL handover" if needed else "PASS"
    for feet, psi in ((1.5, 150), (1.6, 150), (1.5, 151), (10.0, 200)):
        small = feet <= 1.5 and psi <= 150
        volume = float(U.Quantity(feet, "ft^3").to("m^3").magnitude)
        ours = receiver.receiver_papers("United States", "none", psi * PSI, volume)
        yield word(ours), "PASS" if small else "FAIL handover"


def inspections() -> Iterator[Case]:
    today = date(2026, 3, 2)
    for last, portable in (
        (date(2021, 3, 2), False),
        (date(2021, 3, 1), False),
        (date(2023, 3, 2), True),
        (date(2023, 3, 1), True),
        (date(2024, 1, 1), True),
    ):
        years = 3 if portable else 5
        out = last.replace(year=last.year + years) < today
        ours = receiver.receiver_inspection("used before", today, last, portable=portable)
        yield word(ours), "FAIL handover" if out else "PASS"


def records() -> Iterator[Case]:
    for proof in (260, 259, 300):
        sound = Fraction(proof, 200) >= Fraction(13, 10)
        ours = proof_record.proof_record(200 * PSI, proof * PSI)
        yield word(ours), "PASS" if sound else "ADVISORY"


PROOFS = [
    Proof("relief_set_pressure", "ASME VIII-1 UG-134, pint comparison", set_pressures),
    Proof("relief_plate", "ASME VIII-1 UG-134, pint comparison", stamps),
    Proof("part_rating", "ASME VIII-1 UG-125(c), pint comparison", ratings),
    Proof("operating_margin", "API 520 guidance in exact fractions", margins),
    Proof("relief_interstage", "handbook table of intercooler pressures", interstage),
    Proof("lift_test", "8 CCR 465(b)(3)(A) in exact fractions", lifts),
    Proof("relief_capacity", "CoolProp densities of the swept air", capacities, 2e-3),
    Proof("relief_capacity", "CoolProp mass of the swept air", mass_stamps, 2e-3),
    Proof("relief_orifice", "fluids.API520_A_g (rounded constants)", orifices, 1e-3),
    Proof("switch_settings", "exact fractions on the band 15 to 50 psi", settings),
    Proof("switch_differential", "exact fractions on the band 15 to 50 psi", differentials),
    Proof("switch_repeatability", "numpy.ptp and exact fractions", repeats),
    Proof("measured_cut_out", "sorted readings against published margins", measured),
    Proof("panel_gauge", "exact fractions, 3 % band", gauges),
    Proof("stored_energy", "CoolProp real air against 100 kJ", energies),
    Proof("proof_test", "ASME PCC-2 Appendix 501-III, 30 m", proof_tests),
    Proof("receiver_plate", "marks of ASME BPVC VIII and 2014/29/EU", plates),
    Proof("receiver_temperature", "pint comparison of temperatures", colds),
    Proof("receiver_papers", "PSSR 250 bar·L and 8 CCR 462 limits by pint", papers),
    Proof("receiver_inspection", "8 CCR 5 and 3 years by datetime", inspections),
    Proof("proof_record", "ASME VIII-1 UG-99 factor in exact fractions", records),
]
