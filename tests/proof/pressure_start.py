"""Verdicts on hoses, threads, pipe and the first start, against limits worked out apart."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import pi

import fluids
import numpy

from tests.proof.model import Proof
from tests.proof.pressure_checks import CFM, PSI, T60, Case, word
from tests.proof.pressure_line import SCHEDULE_40
from tests.units import UNITS as U
from tests.units import PropsSI
from wizard.calc.pipe import schedule_40_bore
from wizard.checks import (
    first_start,
    hose,
    hose_routing,
    pipe,
    pipe_line,
    running,
    thread,
    unloader,
)

INCH = 0.0254
US60 = "US: 14.696 psia, 60 °F, dry"


def hoses() -> Iterator[Case]:
    """ISO 10380 factors as printed, times the working pressure, against the relief setting."""
    for celsius, factor in ((20, 100), (50, 87), (100, 72), (150, 65), (200, 59)):
        for working in (12, 15, 25):
            ratio = Fraction(working * factor, 100 * 11)
            theirs = (
                "FAIL safety" if ratio < 1 else "ADVISORY" if ratio < Fraction(11, 10) else "PASS"
            )
            ours = hose.hose_rating(
                working * 1e5, 11e5, hose.METAL, celsius + 273.15, rating="ISO 10380"
            )
            yield word(ours), theirs


def bursts() -> Iterator[Case]:
    for burst, working in ((1000, 250), (720, 200), (560, 200), (600, 200), (599, 200)):
        ratio = Fraction(burst, working)
        theirs = "FAIL safety" if ratio < 3 else "FAIL handover" if ratio < 4 else "PASS"
        yield word(hose.hose_burst_ratio(working * PSI, burst * PSI)), theirs


def discharge_lines() -> Iterator[Case]:
    """Air compressed by a polytrope of 1.35, integrated step by step in the pressure."""
    for bar, kelvin in ((8.0, 313.15), (10.0, 293.15)):
        steps = numpy.linspace(101325.0, bar * 1e5 + 101325.0, 200_001)
        rise = numpy.trapezoid(1.0 / steps, steps) * (0.35 / 1.35)
        hot = kelvin * float(numpy.exp(rise))
        for marked in (hot - 1.0, hot + 1.0):
            ours = hose.discharge_line(
                hose.LINES[2], marked=marked, highest_pressure=bar * 1e5, hottest_intake=kelvin
            )
            yield word(ours), "PASS" if marked > hot else "FAIL handover"


def bends() -> Iterator[Case]:
    for radius, least in ((8, 8), (7.9, 8), (10, 8)):
        tight = U.Quantity(radius, "inch") < U.Quantity(least, "inch")
        ours = hose_routing.hose_bend(radius * INCH, least * INCH)
        yield word(ours), "FAIL handover" if tight else "PASS"


def live_lengths() -> Iterator[Case]:
    """Printed offset table, radius 35 in; it rounds up to a tenth of an inch."""
    for offset, printed in ((0.5, 10.3), (1.0, 14.6), (2.0, 20.6), (6.0, 36.0)):
        for length, theirs in ((printed, "PASS"), (printed - 0.2, "FAIL handover")):
            ours = hose_routing.hose_length(length * INCH, 35 * INCH, offset * INCH)
            yield word(ours), theirs


def whips() -> Iterator[Case]:
    """29 CFR 1926.302(b)(7): exceeding 1/2 in; 30 CFR 77.412(d): 1 in or larger."""
    for sixteenths, lacking, theirs in (
        (8, "none", "PASS"),
        (9, "none", "FAIL handover"),
        (9, "shut-off device only", "PASS"),
        (16, "shut-off device only", "FAIL handover"),
        (16, "shut-off device and cable", "PASS"),
    ):
        ours = hose_routing.hose_whip(sixteenths / 16 * INCH, "yes", "United States", lacking)
        yield word(ours), theirs


def threads() -> Iterator[Case]:
    """Hand and wrench turns as fitting tables print them from ASME B1.20.1."""
    printed = {
        "1/8": (4.5, 2.5),
        "1/4": (4, 3),
        "3/8": (4.5, 3),
        "1/2": (4.5, 3),
        "3/4": (4.5, 3),
        "1": (4.5, 3.25),
        "1-1/4": (4.5, 3.25),
        "1-1/2": (4.5, 3.25),
        "2": (5, 3),
    }
    for size, (hand, wrench) in printed.items():
        yield word(thread.thread_turns(size, hand, wrench)), "PASS"
    yield word(thread.thread_turns("1/2", 2.75, 3)), "FAIL handover"
    yield word(thread.thread_turns("1/2", 4.5, 1.25)), "FAIL handover"
    yield word(thread.thread_turns("1/2", 4.5, 3.75)), "ADVISORY"


def velocities() -> Iterator[Case]:
    for scfm, size, place in (
        (50, "3/4", "compressor room"),
        (50, "1", "compressor room"),
        (50, "3/4", "distribution"),
        (100, "1", "distribution"),
        (200, "1", "distribution"),
    ):
        bore = schedule_40_bore(size)
        density = PropsSI("D", "P", 114.696 * PSI, "T", T60, "Air")
        kilograms = scfm * CFM * PropsSI("D", "P", 14.696 * PSI, "T", T60, "Air")
        speed = kilograms / density / (pi * bore**2 / 4)
        note = 6.0 if place == "compressor room" else 9.0
        theirs = "FAIL handover" if speed > 15 else "ADVISORY" if speed > note else "PASS"
        ours = pipe.pipe_velocity(scfm * CFM, bore, 100 * PSI, T60, place, US60, 30.0)
        yield word(ours), theirs
        yield ours.results["velocity"], speed


def drops() -> Iterator[Case]:
    for scfm, size, psi in SCHEDULE_40:
        bore = schedule_40_bore(size)
        ours = pipe.pipe_pressure_drop(scfm * CFM, bore, 30.48, 100 * PSI, T60, flow_reference=US60)
        yield ours.results["drop"] / PSI, psi


def slopes() -> Iterator[Case]:
    for inches, way in (
        (3, "with the flow"),
        (2.9, "with the flow"),
        (3, "against the flow"),
        (6, "against the flow"),
    ):
        least = 3 if way == "with the flow" else 6
        ours = pipe_line.pipe_slope(inches * INCH, 1200 * INCH, way)
        yield word(ours), "PASS" if inches >= least else "FAIL handover"


def budgets() -> Iterator[Case]:
    for near, far in ((100, 96), (100, 95), (100, 94), (100, 91), (100, 90), (100, 89)):
        lost = Fraction(near - far, near)
        theirs = "FAIL handover" if lost > Fraction(1, 10) else "PASS"
        theirs = "ADVISORY" if Fraction(1, 20) < lost <= Fraction(1, 10) else theirs
        yield word(pipe_line.system_pressure_drop(near * PSI, far * PSI, 0.9)), theirs


def holds() -> Iterator[Case]:
    """Real air in tight pipe that cools passes; the same with 1 % of its mass gone fails."""
    for bar, before, after in ((7.0, 294.26, 288.71), (10.0, 298.15, 291.15)):
        density = PropsSI("D", "P", bar * 1e5 + 101325, "T", before, "Air")
        for kept, theirs in ((1.0, "PASS"), (0.99, "FAIL handover")):
            end = PropsSI("P", "D", kept * density, "T", after, "Air") - 101325
            ours = pipe_line.pipe_hold_test(bar * 1e5, end, 14400, 11e5, 12e5, before, after)
            yield word(ours), theirs
    yield word(pipe_line.pipe_hold_test(13e5, 13e5, 600, 11e5, 12e5)), "FAIL safety"


def sounds() -> Iterator[Case]:
    stop = {
        "knock at each turn",
        "metal scrape",
        "belt squeal longer than 3 seconds",
        "relief valve or interstage relief valve blows",
    }
    repair = {"click at twice the speed", "hiss while running", "rattle", "other"}
    for sound in stop | repair:
        yield (
            word(running.running_sound(sound)),
            "FAIL safety" if sound in stop else "FAIL handover",
        )
    yield word(running.running_sound("even, nothing unusual")), "PASS"


def shakes() -> Iterator[Case]:
    """Half-open bands by numpy.digitize; the pipe at the C/D boundary of ISO 20816-8."""
    for place, note, repair in (("pump feet", 18.0, 28.0), ("tank foot", 7.1, 11.2)):
        for mm in (1.0, note, note + 0.1, repair - 0.1, repair):
            band = int(numpy.digitize(mm, [note + 1e-6, repair]))
            theirs = ("PASS", "ADVISORY", "FAIL handover")[band]
            yield word(running.vibration(place, mm / 1e3)), theirs
    for mm, theirs in ((28.5, "PASS"), (28.6, "FAIL handover")):
        yield word(running.vibration("pipe", mm / 1e3)), theirs


def zones() -> Iterator[Case]:
    """ISO 20816-8 boundaries by numpy.digitize; on the boundary counts as the worse zone."""
    printed = {
        "foundation": (2.0, 3.0, 4.5),
        "frame": (5.3, 8.0, 12.0),
        "cylinder, sideways": (8.7, 13.0, 19.5),
        "piping": (12.7, 19.0, 28.5),
    }
    for place, ends in printed.items():
        for mm in (ends[0] - 0.1, ends[0], ends[1] - 0.1, ends[1], ends[2] + 0.1):
            zone = "ABCD"[int(numpy.digitize(mm, ends))]
            yield running.vibration_zone(place, mm / 1e3).text[:6], f"Zone {zone}"


def rotations() -> Iterator[Case]:
    """Sign of the turn from two spoke positions as complex numbers, arrow to the left."""
    for turn, seen in ((0.1, "as the arrow"), (-0.1, "against the arrow")):
        moved = numpy.exp(1j * turn) / numpy.exp(0j)
        yield word(first_start.rotation(seen)), "PASS" if moved.imag > 0 else "FAIL safety"
    yield word(first_start.rotation("not sure")), "FAIL safety"


def guards() -> Iterator[Case]:
    """29 CFR 1910.219: belts within reach are guarded; only no reach at all passes."""
    for state, reach in zip(first_start.GUARDS, (False, True, True), strict=True):
        yield word(first_start.guard(state)), "FAIL safety" if reach else "PASS"


def runs() -> Iterator[Case]:
    for minutes in (19, 20, 29, 30, 45):
        band = int(numpy.digitize(minutes, [20, 30]))
        theirs = ("FAIL handover", "ADVISORY", "PASS")[band]
        yield word(first_start.unloaded_run(minutes * 60.0)), theirs


def first_holds() -> Iterator[Case]:
    for psi in (24, 25, 27, 30, 31):
        bar = float(U.Quantity(psi, "psi").to("bar").magnitude)
        theirs = "PASS" if 1.7 <= bar <= 2.1 else "FAIL handover"
        yield word(first_start.first_hold(psi * PSI)), theirs


def steps() -> Iterator[Case]:
    for percent, psi in ((50, 87.5), (50, 96.25), (50, 97), (75, 122.5), (75, 122), (75, 140)):
        share = Fraction(psi) / 175
        near = abs(share - Fraction(percent, 100)) <= Fraction(5, 100)
        ours = first_start.pressure_step(psi * PSI, 175 * PSI, percent / 100)
        yield word(ours), "PASS" if near else "FAIL handover"


def hand_stops() -> Iterator[Case]:
    for cut_out, setting, reached in ((175, 200, 180), (175, 200, 181), (145, 150, 146)):
        grid = numpy.arange(0.0, 300.0, 0.25)
        allowed = grid[(grid <= cut_out + 5) & (grid <= setting - 5)].max()
        ours = first_start.hand_stop(cut_out * PSI, setting * PSI, reached * PSI)
        yield word(ours), "PASS" if reached <= allowed else "FAIL safety"


def stops() -> Iterator[Case]:
    """IEC 60204-1: the stop acts, and resetting it starts nothing."""
    for behaviour, acts, restarts in zip(
        first_start.STOPS, (True, True, False), (False, True, False), strict=True
    ):
        theirs = "PASS" if acts and not restarts else "FAIL safety"
        yield word(first_start.emergency_stop(behaviour)), theirs


def vents() -> Iterator[Case]:
    for vent, hiss in ((10, 10), (10.1, 10), (20, 20), (20.1, 20), (5, 30), (5, 31)):
        theirs = ("PASS", "ADVISORY", "FAIL handover")[
            int(numpy.digitize(vent, [10.000001, 20.000001]))
        ]
        theirs = "FAIL handover" if hiss > 30 else theirs
        yield word(unloader.unloader_vent(float(vent), float(hiss))), theirs


def check_valves() -> Iterator[Case]:
    """Mass of real air lost in ten minutes, against 1 % and 2 % of the rated mass flow."""
    volume, rated, room = 0.27, 0.4 / 60, 297.15
    ambient = PropsSI("D", "P", 101325, "T", room, "Air")
    for end, warm in ((9.9e5, 303.15), (9.8e5, 297.15), (9.9e5, 297.15), (9.5e5, 297.15)):
        before = PropsSI("D", "P", 10e5 + 101325, "T", warm, "Air")
        after = PropsSI("D", "P", end + 101325, "T", room, "Air")
        share = volume * (before - after) / ambient / 600 / rated
        theirs = "FAIL handover" if share > 0.02 else "ADVISORY" if share > 0.01 else "PASS"
        ours = unloader.check_valve_hold((10e5, end), 600.0, volume, rated, (warm, room))
        yield word(ours), theirs


def fluids_roughness() -> Iterator[Case]:
    """A galvanised pipe through the library's friction factor."""
    bore, flow = schedule_40_bore("1"), 50 * CFM * 14.696 * PSI / (287.05287 * T60)
    rho = 114.696 * PSI / (287.05287 * T60)
    mu = 1.716e-5 * (T60 / 273.15) ** 1.5 * 383.55 / (T60 + 110.4)
    re = fluids.Reynolds(D=bore, V=flow / rho / (pi * bore**2 / 4), rho=rho, mu=mu)
    factor = fluids.friction_factor(Re=re, eD=1.5e-4 / bore, Method="Clamond")
    after = fluids.isothermal_gas(
        rho=rho, fd=factor, P1=114.696 * PSI, L=30.48 + 4 * 30 * bore, D=bore, m=flow
    )
    ours = pipe.pipe_pressure_drop(
        50 * CFM,
        bore,
        30.48,
        100 * PSI,
        T60,
        "galvanised steel",
        elbows=4,
        flow_reference=US60,
        ambient=14.696 * PSI,
    )
    yield ours.results["drop"], 114.696 * PSI - after


