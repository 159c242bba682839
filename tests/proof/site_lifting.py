"""Lifting: against printed sling factors, equilibrium solved by numpy, geometry by search."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator

import numpy as np
from scipy.optimize import brentq

from tests.proof.model import Proof
from tests.units import UNITS
from wizard.calc.lifting import (
    credited_legs,
    hitch_capacity,
    hook_height,
    leg_tension,
    shackle_side_capacity,
    sling_angle,
    two_leg_tensions,
)
from wizard.calc.loads import hook_load, sling_utilisation, weight_difference
from wizard.calc.moving import fork_capacity_at, fork_reach, route_room, tipping_angle

POUND = 0.45359237


def _kg(text: str) -> float:
    return float(UNITS.Quantity(text).to("kg").magnitude)


def _m(text: str) -> float:
    return float(UNITS.Quantity(text).to("m").magnitude)


def _sling_factors() -> Iterator[tuple[str, str]]:
    for degrees, factor in ((90, "0.500"), (60, "0.577"), (45, "0.707"), (30, "1.000")):
        yield f"{leg_tension(1000.0, 2, math.radians(degrees)) / 1000:.3f}", factor


def _equilibrium() -> Iterator[tuple[float, float]]:
    """Both force balances at the hook, for slings that differ."""
    for weight, near, far, height in ((900.0, 14.0, 22.0, 30.0), (2000.0, 5.0, 40.0, 60.0)):
        left = np.array([-near, -height]) / math.hypot(near, height)
        right = np.array([far, -height]) / math.hypot(far, height)
        solved = np.linalg.solve(np.column_stack([left, right]), np.array([0.0, -weight]))
        ours = two_leg_tensions(weight, near * 0.0254, far * 0.0254, height * 0.0254)
        yield ours.near, float(solved[0])
        yield ours.far, float(solved[1])


def _even_legs() -> Iterator[tuple[float, float]]:
    for degrees in (35.0, 45.0, 58.332, 75.0):
        slope = math.radians(degrees)
        matrix = [
            [-math.cos(slope), math.cos(slope)],
            [math.sin(slope), math.sin(slope)],
        ]
        solved = np.linalg.solve(np.array(matrix), np.array([0.0, 1450.0]))
        yield leg_tension(1450.0, 2, slope), float(solved[0])


def _rigid_load() -> Iterator[tuple[float, float]]:
    """Four legs of a stiff load: least-squares with one diagonal pair slack leaves two."""
    for legs, carrying in ((1, 1), (2, 2), (3, 2), (4, 2)):
        yield float(credited_legs(legs)), float(carrying)


def _phase() -> Iterator[tuple[float, float]]:
    for height, distance in ((1.0, 1.0), (0.8, 0.3), (2.0, 2.5), (1.0, 0.0)):
        yield sling_angle(height, distance), cmath.phase(complex(distance, height))


def _sphere() -> Iterator[tuple[float, float]]:
    """The height at which a taut sling just reaches its pick point."""
    for length, span in ((4 * 0.3048, 4.2 * 0.3048), (3.0, 1.0), (2.0, 0.0)):

        def slack(height: float, length: float = length, span: float = span) -> float:
            return math.dist((0.0, height), (span / 2, 0.0)) - length

        yield hook_height(length, span), float(brentq(slack, 1e-9, length + 1.0))


def _hitches() -> Iterator[tuple[str, str]]:
    for degrees, factor in ((90, "2.000"), (60, "1.732"), (45, "1.414"), (30, "1.000")):
        yield f"{hitch_capacity(1000.0, 'basket', math.radians(degrees)) / 1000:.3f}", factor
    yield f"{hitch_capacity(1000.0, 'choker') / 1000:.2f}", "0.75"
    yield f"{hitch_capacity(1000.0, 'straight') / 1000:.2f}", "1.00"


def _shackles() -> Iterator[tuple[float, float]]:
    for degrees, share in ((0, 1.00), (45, 0.70), (90, 0.50)):
        yield shackle_side_capacity(1000.0, math.radians(degrees)), 1000.0 * share


def _load_moment() -> Iterator[tuple[float, float]]:
    """120 000 in·lb of allowed moment divided by the load centre."""
    for centre in (24.0, 30.0, 36.0, 48.0):
        ours = fork_capacity_at(5000 * POUND, 24 * 0.0254, centre * 0.0254)
        yield ours / POUND, 120_000 / centre
    yield fork_capacity_at(5000 * POUND, 24 * 0.0254, 18 * 0.0254) / POUND, 5000.0


def _tilting() -> Iterator[tuple[float, float]]:
    """Turn the machine about its edge until the centre of gravity stands over it."""
    for half, height in ((9.0, 32.0), (0.3, 0.6), (0.5, 0.5)):

        def over(angle: float, half: float = half, height: float = height) -> float:
            return (complex(-half, height) * cmath.exp(-1j * angle)).real

        yield tipping_angle(half, height), float(brentq(over, 0.0, math.pi / 2))


def _weights() -> Iterator[tuple[float, float]]:
    yield hook_load(_kg("1450 lb"), _kg("12 kg")), _kg("1450 lb") + 12.0
    yield hook_load(_kg("0.65 tonne")), 650.0


def _ratio(top: str, bottom: str) -> float:
    return float((UNITS.Quantity(top) / UNITS.Quantity(bottom)).to("").magnitude)


PROOFS = [
    Proof("leg_tension", "printed sling factors, 29 CFR 1926.251", _sling_factors),
    Proof("leg_tension", "numpy, equilibrium of two legs", _even_legs, 1e-12),
    Proof("two_leg_tensions", "numpy, equilibrium of two legs", _equilibrium, 1e-12),
    Proof("credited_legs", "US Navy Steelworker volume 2: two legs may carry all", _rigid_load),
    Proof("sling_angle", "phase of a complex number", _phase, 1e-12),
    Proof("hook_height", "scipy, height at which a sling is taut", _sphere, 1e-9),
    Proof("hitch_capacity", "printed basket and choker factors", _hitches),
    Proof("shackle_side_capacity", "printed side-load factors of ASME B30.26", _shackles, 1e-12),
    Proof("fork_capacity_at", "29 CFR 1910.178 load moment, 120 000 in·lb", _load_moment, 1e-12),
    Proof("tipping_angle", "scipy, the machine turned about its edge", _tilting, 1e-9),
    Proof("hook_load", "pint", _weights, 1e-12),
    Proof(
        "sling_utilisation",
        "pint",
        lambda: [
            (
                sling_utilisation(_kg("885.06 lb"), _kg("0.5 tonne")),
                _ratio("885.06 lb", "0.5 tonne"),
            )
        ],
        1e-12,
    ),
    Proof(
        "weight_difference",
        "pint",
        lambda: [(weight_difference(_kg("1500 lb"), 600.0), _ratio("1500 lb", "600 kg") - 1)],
        1e-9,
    ),
    Proof(
        "fork_reach",
        "pint",
        lambda: [(fork_reach(_m("42 in"), 1.2), _ratio("42 in", "1.2 m"))],
        1e-12,
    ),
    Proof(
        "route_room",
        "pint",
        lambda: [(route_room(_m("3 ft"), 0.85), _m("3 ft") - 0.85)],
        1e-12,
    ),
]
