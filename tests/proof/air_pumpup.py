"""Pump-up against counted moles, tanks filled step by step, and Monte Carlo."""

from __future__ import annotations

from collections.abc import Iterator

import numpy
from scipy.integrate import quad

from tests.proof.model import Proof
from tests.tank import ATM, CFM, GAL, MOLAR_GAS, PSI, Case, filling_time, moles
from tests.units import UNITS as U
from wizard.calc import acceptance, pumpup, pumpup_time, uncertainty

RUNS = (
    (80 * GAL, 114.696 * PSI, 164.696 * PSI, 300.0, 312.0, 60.0, 14.696 * PSI, 293.15),
    (0.27, 601_325.0, 901_325.0, 298.15, 318.15, 95.0, ATM, 295.15),
    (0.5, 95_000.0, 1_095_000.0, 293.15, 328.15, 300.0, 95_000.0, 293.15),
)


def cold_runs() -> Iterator[Case]:
    for volume, start, end, _, _, time, ambient, intake in RUNS:
        gained = moles(end, volume, intake) - moles(start, volume, intake)
        theirs = gained * MOLAR_GAS * intake / ambient / time
        yield pumpup.pumpup_flow_simple(volume, start, end, time, ambient), theirs


def warm_runs() -> Iterator[Case]:
    for volume, start, end, cold, warm, time, ambient, intake in RUNS:
        gained = moles(end, volume, warm) - moles(start, volume, cold)
        theirs = gained * MOLAR_GAS * intake / ambient / time
        ours = pumpup.pumpup_flow_warm(volume, start, end, cold, warm, time, ambient, intake)
        yield ours, theirs


def leaking_waits() -> Iterator[Case]:
    for full, loss in ((952_000.0, 2000.0), (700_000.0, 500.0)):
        steps = full - numpy.cumsum(numpy.full(60, loss / 30))
        yield pumpup.settled_without_leak(float(steps[29]), float(steps[59])), full


def revolutions() -> Iterator[Case]:
    for measured, rated in ((15.2, 15.0), (14.5, 15.0)):
        a_turn = 0.01 / measured
        yield pumpup.speed_corrected_flow(0.01, measured, rated), a_turn * rated


FILLS = (
    (80 * GAL, ATM, 135 * PSI + ATM, 15 * CFM, 100 * PSI + ATM, 1),
    (80 * GAL, ATM, 175 * PSI + ATM, 15 * CFM, 175 * PSI + ATM, 2),
    (0.5, 6e5 + ATM, 10e5 + ATM, 0.02, 10e5 + ATM, 2),
)


def clearance(pressure: float, stages: int) -> float:
    return float(1.05 - 0.05 * (pressure / ATM) ** (1 / (stages * 1.3)))


def constant_fills() -> Iterator[Case]:
    for volume, start, end, flow, _, _ in FILLS:
        ours = pumpup_time.pumpup_time_constant(volume, start, end, flow, ATM)
        yield ours, filling_time(lambda _: flow, volume, (start, end), ATM)  # noqa: B023


def falling_fills() -> Iterator[Case]:
    for volume, start, end, flow, rated, stages in FILLS:
        integral, _ = quad(lambda p: 1 / clearance(p, stages), start, end)  # noqa: B023
        theirs = volume / (ATM * flow) * clearance(rated, stages) * integral
        ours = pumpup_time.pumpup_time_falling(volume, start, end, flow, rated, ATM, ATM, stages)
        yield ours, theirs


def warm_fills() -> Iterator[Case]:
    for volume, start, end, flow, _, _ in FILLS:
        cold = filling_time(lambda _: flow, volume, (start, end), ATM)  # noqa: B023
        gained = moles(end, volume, 325.0) - moles(start, volume, 298.0)
        theirs = gained * MOLAR_GAS * 293.15 / ATM / flow
        yield pumpup_time.pumpup_time_warm(cold, start, end, 298.0, 325.0, 293.15), theirs


