"""Storage, cycles and water against property libraries and textbook examples."""

from __future__ import annotations

import math
from collections.abc import Iterator

import psychrolib
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, minimize_scalar

from tests.proof.model import Proof
from tests.tank import ATM, CFM, GAL, PSI, Case, filling_time
from tests.units import UNITS as U
from tests.units import HAPropsSI
from wizard.calc import drain, receiver_cycle, water

psychrolib.SetUnitSystem(psychrolib.SI)


def dry_volume(pressure: float, kelvin: float, share: float) -> float:
    """Volume that each kg of dry air takes with its vapour."""
    return float(HAPropsSI("Vda", "T", kelvin, "P", pressure, "R", share))


def textbook_receiver() -> Iterator[Case]:
    common = (100 * PSI, 80 * PSI, 20 * CFM, 14.7 * PSI)
    yield receiver_cycle.storage_volume(360.0, *common) / GAL, 660.0
    yield receiver_cycle.storage_volume(360.0, *common, 5 * CFM) / GAL, 495.0


def emptying() -> Iterator[Case]:
    for volume, high, low, drawn, made in (
        (0.27, 10e5, 6e5, 0.02, 0.0),
        (80 * GAL, 125 * PSI, 90 * PSI, 30 * CFM, 12 * CFM),
    ):
        net = drawn - made
        run = filling_time(lambda _: net, volume, (low + ATM, high + ATM), ATM)  # noqa: B023
        yield receiver_cycle.storage_time(volume, high, low, drawn, ATM, made), run


CYCLES = (
    (80 * GAL, 35 * PSI, 23 * CFM, 11.5 * CFM),
    (0.27, 2e5, 0.01, 0.4 / 60),
    (0.5, 2.5e5, 0.02, 0.005),
)


def cycles() -> Iterator[Case]:
    for volume, band, made, drawn in CYCLES:
        ends = (6e5, 6e5 + band)
        load = filling_time(lambda _: made - drawn, volume, ends, ATM)  # noqa: B023
        off = filling_time(lambda _: drawn, volume, ends, ATM)  # noqa: B023
        ours = receiver_cycle.switch_cycle(volume, band, made, drawn, ATM)
        yield ours.load_time, load
        yield ours.off_time, off
        yield ours.rate, 1 / (load + off)
        yield ours.duty, load / (load + off)


def worst_demand() -> Iterator[Case]:
    for volume, band, made, _ in CYCLES:
        worst = minimize_scalar(
            lambda share: volume * band / (made * ATM) * (1 / (1 - share) + 1 / share),  # noqa: B023
            bounds=(0.01, 0.99),
            method="bounded",
        )
        yield receiver_cycle.shortest_cycle(volume, band, made, ATM), float(worst.fun)


def receivers() -> Iterator[Case]:
    for hourly, band, made in ((6, 35 * PSI, 23 * CFM), (10, 2e5, 0.01)):

        def rate(volume: float, b: float = band, m: float = made) -> float:
            cycle = volume * b / ATM * (1 / (m / 2) + 1 / (m / 2))
            return 3600 / cycle

        theirs = brentq(lambda v: rate(v) - hourly, 1e-4, 10.0)  # noqa: B023
        yield receiver_cycle.receiver_for_starts(hourly / 3600, band, made, ATM), theirs


def humidity_ratios() -> Iterator[Case]:
    for celsius, share in ((30.0, 0.7), (10.0, 0.4), (35.0, 0.8)):
        theirs = psychrolib.GetHumRatioFromRelHum(celsius, share, ATM)
        yield water.humidity_ratio(celsius + 273.15, share, ATM), theirs


def condensate() -> Iterator[Case]:
    for flow, kelvin, share, gauge, tank in (
        (1.0, 303.15, 0.70, 8e5, 308.15),
        (0.6, 308.15, 0.80, 10e5, 323.15),
    ):
        dry = flow / 60 / dry_volume(ATM, kelvin, share)
        carried = HAPropsSI("W", "T", kelvin, "P", ATM, "R", share)
        held = HAPropsSI("W", "T", tank, "P", gauge + ATM, "R", 1.0)
        ours = water.water_balance(flow / 60, ATM, kelvin, share, gauge, tank)
        yield ours.taken_in, dry * carried
        yield ours.dropped, dry * (carried - held)


def textbook_water() -> Iterator[Case]:
    kelvin = (80 + 459.67) / 1.8
    ours = water.water_balance(100 * CFM, 14.7 * PSI, kelvin, 1.0, 100 * PSI, kelvin)
    yield ours.taken_in * 8 * 3600 / (8.34 * 0.45359237), 9.09


def dew_points() -> Iterator[Case]:
    for celsius, gauge in ((38.0, 100 * PSI), (60.0, 7e5), (20.0, 10e5), (3.0, 7e5)):
        vapour_at_room = psychrolib.GetSatVapPres(celsius) * ATM / (gauge + ATM)
        theirs = psychrolib.GetTDewPointFromVapPres(90.0, vapour_at_room) + 273.15
        yield water.atmospheric_dew_point(celsius + 273.15, gauge).frost, theirs


def filled() -> Iterator[Case]:
    for litres, hourly in ((2.0, 1.0098), (0.5, 0.2)):
        theirs = (U.Quantity(litres, "L") * U.Quantity(1.0, "kg/L")) / U.Quantity(hourly, "kg/h")
        ours = drain.drain_fill_time(litres / 1000, hourly / 3600)
        yield ours, float(theirs.to("s").magnitude)


def jets() -> Iterator[Case]:
    for bore, gauge in ((0.003, 7e5), (0.003175, 100 * PSI)):
        speed = brentq(lambda v: 998.0 * v * v / 2 - gauge, 0.1, 200.0)  # noqa: B023
        theirs = 0.61 * math.pi / 4 * bore**2 * speed
        yield drain.drain_flow(bore, gauge), theirs


def openings() -> Iterator[Case]:
    for litres, flow in ((1.0, 0.1615e-3), (0.3, 0.18e-3)):
        run = solve_ivp(lambda _, v: [flow], (0, 100), [0.0], dense_output=True)  # noqa: B023
        empty = brentq(lambda t: run.sol(t)[0] - litres / 1000, 0.0, 100.0)  # noqa: B023
        yield drain.drain_open_time(litres / 1000, flow), empty + 1.0


STEPPED = "tank filled step by step (scipy solve_ivp)"
PROOFS = [
    Proof("storage_volume", "fluid-power textbook: 660 and 495 gal", textbook_receiver, 1e-3),
    Proof("storage_time", STEPPED, emptying, 1e-7),
    Proof("switch_cycle", STEPPED, cycles, 1e-7),
    Proof("shortest_cycle", "scipy minimize_scalar over the demand", worst_demand, 1e-6),
    Proof("receiver_for_starts", "scipy brentq on the starts", receivers, 1e-9),
    Proof("humidity_ratio", "psychrolib", humidity_ratios, 1e-3),
    Proof("water_balance", "CoolProp HAPropsSI", condensate, 8e-3),
    Proof("water_balance", "fluid-power textbook: 9.09 gal in 8 h", textbook_water, 2e-3),
    Proof("atmospheric_dew_point", "psychrolib", dew_points, 2e-4),
    Proof("drain_fill_time", "pint", filled, 1e-9),
    Proof("drain_flow", "Bernoulli by scipy brentq", jets, 1e-9),
    Proof("drain_open_time", "jug filled step by step (scipy)", openings, 1e-6),
]
