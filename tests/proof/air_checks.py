"""Verdicts on air, against limits worked out apart with property libraries and counted moles."""

from __future__ import annotations

from collections.abc import Iterator

import fluids
import numpy
import psychrolib

from tests.proof.model import Proof
from tests.tank import ATM, CFM, GAL, PSI, Case, filling_time
from tests.units import UNITS as U
from tests.units import HAPropsSI, PropsSI
from wizard.checks import (
    air_state,
    delivery,
    pumpup,
    pumpup_delivery,
)
from wizard.finding import Finding, Verdict

FREE = "free air at the intake"
psychrolib.SetUnitSystem(psychrolib.SI)


def word(finding: Finding) -> str:
    """The verdict, with its severity where it fails."""
    failed = finding.verdict is Verdict.FAIL
    return f"FAIL {finding.severity}" if failed else str(finding.verdict)


def celsius(value: float) -> float:
    return float(U.Quantity(value, "degC").to("K").magnitude)


def steps(value: float, ends: tuple[tuple[float, str], ...], beyond: str) -> str:
    """The word of the first end that `value` does not exceed."""
    return next((name for end, name in ends if value <= end), beyond)


def reports() -> Iterator[Case]:
    for reported, height in ((102_000.0, 650.0), (101_325.0, 0.0), (29.85 * 3386.389, 1280.16)):
        share = fluids.ATMOSPHERE_1976(height).P / fluids.ATMOSPHERE_1976(0.0).P
        ours = air_state.weather_report_pressure(reported, height)
        yield ours.results["station"], reported * share


def ambients() -> Iterator[Case]:
    for height in (0.0, 1500.0, 3000.0):
        standard = fluids.ATMOSPHERE_1976(height).P
        for share in (0.955, 0.965, 1.0, 1.035, 1.045):
            ours = air_state.ambient_pressure(share * standard, height, air_state.BAROMETER)
            yield word(ours), "PASS" if abs(share - 1) <= 0.04 else "ADVISORY"


def masses() -> Iterator[Case]:
    for height, kelvin in ((0.0, 288.15), (0.0, 313.15), (1500.0, 288.15), (500.0, 288.15)):
        pressure = fluids.ATMOSPHERE_1976(height).P
        here = PropsSI("D", "T", kelvin, "P", pressure, "Air")
        share = here / PropsSI("D", "T", 288.15, "P", ATM, "Air")
        ours = air_state.mass_flow_ratio(pressure, kelvin)
        yield ours.results["ratio"], share
        yield word(ours), "PASS" if share >= 0.90 else "ADVISORY"


def stated_flows() -> Iterator[Case]:
    state = (98_000.0, 303.15, 0.6)
    for name, reference in (
        ("ISO 1217: 1 bar, 20 °C, dry", (1e5, 293.15, 0.0)),
        ("ANR: 1 bar, 20 °C, 65 % RH", (1e5, 293.15, 0.65)),
    ):
        pair = [HAPropsSI("Vda", "P", p, "T", t, "R", r) for p, t, r in (state, reference)]
        ours = air_state.flow_at_reference(name, *state, flow=0.0167)
        yield ours.results["flow"], 0.0167 * pair[1] / pair[0]


def meters() -> Iterator[Case]:
    """The three worked decisions of an acceptance test, and a data error."""
    for rated, flow, doubt, said in (
        (0.400, 0.385, 0.012, "PASS"),
        (0.900, 0.835, 0.030, "INCONCLUSIVE"),
        (2.000, 1.70, 0.05, "FAIL handover"),
        (2.000, 1.95, 0.20, "INCONCLUSIVE"),
        (1.000, 1.16, 0.01, "FAIL handover"),
    ):
        yield word(delivery.metered_delivery(rated / 60, FREE, flow / 60, doubt / flow)), said


def tank(flow: float, end: float, laps: int = 8) -> tuple[tuple[float, float], ...]:
    """Laps of an 80 gal tank at 20 °C whose pump delivers the same at any pressure."""
    marks = numpy.linspace(0.0, end, laps)
    times = [filling_time(lambda _: flow, 80 * GAL, (ATM, p + ATM), ATM) for p in marks[1:]]
    return tuple(zip((0.0, *times), (float(p) for p in marks), strict=True))