PROOFS = [
    Proof("hose_rating", "ISO 10380 factors as printed, exact fractions", hoses),
    Proof("hose_burst_ratio", "46 CFR 197.312(a)(2), exact fractions", bursts),
    Proof("discharge_line", "numpy integration of the polytrope", discharge_lines),
    Proof("hose_bend", "pint comparison", bends),
    Proof("hose_length", "printed offset table, radius 35 in", live_lengths),
    Proof("hose_whip", "29 CFR 1926.302(b)(7) and 30 CFR 77.412(d)", whips),
    Proof("thread_turns", "ASME B1.20.1 make-up as fitting tables print it", threads),
    Proof("pipe_velocity", "CoolProp densities", velocities, 5e-3),
    Proof("pipe_pressure_drop", "printed Schedule 40 air table", drops, 0.04),
    Proof(
        "pipe_pressure_drop", "fluids.isothermal_gas, galvanised, elbows", fluids_roughness, 1e-5
    ),
    Proof("pipe_slope", "NAVEDTRA 14265 and NAVFAC MO-209 slopes in inches", slopes),
    Proof("system_pressure_drop", "exact fractions, 5 % and 10 %", budgets),
    Proof("pipe_hold_test", "CoolProp real air at constant mass", holds),
    Proof("running_sound", "trade list of sounds to stop for, written out apart", sounds),
    Proof("vibration", "numpy.digitize; ISO 20816-8 boundary for pipe", shakes),
    Proof("vibration_zone", "ISO 20816-8 boundaries, numpy.digitize", zones),
    Proof("rotation", "sign of the turn by complex numbers", rotations),
    Proof("guard", "29 CFR 1910.219, no reach", guards),
    Proof("unloaded_run", "numpy.digitize", runs),
    Proof("first_hold", "pint, psi to bar", first_holds),
    Proof("pressure_step", "exact fractions", steps),
    Proof("hand_stop", "search of a quarter-psi grid", hand_stops),
    Proof("emergency_stop", "IEC 60204-1, truth table", stops),
    Proof("unloader_vent", "numpy.digitize", vents),
    Proof("check_valve_hold", "CoolProp mass of real air lost", check_valves),
]
