"""Checks of the site: verdicts on both sides of a published limit, or of an outside calculation."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from tests.proof.model import Proof
from tests.units import UNITS
from wizard.checks.hearing import blow_gun, protected_level
from wizard.checks.lifting import (
    lift_weight,
    lifting_angle,
    off_centre_lift,
    shackle_capacity,
    sling_capacity,
    sling_geometry,
)
from wizard.checks.lockout import (
    absence_of_voltage,
    live_parts,
    lockout_recheck,
    zero_energy_air,
    zero_energy_electrical,
)
from wizard.checks.moving import fork_capacity, fork_length, route_clearance, tip_angle
from wizard.checks.noise import noise_exposure, noise_exposure_europe, noise_peak
from wizard.finding import Finding, Verdict

Pairs = Iterable[tuple[float | str, float | str]]

SAFETY, HANDOVER, NOTE, PASS = "FAIL safety", "FAIL handover", "ADVISORY", "PASS"
HOUR = 3600.0


def si(text: str, unit: str) -> float:
    """A quantity by pint."""
    return float(UNITS.Quantity(text).to(unit).magnitude)


def said(finding: Finding) -> str:
    """Verdict, with the severity where it fails."""
    failed = finding.verdict is Verdict.FAIL
    return f"FAIL {finding.severity}" if failed else str(finding.verdict)


def _dead() -> Pairs:
    yield said(absence_of_voltage((0.0, 0.0, 0.0))), PASS
    yield said(absence_of_voltage((1.2, 0.9, 1.1))), NOTE
    yield said(absence_of_voltage((0.0, 5.1, 0.0))), SAFETY


def _meter_proved() -> Pairs:
    zero = (0.0, 0.0, 0.0)
    yield said(zero_energy_electrical(240.0, 240.0, zero, zero)), PASS
    yield said(zero_energy_electrical(240.0, None, zero, zero)), SAFETY
    yield said(zero_energy_electrical(None, 240.0, zero, zero)), SAFETY
    yield said(zero_energy_electrical(240.0, 240.0, zero, None)), "INCONCLUSIVE"


def _air() -> Pairs:
    three = si("3 psi", "Pa")
    yield said(zero_energy_air(0.0, True, True)), PASS
    yield said(zero_energy_air(three, True, True)), SAFETY
    yield said(zero_energy_air(0.0, False, True)), SAFETY
    yield said(zero_energy_air(0.0, True, False)), SAFETY


def _recheck() -> Pairs:
    yield said(lockout_recheck("same crew", "not repeated", 59 * 60.0)), PASS
    yield said(lockout_recheck("same crew", "not repeated", 60 * 60.0)), SAFETY
    yield said(lockout_recheck("changed", "not repeated", 0.0)), SAFETY
    yield said(lockout_recheck("changed", "repeated", 7200.0)), PASS


def _fifty_volts() -> Pairs:
    yield said(live_parts(49.9, False, False)), PASS
    yield said(live_parts(50.0, False, False)), SAFETY
    yield said(live_parts(480.0, True, False)), SAFETY
    yield said(live_parts(480.0, True, True)), NOTE
    yield said(live_parts(400.0, False, True, "IEC")), SAFETY
    yield said(live_parts(400.0, True, True, "IEC")), NOTE


def _osha_days() -> Pairs:
    """Rows of Table G-16 as whole days: a full row is at the limit."""
    for level, hours in ((90.0, 8.0), (95.0, 4.0), (100.0, 2.0), (105.0, 1.0), (110.0, 0.5)):
        yield said(noise_exposure((level,), (hours * HOUR,), False)), SAFETY
        yield said(noise_exposure((level,), (hours * HOUR,), True)), HANDOVER
        yield said(noise_exposure((level,), (0.9 * hours * HOUR,), True)), NOTE
    yield said(noise_exposure((84.0,), (8 * HOUR,), False)), PASS
    yield said(noise_exposure((116.0,), (60.0,), False)), SAFETY


def _directive() -> Pairs:
    for level, bare in ((79.9, PASS), (80.0, NOTE), (85.0, HANDOVER), (87.0, HANDOVER)):
        yield said(noise_exposure_europe((level,), (8 * HOUR,), False)), bare
    yield said(noise_exposure_europe((87.1,), (8 * HOUR,), False)), SAFETY
    yield said(noise_exposure_europe((88.02,), (4 * HOUR,), False)), HANDOVER


def _peaks() -> Pairs:
    yield said(noise_peak(140.0)), PASS
    yield said(noise_peak(140.1)), SAFETY


def _protectors() -> Pairs:
    yield protected_level(100.0, 25.0, derating="full").results["at_ear"], 82.0
    yield protected_level(100.0, 25.0).results["at_ear"], 91.0
    yield said(protected_level(100.0, 25.0, derating="full")), PASS
    yield said(protected_level(100.0, 25.0)), HANDOVER


def _nozzle() -> Pairs:
    yield said(blow_gun(si("30 psi", "Pa"))), PASS
    yield said(blow_gun(si("30.1 psi", "Pa"))), HANDOVER


def _angles() -> Pairs:
    for degrees, verdict in ((60, PASS), (59, NOTE), (45, NOTE), (44, HANDOVER), (30, HANDOVER)):
        yield said(lifting_angle(math.radians(degrees))), verdict
    yield said(lifting_angle(math.radians(29.9))), SAFETY
    yield said(lifting_angle(math.radians(61), "from vertical")), SAFETY


def _geometry() -> Pairs:
    found = sling_geometry(si("4 ft", "m"), si("4.2 ft", "m"))
    yield math.degrees(found.results["angle"]), math.degrees(math.acos(2.1 / 4.0))
    yield said(found), NOTE


def _legs() -> Pairs:
    """Two inclined legs in equilibrium, solved by numpy."""
    slope = math.radians(55.0)
    solved = np.linalg.solve(
        np.array([[-math.cos(slope), math.cos(slope)], [math.sin(slope), math.sin(slope)]]),
        np.array([0.0, 1450.0]),
    )
    for rating in (1100.0, 1200.0, 880.0):
        found = sling_capacity(1450.0, 4, slope, rating)
        share = float(solved[0]) / rating
        yield found.results["utilisation"], share
        yield said(found), SAFETY if share > 1 else HANDOVER if share > 0.75 else PASS


def _off_centre() -> Pairs:
    """Moments about the pick points, and the slope of each leg."""
    near, far, height = (si(f"{inches} in", "m") for inches in (14, 22, 30))
    found = off_centre_lift(900.0, near, far, height, 1000.0)
    for name, arm, own in (("near", far, near), ("far", near, far)):
        yield found.results[name], 900.0 * arm / (near + far) / math.sin(math.atan2(height, own))
    yield said(off_centre_lift(900.0, near, far, height, 600.0)), SAFETY
    yield said(off_centre_lift(900.0, near, far, height)), "INCONCLUSIVE"


def _shackles() -> Pairs:
    for degrees, share in ((0, 1.0), (45, 0.7), (90, 0.5)):
        turned = math.radians(degrees)
        yield said(shackle_capacity(999.0 * share, 1000.0, turned)), PASS if not degrees else NOTE
        yield said(shackle_capacity(1001.0 * share, 1000.0, turned)), SAFETY


def _weights() -> Pairs:
    found = lift_weight(si("1450 lb", "kg"), si("30 lb", "kg"), si("1450 lb", "kg"))
    yield found.results["gross"], si("1480 lb", "kg")
    yield said(found), PASS
    yield said(lift_weight(si("1450 lb", "kg"), 0.0, 1450.0)), NOTE


def _truck() -> Pairs:
    """The published moment of 5000 lb at 24 in: 120 000 in·lb."""
    for centre in (24.0, 30.0, 40.0):
        allowed = 120_000 / centre
        for load in (allowed - 1, allowed + 1):
            found = fork_capacity(
                si(f"{load} lb", "kg"), si("5000 lb", "kg"), si("24 in", "m"), centre * 0.0254
            )
            yield said(found), PASS if load < allowed else SAFETY


def _forks() -> Pairs:
    yield said(fork_length(1.0, 1.5)), PASS
    yield said(fork_length(0.99, 1.5)), HANDOVER


def _tipping() -> Pairs:
    for half in (0.35, 0.37):
        stands = math.degrees(math.atan2(half, 1.0)) >= 20
        yield said(tip_angle((half, 1.0), 1.0)), PASS if stands else HANDOVER


def _route() -> Pairs:
    yield said(route_clearance(1.0, 0.9)), PASS
    yield said(route_clearance(0.95, 0.9)), NOTE
    yield said(route_clearance(0.89, 0.9)), HANDOVER


OSHA_147 = "29 CFR 1910.147 and 1910.333: what must be shown"

PROOFS = [
    Proof("absence_of_voltage", OSHA_147, _dead),
    Proof("zero_energy_electrical", OSHA_147, _meter_proved),
    Proof("zero_energy_air", OSHA_147, _air),
    Proof("lockout_recheck", OSHA_147, _recheck),
    Proof("live_parts", "29 CFR 1910.333, 50 V", _fifty_volts),
    Proof("noise_exposure", "29 CFR 1910.95 Table G-16", _osha_days),
    Proof("noise_exposure_europe", "Directive 2003/10/EC: 80, 85 and 87 dBA", _directive),
    Proof("noise_peak", "29 CFR 1910.95(b)(2), 140 dB", _peaks),
    Proof("protected_level", "OSHA field manual example, 100 dBA and NRR 25", _protectors, 1e-12),
    Proof("blow_gun", "29 CFR 1910.242(b), 30 psi", _nozzle),
    Proof("lifting_angle", "sling charts: none below 30°, 60° preferred", _angles),
    Proof("sling_geometry", "law of cosines", _geometry, 1e-9),
    Proof("sling_capacity", "numpy, equilibrium of two legs", _legs, 1e-9),
    Proof("off_centre_lift", "moments about the pick points", _off_centre, 1e-9),
    Proof("shackle_capacity", "ASME B30.26 side-load factors", _shackles),
    Proof("lift_weight", "pint", _weights, 1e-9),
    Proof("fork_capacity", "29 CFR 1910.178 load moment, 120 000 in·lb", _truck),
    Proof("fork_length", "two thirds of the load by fraction", _forks),
    Proof("tip_angle", "arctangent of two arguments", _tipping),
    Proof("route_clearance", "subtraction of widths", _route),
]