def deliveries() -> Iterator[Case]:
    """A tank of known air: what went in over the time, brought to the rated pressure."""
    for made, said in ((15.6, "PASS"), (14.7, "PASS"), (12.5, "FAIL handover")):
        laps = tank(made * CFM, 175 * PSI)
        falling = 492.45 / 509.40
        ours = pumpup_delivery.pumpup_delivery(
            laps,
            80 * GAL,
            293.15,
            15 * CFM,
            "two",
            175 * PSI,
            FREE,
            start_temperature=293.15,
            settled=175 * PSI,
            settled_again=175 * PSI,
            gauge_class=0.0025,
            gauge_full_scale=200 * PSI,
            volume_uncertainty=0.01,
        )
        yield word(ours), said
        yield ours.results["flow"], made * CFM * falling


def predictions() -> Iterator[Case]:
    """Times that scipy quad gave for the same machines (an independent integration)."""
    for volume, end, flow, rated, stages, theirs in (
        (80 * GAL, 135 * PSI, 15 * CFM, 100 * PSI, 1, 368.56),
        (80 * GAL, 175 * PSI, 15 * CFM, 175 * PSI, 2, 492.45),
    ):

        def falling(p: float, q: float = flow, r: float = rated, n: int = stages) -> float:
            share = [1.05 - 0.05 * float((x / ATM) ** (1 / (n * 1.3))) for x in (p, r + ATM)]
            return q * share[0] / share[1]

        stepped = filling_time(falling, volume, (ATM, end + ATM), ATM)
        ours = pumpup.pumpup_prediction(
            0.0, end, volume, flow, rated, FREE, {1: "one", 2: "two"}[stages]
        )
        yield ours.results["predicted"], stepped
        yield stepped, theirs


def run_times() -> Iterator[Case]:
    cuts = ((1.10, "PASS"), (1.20, "ADVISORY"), (2.0, "FAIL handover"))
    for share in (0.9, 1.05, 1.15, 1.25, 1.9, 2.1):
        laps = ((0.0, 0.0), (share * 492.447, 175 * PSI))
        ours = pumpup.pumpup_time(laps, 80 * GAL, 15 * CFM, 175 * PSI, FREE, "two")
        yield word(ours), steps(share, cuts, "FAIL safety")


def repeats() -> Iterator[Case]:
    first = ((0.0, 0.0), (200.0, 5e5), (400.0, 10e5))
    for faster in (1.0, 0.98, 0.93):
        second = tuple((t * faster, p) for t, p in first)
        slopes = [
            float(numpy.polyfit([t for t, _ in laps], [p for _, p in laps], 1)[0])
            for laps in (first, second)
        ]
        moved = slopes[1] / slopes[0] - 1
        ours = pumpup.pumpup_repeat(first, second, 0.05)
        yield ours.results["difference"], moved
        yield word(ours), "PASS" if abs(moved) <= 0.05 else "INCONCLUSIVE"


PROOFS = [
    Proof("weather_report_pressure", "fluids ATMOSPHERE_1976", reports, 1e-5),
    Proof("ambient_pressure", "4 % around fluids ATMOSPHERE_1976", ambients),
    Proof("mass_flow_ratio", "CoolProp, density of air", masses, 1e-3),
    Proof("flow_at_reference", "CoolProp HAPropsSI", stated_flows, 1e-3),
    Proof("metered_delivery", "worked decisions with ISO 1217 tolerances, recalled", meters),
    Proof("pumpup_delivery", "tank filled step by step (scipy solve_ivp)", deliveries, 5e-4),
    Proof("pumpup_prediction", "tank filled step by step (scipy solve_ivp)", predictions, 1e-4),
    Proof("pumpup_time", "share of the time stepped by scipy", run_times),
    Proof("pumpup_repeat", "numpy polyfit", repeats, 1e-9),
]
