"""Bolts and anchors: against ISO and ASME area formulas, springs in series, printed limits."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from tests.proof.model import Proof
from tests.units import UNITS
from wizard.calc.anchoring import (
    anchor_distances,
    anchor_embedment,
    anchor_kinds,
    largest_gap,
    torque_share,
)
from wizard.calc.bolt_size import proof_strength, thread_size, threads
from wizard.calc.bolts import (
    back_off_travel,
    bolt_preload,
    bolt_stiffness,
    bolt_stress,
    bolt_stretch,
    proof_share,
    residual_preload,
    torque_for_preload,
)


def _si(text: str, unit: str) -> float:
    return float(UNITS.Quantity(text).to(unit).magnitude)


def _stress_areas() -> Iterator[tuple[float, float]]:
    """ISO 898-1: pi/4 (d - 0.9382 P)^2; ASME B1.1: pi/4 (d - 0.9743/n)^2."""
    for name in threads():
        size = thread_size(name)
        factor = 0.9382 if name.startswith("M") else 0.9743
        yield size.area, math.pi / 4 * (size.diameter - factor * size.pitch) ** 2


def _pitches() -> Iterator[tuple[float, float]]:
    for name in threads():
        size = thread_size(name)
        if name.startswith("M"):
            yield size.diameter, float(name[1:]) / 1e3
        else:
            yield size.pitch, 0.0254 / float(name.rsplit("-", 1)[1])


def _proof_loads() -> Iterator[tuple[float, float]]:
    """Printed proof loads over stress areas: ISO 898-1 Table 5 (M12 8.8, 48 900 N), SAE J429."""
    yield proof_strength("8.8", 0.012) * 84.3e-6, 48_900.0
    yield proof_strength("10.9", 0.010) * 58.0e-6, 48_100.0
    yield (
        proof_strength("SAE grade 5", 0.5 * 0.0254) * _si("0.1419 in**2", "m**2"),
        _si("12050 lbf", "N"),
    )
    yield (
        proof_strength("SAE grade 8", 0.5 * 0.0254) * _si("0.1419 in**2", "m**2"),
        _si("17050 lbf", "N"),
    )


def _m12() -> Iterator[tuple[float, float]]:
    """Published: M12 8.8 at 70 % of proof, about 34 kN and 82 N·m."""
    yield torque_for_preload(34.2e3, 0.012), 82.0


def _preload() -> Iterator[tuple[float, float]]:
    yield bolt_preload(82.0, 0.012), 34.2e3
    yield bolt_preload(_si("10 lbf*ft", "N*m"), _si("0.375 in", "m")), _si("1600 lbf", "N")


def _strain() -> Iterator[tuple[float, float]]:
    """Strain integrated along the bolt."""
    preload, grip, area = 7117.15, 0.1016, 5.0e-5
    steps = np.linspace(0.0, grip, 101)
    strain = np.full_like(steps, preload / area / _si("29e6 psi", "Pa"))
    yield bolt_stretch(preload, grip, area), float(np.trapezoid(strain, steps))


def _derivative() -> Iterator[tuple[float, float]]:
    """Force per stretch between two loads."""
    grip, area = 0.1016, 5.0e-5
    low, high = (bolt_stretch(f, grip, area) for f in (1000.0, 3000.0))
    yield bolt_stiffness(grip, area), 2000.0 / (high - low)


def _springs() -> Iterator[tuple[float, float]]:
    """Bolt and joint as two springs: what each gives adds up to the travel of the nut."""
    bolt = _si("561875 lbf/in", "N/m")
    for joint in (_si("5000 lbf/in", "N/m"), _si("40000 lbf/in", "N/m")):
        preload, travel = 7117.0, 0.25e-3
        matrix = np.array([[bolt, -joint], [1.0, 1.0]])
        given = np.array([0.0, preload / bolt + preload / joint - travel])
        stretch, _ = np.linalg.solve(matrix, given)
        yield residual_preload(preload, travel, bolt, joint), max(0.0, bolt * float(stretch))
    yield residual_preload(7117.0, 0.4e-3, bolt, _si("4e6 lbf/in", "N/m")), 0.0


def _screw() -> Iterator[tuple[float, float]]:
    for turns in (0.25, 0.5, 1.0):
        ours = back_off_travel(_si(f"{turns} turn", "radian"), _si("0.0625 in", "m"))
        yield ours, _si(f"{turns / 16} in", "m")


def _aci_distances() -> Iterator[tuple[float, float]]:
    for kind, edge in zip(anchor_kinds(), (8, 10, 6), strict=True):
        got = anchor_distances(_si("0.5 in", "m"), kind)
        yield got.spacing, _si("3 in", "m")
        yield got.edge, _si(f"{edge / 2} in", "m")


def _aci_depth() -> Iterator[tuple[float, float]]:
    for slab, greatest in ((4.0, 4 * 2 / 3), (6.0, 4.0), (12.0, 8.0), (18.0, 14.0)):
        got = anchor_embedment(_si("0.5 in", "m"), slab * 0.0254, 0.05)
        yield got.greatest, greatest * 0.0254


PROOFS = [
    Proof("thread_size", "ISO 898-1 and ASME B1.1 stress area", _stress_areas, 5e-3),
    Proof("thread_size", "pitch from the name of the thread", _pitches, 1e-6),
    Proof("proof_strength", "ISO 898-1 and SAE J429 printed proof loads", _proof_loads, 3e-3),
    Proof("torque_for_preload", "published M12 8.8 example", _m12, 5e-3),
    Proof("bolt_preload", "published M12 8.8 example; pint", _preload, 5e-3),
    Proof("bolt_stretch", "numpy, strain along the bolt", _strain, 1e-6),
    Proof("bolt_stiffness", "force per stretch between two loads", _derivative, 1e-9),
    Proof("residual_preload", "numpy, two springs in equilibrium", _springs, 1e-9),
    Proof("back_off_travel", "pint, turns times pitch", _screw, 1e-9),
    Proof("anchor_distances", "ACI 318-19 17.9: 6 d; 8, 10 and 6 d", _aci_distances, 1e-12),
    Proof("anchor_embedment", "ACI 318-19 17.9: 2/3 of the slab or 4 in less", _aci_depth, 1e-12),
    Proof(
        "bolt_stress",
        "pint",
        lambda: [(bolt_stress(34226.0, 84.3e-6), _si("406.002 MPa", "Pa"))],
        1e-5,
    ),
    Proof(
        "proof_share",
        "pint",
        lambda: [(proof_share(_si("60 ksi", "Pa"), _si("120 ksi", "Pa")), 0.5)],
        1e-12,
    ),
    Proof(
        "torque_share",
        "pint",
        lambda: [
            (
                torque_share(_si("13 N*m", "N*m"), _si("10 lbf*ft", "N*m")),
                float((UNITS.Quantity("13 N*m") / UNITS.Quantity("10 lbf*ft")).to("").magnitude),
            )
        ],
        1e-9,
    ),
    Proof(
        "largest_gap",
        "numpy",
        lambda: [(largest_gap((0.0, 0.0002, 0.0001)), float(np.max([0.0, 0.0002, 0.0001])))],
    ),
]
