"""Evidence for belts and sheaves: geometry by coordinates, strings and friction by numerics."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from math import atan, degrees, pi, radians, sin, sqrt, tan

import numpy as np
from scipy.integrate import solve_ivp
from scipy.linalg import eigh_tridiagonal
from scipy.optimize import brentq
from scipy.spatial import ConvexHull

from tests.proof.model import Proof
from wizard.calc import belt, belt_tension, sheave
from wizard.checks import belt as belts
from wizard.checks import belt_tension as tensions
from wizard.checks import sheave as sheaves

Case = tuple[float | str, float | str]
INCH, FEET_PER_MINUTE = 0.0254, 0.3048 / 60
DRIVES = ((0.762, 0.4572, 0.1143), (0.750, 0.400, 0.112), (0.500, 0.400, 0.100))
COORDINATES = "convex hull of points on both sheaves (scipy.spatial)"
STATICS = "exact balance of forces on the deflected belt"


@cache
def hull(centres: float, large: float, small: float) -> tuple[float, float, float]:
    """(length, span, wrap) of a string drawn tight round two circles of many points."""
    count = 100_000
    turn = np.linspace(0, 2 * pi, count, endpoint=False)
    circle = np.column_stack((np.cos(turn), np.sin(turn)))
    points = np.vstack((circle * large / 2, circle * small / 2 + (centres, 0.0)))
    tight = ConvexHull(points)
    corners = points[tight.vertices]
    edges = np.linalg.norm(corners - np.roll(corners, 1, axis=0), axis=1)
    on_small = int(np.sum(tight.vertices >= count))
    return float(tight.area), float(edges.max()), (on_small - 1) * 2 * pi / count


def span_cases() -> Iterator[Case]:
    for drive in DRIVES:
        yield belt.free_span(*drive), hull(*drive)[1]


def wrap_cases() -> Iterator[Case]:
    for drive in DRIVES:
        yield belt.wrap_angle(*drive), hull(*drive)[2]


def length_cases() -> Iterator[Case]:
    for drive in DRIVES:
        yield belt.belt_pitch_length(*drive), hull(*drive)[0]


def shop_length_cases() -> Iterator[Case]:
    for drive in DRIVES:
        yield belt.belt_length_shop(*drive), hull(*drive)[0]


def push(tension: float, deflection: float, span: float) -> float:
    """Force that holds a string of constant tension at a deflection, from its angle."""
    return 2 * tension * sin(atan(2 * deflection / span))


def push_cases() -> Iterator[Case]:
    for tension, span in ((200.0, 0.5), (400.0, 0.74)):
        yield (
            belt_tension.deflection_force(tension, span / 64, span),
            push(tension, span / 64, span),
        )


def pushed_cases() -> Iterator[Case]:
    for force, span in ((12.5, 0.5), (26.0, 0.74)):
        found = brentq(lambda t, f=force, s=span: push(t, s / 64, s) - f, 1, 1e4)
        yield belt_tension.tension_from_push(force, span / 64, span), float(found)


def string_frequency(tension: float, mass: float, span: float) -> float:
    """Lowest frequency of a string of 1000 beads."""
    count = 1000
    step = span / (count + 1)
    lowest = eigh_tridiagonal(
        np.full(count, 2.0), np.full(count - 1, -1.0), select="i", select_range=(0, 0)
    )[0][0]
    return sqrt(lowest * tension / (mass * step**2)) / (2 * pi)


def frequency_cases() -> Iterator[Case]:
    for given in ((250.0, 0.18, 0.742), (142.56, 0.11, 0.60)):
        yield belt_tension.frequency_at_tension(*given), string_frequency(*given)


def plucked_cases() -> Iterator[Case]:
    for mass, span, frequency in ((0.18, 0.742, 22.0), (0.11, 0.60, 30.0)):
        found = brentq(
            lambda t, m=mass, s=span, f=frequency: string_frequency(t, m, s) - f, 10, 1e4
        )
        yield belt_tension.tension_from_frequency(mass, span, frequency), float(found)


def friction_ratio(friction: float, wrap: float) -> float:
    """Tension ratio of a slipping belt, from the differential equation of belt friction."""
    done = solve_ivp(lambda _, t: friction * t, (0, wrap), [1.0], rtol=1e-10, atol=1e-12)
    return float(done.y[0][-1])


@cache
def grip() -> float:
    """Friction that gives 5:1 at half a turn."""
    return float(brentq(lambda f: friction_ratio(f, pi) - 5, 0.1, 1.0, xtol=1e-12))


def static_tension(power: float, speed: float, count: int, mass: float, wrap: float) -> float:
    ratio = friction_ratio(grip(), wrap)
    slack = power / (speed * count) / (ratio - 1)
    return (slack + ratio * slack) / 2 + mass * speed**2


def served_cases() -> Iterator[Case]:
    yield (
        belt_tension.needed_tension(5500.0, 8.53, 2, 0.18, radians(157.8), 1.3),
        static_tension(1.3 * 5500.0, 8.53, 2, 0.18, radians(157.8)),
    )


def needed_cases() -> Iterator[Case]:
    for power, speed, count, mass, wrap in (
        (5592.7, 20.0, 2, 0.19, radians(160)),
        (5500.0, 8.53, 2, 0.18, radians(157.8)),
        (15000.0, 15.0, 3, 0.18, radians(150)),
    ):
        yield (
            belt_tension.needed_tension(power, speed, count, mass, wrap),
            static_tension(power, speed, count, mass, wrap),
        )


def wrap_check_cases() -> Iterator[Case]:
    for drive in (*DRIVES, (0.460, 0.700, 0.110), (0.420, 0.600, 0.100)):
        theirs = degrees(hull(*drive)[2])
        verdict = "FAIL" if theirs < 120 else "ADVISORY" if theirs < 140 else "PASS"
        yield str(belts.belt_wrap(*drive).verdict), verdict


def span_check_cases() -> Iterator[Case]:
    for drive in DRIVES:
        for share in (0.94, 0.96, 1.0, 1.04, 1.06):
            theirs = hull(*drive)[1]
            verdict = "PASS" if 0.95 <= share <= 1.05 else "ADVISORY"
            yield str(belts.belt_span(share * theirs, *drive).verdict), verdict


def length_check_cases() -> Iterator[Case]:
    for drive in DRIVES:
        for share in (0.97, 0.99, 1.01, 1.03):
            theirs = hull(*drive)[0]
            verdict = "PASS" if 0.98 <= share <= 1.02 else "ADVISORY"
            yield str(belts.belt_length(share * theirs, *drive).verdict), verdict


def count_check_cases() -> Iterator[Case]:
    for grooves in range(1, 5):
        for fitted in range(1, grooves + 1):
            empty = set(range(grooves)) - set(range(fitted))
            yield str(belts.belt_count(fitted, grooves).verdict), "ADVISORY" if empty else "PASS"


def deflection_check_cases() -> Iterator[Case]:
    sheaves_alike = (100 * INCH, 10 * INCH, 10 * INCH)
    finding = belts.belt_deflection(1.5625 * INCH, *sheaves_alike)
    yield finding.results["target"] / INCH, 1 + 9 / 16
    yield str(finding.verdict), "PASS"


def force_check_cases() -> Iterator[Case]:
    drive = (0.750, 0.400, 0.112)
    wanted = static_tension(1.3 * 5500.0, pi * 0.112 * 1455 / 60, 2, 0.18, hull(*drive)[2])
    span = hull(*drive)[1]
    least = push(wanted, span / 64, span)
    for share, verdict in ((0.98, "FAIL"), (1.02, "PASS"), (1.48, "PASS"), (1.52, "FAIL")):
        finding = tensions.belt_force(
            (share * least,), span / 64, *drive, 1455 / 60, 5500.0, 2, mass=0.18
        )
        yield str(finding.verdict), verdict


def frequency_check_cases() -> Iterator[Case]:
    drive, wanted = (0.750, 0.400, 0.112), 280.0
    span = hull(*drive)[1]
    for share, verdict in (
        (0.84, "FAIL"),
        (0.9, "ADVISORY"),
        (1.02, "PASS"),
        (1.48, "PASS"),
        (1.7, "ADVISORY"),
        (1.74, "FAIL"),
    ):
        heard = string_frequency(share * wanted, 0.18, span)
        finding = tensions.belt_frequency((heard,), *drive, needed=wanted, mass=0.18)
        yield str(finding.verdict), verdict


def pump_speed_check_cases() -> Iterator[Case]:
    for motor in (1700.0, 1750.0, 1800.0):
        exact = Fraction(motor) * Fraction(45, 180) * Fraction(99, 100)
        ours = sheaves.pump_speed(motor / 60, 4.5 * INCH, 18 * INCH, 430 / 60, 440 / 60)
        yield ours.results["pump_speed"] * 60, float(exact)
        yield str(ours.verdict), "FAIL" if exact > 440 else "PASS"


def rim_check_cases() -> Iterator[Case]:
    for inches, rpm in ((18, 1400), (18, 1379), (18, 1380), (24, 1034), (24, 1035)):
        feet_per_minute = inches / 12 * pi * rpm
        ours = sheaves.rim_speed(inches * INCH, rpm / 60)
        yield str(ours.verdict), "FAIL" if feet_per_minute > 6500 else "PASS"
        yield ours.results["rim_speed"] / FEET_PER_MINUTE, feet_per_minute


def slip_check_cases() -> Iterator[Case]:
    for lost, verdict in ((0.0, "PASS"), (0.02, "PASS"), (0.03, "ADVISORY"), (0.06, "FAIL")):
        turns = Fraction(1750) * Fraction(1, 4) * (1 - Fraction(lost).limit_denominator(100))
        ours = sheaves.belt_slip(float(turns) / 60, 1750 / 60, 4.5 * INCH, 18 * INCH)
        yield str(ours.verdict), verdict


def alignment_check_cases() -> Iterator[Case]:
    for angle, verdict in ((0.49, "PASS"), (0.51, "FAIL handover"), (1.01, "FAIL safety")):
        ours = sheaves.belt_alignment(0.75 * float(np.tan(np.deg2rad(angle))), 0.75)
        grade = "" if ours.verdict == "PASS" else f" {ours.severity}"
        yield f"{ours.verdict}{grade}", verdict


def speed_cases() -> Iterator[Case]:
    travelled = Fraction(1750) * Fraction(45, 10)
    yield (
        sheave.pump_speed_from_sheaves(1750 / 60, 4.5 * INCH, 18 * INCH, 0.0) * 60,
        float(travelled / 18),
    )
    yield (
        sheave.pump_speed_from_sheaves(1455 / 60, 0.112, 0.400, 0.02) * 60,
        float(Fraction(1455) * 112 / 400 * Fraction(98, 100)),
    )


def slip_cases() -> Iterator[Case]:
    lost = 1 - Fraction(400) * 400 / (Fraction(1455) * 112)
    yield sheave.slip_from_speeds(1455 / 60, 400 / 60, 0.112, 0.400), float(lost)


def rim_cases() -> Iterator[Case]:
    for inches, rpm in ((4.5, 1750), (18.0, 1400)):
        around = np.exp(1j * np.linspace(0, 2 * pi, 100_001)) * inches / 2
        walked = float(np.abs(np.diff(around)).sum())
        yield sheave.surface_speed(inches * INCH, rpm / 60) / FEET_PER_MINUTE, walked * rpm / 12


def angle_cases() -> Iterator[Case]:
    for gap, across in ((0.0065452, 0.750), (0.01, 0.6)):
        found = brentq(lambda a, g=gap, s=across: s * tan(a) - g, 0, 0.5, xtol=1e-14)
        yield sheave.misalignment(gap, across), float(found)


def gap_cases() -> Iterator[Case]:
    for across in (12 * INCH, 30 * INCH, 0.75):
        line = np.array([1.0, 0.0])
        turned = np.exp(1j * np.deg2rad(0.5))
        yield sheave.gap_at_angle(across), float(across * line[0] * turned.imag / turned.real)


PROOFS: list[Proof] = [
    Proof("free_span", COORDINATES, span_cases, 1e-4),
    Proof("wrap_angle", COORDINATES, wrap_cases, 1e-4),
    Proof("belt_pitch_length", COORDINATES, length_cases, 1e-8),
    Proof("belt_length_shop", COORDINATES, shop_length_cases, 1e-3),
    Proof(
        "deflection_for_span",
        "TM 5-3820-233-12/1: 100 in of span, 1 9/16 in",
        lambda: [(belt_tension.deflection_for_span(100 * INCH) / INCH, 25 / 16)],
    ),
    Proof("deflection_force", STATICS, push_cases, 1e-3),
    Proof("tension_from_push", STATICS + ", solved by scipy brentq", pushed_cases, 1e-3),
    Proof("frequency_at_tension", "eigenvalue of a string of 1000 beads (scipy)", frequency_cases),
    Proof("tension_from_frequency", "the same string, solved by scipy brentq", plucked_cases),
    Proof("needed_tension", "belt friction integrated by scipy solve_ivp", needed_cases, 1e-6),
    Proof("needed_tension", "the same at 1.3 times the power", served_cases, 1e-6),
    Proof("pump_speed_from_sheaves", "belt travel per minute in fractions", speed_cases, 1e-12),
    Proof("slip_from_speeds", "belt travel per minute in fractions", slip_cases, 1e-9),
    Proof("surface_speed", "rim walked in 100 000 chords (numpy)", rim_cases, 1e-8),
    Proof("misalignment", "root of the tangent (scipy brentq)", angle_cases, 1e-9),
    Proof("gap_at_angle", "rotation in the complex plane (numpy)", gap_cases, 1e-9),
    Proof("belt_wrap", COORDINATES, wrap_check_cases),
    Proof("belt_span", COORDINATES, span_check_cases),
    Proof("belt_length", COORDINATES, length_check_cases),
    Proof("belt_count", "set of empty grooves", count_check_cases),
    Proof("belt_deflection", "TM 5-3820-233-12/1: 100 in, 1 9/16 in", deflection_check_cases),
    Proof("belt_force", "hull, solve_ivp and statics together", force_check_cases),
    Proof("belt_frequency", "string of 1000 beads (scipy)", frequency_check_cases),
    Proof("pump_speed", "fractions", pump_speed_check_cases, 1e-9),
    Proof("rim_speed", "6500 ft/min in feet and inches", rim_check_cases, 1e-9),
    Proof("belt_slip", "belt travel per minute in fractions", slip_check_cases),
    Proof("belt_alignment", "tangent of the angle (numpy)", alignment_check_cases),
]
