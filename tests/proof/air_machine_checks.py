"""Verdicts on the running machine, its leaks and its water, against limits worked out apart."""

from __future__ import annotations

from collections.abc import Iterator

import fluids
import numpy
import psychrolib

from tests.proof.air_checks import celsius, steps, word
from tests.proof.model import Proof
from tests.tank import ATM, CFM, MOLAR_GAS, PSI, Case, filling_time, moles
from tests.units import UNITS as U
from tests.units import HAPropsSI, PropsSI
from wizard.checks import (
    discharge,
    displacement,
    interstage,
    leak,
    leak_price,
    machine_heat,
    power,
    receiver_cycle,
    water,
)


def speeds() -> Iterator[Case]:
    for rpm in (860.0, 880.0, 900.0, 1000.0, 1001.0):
        cubic = U.Quantity(numpy.pi / 4 * 5.25**2 * 3.5 * 2 * rpm, "in^3/min")
        ours = displacement.displacement_speed(
            rpm / 60, 900 / 60, 1000 / 60, 5.25 * 0.0254, 3.5 * 0.0254, 2
        )
        slow = "ADVISORY" if rpm < 0.97 * 900 else "PASS"
        yield word(ours), "FAIL safety" if rpm > 1000 else slow
        if "displacement" in ours.results:
            yield ours.results["displacement"], float(cubic.to("m^3/s").magnitude)


def fillings() -> Iterator[Case]:
    for share, said in (
        (0.54, "FAIL handover"),
        (0.58, "ADVISORY"),
        (0.70, "PASS"),
        (0.85, "ADVISORY"),
        (0.96, "FAIL handover"),
    ):
        ours = displacement.volumetric_efficiency("one", share * 0.02, 0.02, 7e5)
        yield word(ours), said


def discharges() -> Iterator[Case]:
    """Each step of the limits, from the published 350 °F and the recalled 200 and 220 °C."""
    two = ((149.0, "PASS"), (177.0, "ADVISORY"))
    one = ((177.0, "PASS"), (200.0, "ADVISORY"), (220.0, "FAIL handover"))
    for degrees in (148.0, 150.0, 176.0, 178.0):
        ours = discharge.discharge_temperature(
            celsius(degrees),
            discharge.POCKET,
            "two",
            celsius(60.0),
            175 * PSI,
            38 * PSI,
            loaded_time=1000.0,
        )
        yield word(ours), steps(degrees, two, "FAIL safety")
    for degrees in (176.0, 190.0, 205.0, 221.0):
        ours = discharge.discharge_temperature(
            celsius(degrees),
            discharge.POCKET,
            "one",
            celsius(40.0),
            100 * PSI,
            loaded_time=1300.0,
        )
        yield word(ours), steps(degrees, one, "FAIL safety")


def adiabatics() -> Iterator[Case]:
    entropy = PropsSI("S", "T", 293.15, "P", ATM, "Air")
    real = PropsSI("T", "S", entropy, "P", 100 * PSI + ATM, "Air")
    ours = discharge.discharge_temperature(
        celsius(150.0), discharge.POCKET, "one", 293.15, 100 * PSI, loaded_time=1300.0
    )
    yield ours.results["adiabatic"], real


def interstages() -> Iterator[Case]:
    """Readings at 175 psig against 38.103 psig expected, in absolute pressure."""
    for reading, builder, calculated in (
        (35.0, "PASS", "PASS"),
        (30.0, "FAIL handover", "PASS"),
        (50.0, "FAIL handover", "PASS"),
        (20.0, "FAIL handover", "FAIL handover"),
        (75.0, "FAIL handover", "FAIL handover"),
    ):
        common = (reading * PSI, 175 * PSI, 14.696 * PSI)
        yield word(interstage.interstage_pressure(*common, normal=38.103 * PSI)), builder
        yield word(interstage.interstage_pressure(*common)), calculated
        share = (reading + 14.696) / numpy.sqrt(14.696 * 189.696)
        yield interstage.interstage_pressure(*common).results["ratio"], float(share)


def approaches() -> Iterator[Case]:
    cuts = ((20.0, "PASS"), (35.0, "ADVISORY"))
    for warmer in (5.0, 20.0, 26.0, 35.0, 36.0):
        outlet = U.Quantity(22.0, "degC") + U.Quantity(warmer, "delta_degC")
        ours = interstage.intercooler_approach(float(outlet.to("K").magnitude), celsius(22.0))
        yield word(ours), steps(warmer, cuts, "FAIL handover")