def rated_flows() -> Iterator[Case]:
    for volume, start, end, flow, rated, stages in FILLS:

        def falling(p: float, q: float = flow, r: float = rated, n: int = stages) -> float:
            return q * clearance(p, n) / clearance(r, n)

        time = filling_time(falling, volume, (start, end), ATM)
        average = volume * (end - start) / (time * ATM)
        predicted = pumpup_time.pumpup_time_falling(
            volume, start, end, flow, rated, ATM, ATM, stages
        )
        constant = pumpup_time.pumpup_time_constant(volume, start, end, flow, ATM)
        yield acceptance.flow_at_rated_pressure(average, predicted, constant), flow


def tolerances() -> Iterator[Case]:
    recalled = (
        (0.49, 0.07, 0.08),
        (0.5, 0.06, 0.07),
        (1.5, 0.06, 0.07),
        (1.51, 0.05, 0.06),
        (15.0, 0.05, 0.06),
        (15.1, 0.04, 0.05),
    )
    for minute, flow, energy in recalled:
        ours = acceptance.rating_tolerance(minute / 60)
        yield ours.flow, flow
        yield ours.specific_energy, energy


def lowest_flows() -> Iterator[Case]:
    for rated, share in ((0.4, 7), (0.9, 6), (2.0, 5)):
        less = U.Quantity(rated, "m^3/min") * (1 - U.Quantity(share, "percent"))
        theirs = float(less.to("m^3/s").magnitude)
        yield acceptance.lowest_accepted_flow(rated / 60, share / 100), theirs


def gauge_classes() -> Iterator[Case]:
    from scipy.stats import uniform  # deferred: a second to load

    for share, scale in ((0.01, 300 * PSI), (0.0025, 16e5)):
        spread = uniform(loc=-share * scale, scale=2 * share * scale).std()
        yield uncertainty.gauge_uncertainty(share, scale), float(spread)


def monte_carlo() -> Iterator[Case]:
    random = numpy.random.default_rng(7)
    for volume, start, end, cold, warm, time, ambient, intake in RUNS:

        def draw(
            value: float, spread: float
        ) -> numpy.ndarray[tuple[int], numpy.dtype[numpy.float64]]:
            return random.normal(value, spread, 400_000)

        flow = (
            draw(volume, 0.01 * volume)
            / draw(time, 0.3)
            * (draw(end, PSI) / draw(warm, 3.0) - draw(start, PSI) / draw(cold, 3.0))
            * draw(intake, 1.0)
            / draw(ambient, 200.0)
        )
        ours = uncertainty.pumpup_uncertainty(start, end, cold, warm, time, ambient, intake, PSI)
        yield ours.combined, float(numpy.std(flow) / numpy.mean(flow))


COUNT = "counting moles with the molar gas constant"
STEPPED = "tank filled step by step (scipy solve_ivp)"
PROOFS = [
    Proof("pumpup_flow_simple", COUNT, cold_runs, 1e-9),
    Proof("pumpup_flow_warm", COUNT, warm_runs, 1e-9),
    Proof("settled_without_leak", "numpy, a leak of equal steps", leaking_waits, 1e-9),
    Proof("speed_corrected_flow", "air of one revolution times revolutions", revolutions, 1e-9),
    Proof("pumpup_time_constant", STEPPED, constant_fills, 1e-7),
    Proof("pumpup_time_falling", "scipy quad", falling_fills, 1e-9),
    Proof("pumpup_time_warm", COUNT, warm_fills, 1e-7),
    Proof("flow_at_rated_pressure", STEPPED, rated_flows, 1e-6),
    Proof("rating_tolerance", "ISO 1217:2009 Annex C, recalled", tolerances, 1e-9),
    Proof("lowest_accepted_flow", "pint, percent", lowest_flows, 1e-9),
    Proof("gauge_uncertainty", "scipy.stats.uniform", gauge_classes, 1e-9),
    Proof("pumpup_uncertainty", "numpy Monte Carlo, 400 000 draws", monte_carlo, 1e-2),
]