def intakes() -> Iterator[Case]:
    cuts = ((104.0, "PASS"), (114.8, "ADVISORY"))
    for fahrenheit in (95.0, 104.0, 109.4, 114.8, 116.0):
        kelvin = float(U.Quantity(fahrenheit, "degF").to("K").magnitude)
        yield (
            word(machine_heat.intake_air_temperature(kelvin)),
            steps(fahrenheit, cuts, "FAIL handover"),
        )


def sumps() -> Iterator[Case]:
    for fahrenheit, oil in (
        (193.0, "mineral"),
        (195.0, "mineral"),
        (220.0, "synthetic"),
        (222.0, "synthetic"),
    ):
        kelvin = float(U.Quantity(fahrenheit, "degF").to("K").magnitude)
        limit = 194.0 if oil == "mineral" else 221.0
        said = "PASS" if fahrenheit <= limit else "FAIL handover"
        yield word(machine_heat.sump_temperature(kelvin, oil)), said


def specifics() -> Iterator[Case]:
    for kilowatt, flow in ((7.0, 0.85), (9.0, 0.85), (4.0, 0.85)):
        value = float((U.Quantity(kilowatt, "kW") / U.Quantity(flow, "m^3/min")).m)
        ours = power.specific_power(power.TRUE_POWER, "two", kilowatt * 1000, flow / 60)
        yield ours.results["specific_power"] / 60e3, value
        yield word(ours), "PASS" if 6.5 <= value <= 9.0 else "ADVISORY"


def overalls() -> Iterator[Case]:
    entropy = PropsSI("S", "T", 293.15, "P", ATM, "Air")
    start = PropsSI("H", "T", 293.15, "P", ATM, "Air")
    stage = PropsSI("H", "S", entropy, "P", 3 * ATM, "Air") - start
    ideal = 2 * stage * PropsSI("D", "T", 293.15, "P", ATM, "Air") * 0.85 / 60
    for kilowatt in (4.5, 7.0, 10.5):
        share = ideal / (kilowatt * 1000 * 0.88 * 0.96)
        ours = power.overall_efficiency(
            power.TRUE_POWER, "two", 8 * ATM, ATM, kilowatt * 1000, 0.85 / 60, 0.88
        )
        yield ours.results["efficiency"], share
        yield word(ours), "PASS" if 0.55 <= share <= 0.80 else "FAIL handover"


def holds() -> Iterator[Case]:
    """A tight tank that cools, and tanks that lose a known number of moles."""
    volume, time, rated = 0.3, 1800.0, 0.01
    for share in (0.0, 0.008, 0.015, 0.03):
        lost = share * rated * time * ATM / (MOLAR_GAS * 297.15)
        left = moles(901_325.0, volume, 303.15) - lost
        end = left * MOLAR_GAS * 297.15 / volume - ATM
        ours = leak.leak_decay(
            ((0.0, 8e5), (time, end)), "package", volume, rated, ATM, 297.15, 303.15, 297.15
        )
        if share <= 0.01:
            yield ours.results["leak"] + 1.0, share * rated + 1.0
        yield word(ours), steps(share, ((0.01, "PASS"), (0.02, "ADVISORY")), "FAIL handover")


def duty_leaks() -> Iterator[Case]:
    for on, off in ((15, 400), (40, 400), (55, 290)):
        share = float(numpy.repeat([1.0, 0.0], [on, off]).mean())
        ours = leak.leak_duty(float(on), float(off), 5)
        yield ours.results["share"], share
        yield word(ours), steps(share, ((0.05, "PASS"), (0.10, "ADVISORY")), "FAIL handover")


def leak_bills() -> Iterator[Case]:
    flow, specific = U.Quantity(3.0, "ft^3/min"), U.Quantity(0.21, "kW/(ft^3/min)")
    hours = U.Quantity(8 * 6 * 52, "h")
    ours = leak_price.leak_price(
        7e5,
        8 * 3600.0,
        6,
        float(flow.to("m^3/s").magnitude),
        ATM,
        293.15,
        float(specific.to("J/m^3").magnitude),
        0.15,
    )
    yield ours.results["cost"], float((flow * specific * hours).to("kWh").magnitude) * 0.15
    area = fluids.API520_A_g(
        m=3 * CFM * ATM * 0.0289647 / (MOLAR_GAS * 293.15),
        T=293.15,
        Z=1.0,
        MW=28.9647,
        k=1.4,
        P1=7e5 + ATM,
        P2=ATM,
        Kd=0.65,
    )
    yield ours.results["hole"], float(numpy.sqrt(4 * area / numpy.pi))


def peaks() -> Iterator[Case]:
    for seconds in (50.0, 60.0):
        lasts = filling_time(lambda _: 0.02 - 0.005, 0.27, (6e5, 10e5), ATM)
        ours = receiver_cycle.receiver_storage(0.27, 10e5, 0.005, 0.02, seconds + 20, 6e5)
        yield ours.results["time"], lasts
        yield word(ours), "PASS" if lasts >= seconds + 20 else "ADVISORY"


def switchings() -> Iterator[Case]:
    for made, drawn, limit in ((0.60, 0.40, 10), (0.60, 0.40, 20), (0.3, 0.05, 10)):
        ends = (7e5, 9e5)
        load, off = (
            filling_time(lambda _, q=q: q / 60, 0.27, ends, ATM)  # type: ignore[misc]
            for q in (made - drawn, drawn)
        )
        ours = receiver_cycle.switching_cycles(
            receiver_cycle.START_STOP,
            4000.0,
            volume=0.27,
            cut_out=(9e5,),
            cut_in=(7e5,),
            delivery=made / 60,
            demand=drawn / 60,
            starts_allowed=limit / 3600,
        )
        yield ours.results["rate"], 1 / (load + off)
        kept = "PASS" if load >= 120 else "ADVISORY"
        yield word(ours), kept if 3600 / (load + off) <= limit else "FAIL handover"


def duties() -> Iterator[Case]:
    cuts = ((0.65, "PASS"), (0.75, "ADVISORY"))
    for on, off in ((60, 60), (65, 35), (70, 30), (80, 20)):
        share = float(numpy.repeat([1.0, 0.0], [on, off]).mean())
        yield word(receiver_cycle.duty(float(on), float(off))), steps(share, cuts, "FAIL handover")


def waters() -> Iterator[Case]:
    dry = 1 / 60 / HAPropsSI("Vda", "T", 303.15, "P", ATM, "R", 0.7)
    carried = HAPropsSI("W", "T", 303.15, "P", ATM, "R", 0.7)
    held = HAPropsSI("W", "T", 308.15, "P", 8e5 + ATM, "R", 1.0)
    ours = water.water_load(1 / 60, 303.15, 0.7, 8e5, 308.15, 8 * 3600.0)
    yield ours.results["dropped"], dry * (carried - held)


def drains() -> Iterator[Case]:
    full = float((U.Quantity(2.0, "L") * U.Quantity(1, "kg/L") / U.Quantity(1.0098, "kg/h")).m)
    for hours in (1.9, 1.98, 1.99, 4.0):
        ours = water.drain_interval(water.BY_HAND, 1.0098 / 3600, 0.002, hours * 3600)
        yield word(ours), "PASS" if hours <= full else "FAIL handover"


def dews() -> Iterator[Case]:
    for degrees, gauge in ((3.0, 7e5), (38.0, 100 * PSI)):
        room = psychrolib.GetSatVapPres(degrees) * ATM / (gauge + ATM)
        theirs = psychrolib.GetTDewPointFromVapPres(90.0, room) + 273.15
        ours = water.dew_point(celsius(degrees), gauge, celsius(5.0))
        yield ours.results["frost"], theirs
        yield word(ours), "PASS" if degrees <= 5 else "ADVISORY"


MOLES = "counted moles and the limits of the source"
RULE = "the limits of the source, compared apart"
PROOFS = [
    Proof("displacement_speed", "pint, cubic inches", speeds, 1e-9),
    Proof("volumetric_efficiency", RULE, fillings),
    Proof("discharge_temperature", "steps at 149, 177, 200 and 220 °C", discharges),
    Proof("discharge_temperature", "CoolProp real air, in kelvin", adiabatics, 6e-3),
    Proof("interstage_pressure", "worked readings at 175 psig; numpy", interstages, 1e-5),
    Proof("intercooler_approach", "pint, temperature steps", approaches),
    Proof("intake_air_temperature", "pint, 40 and 46 °C in °F", intakes),
    Proof("sump_temperature", "pint, 90 and 105 °C in °F", sumps),
    Proof("specific_power", "pint, kW and m3/min", specifics, 1e-9),
    Proof("overall_efficiency", "CoolProp real air", overalls, 1e-3),
    Proof("leak_decay", MOLES, holds, 1e-9),
    Proof("leak_duty", "numpy, second by second; tip sheet limits", duty_leaks, 1e-9),
    Proof("leak_price", "pint and fluids API520_A_g", leak_bills, 1e-3),
    Proof("receiver_storage", "tank emptied step by step (scipy)", peaks, 1e-7),
    Proof("switching_cycles", "tank filled and emptied step by step (scipy)", switchings, 1e-7),
    Proof("duty", "numpy, second by second", duties),
    Proof("water_load", "CoolProp HAPropsSI", waters, 2e-3),
    Proof("drain_interval", "pint", drains),
    Proof("dew_point", "psychrolib", dews, 1e-4),
]
