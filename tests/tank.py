"""Units, moles and a tank that is filled step by step: what the air proofs share."""

from __future__ import annotations

from collections.abc import Callable

from scipy.constants import R
from scipy.integrate import solve_ivp

from tests.units import UNITS as U

Case = tuple[float | str, float | str]
PSI = float(U.Quantity(1.0, "psi").to("Pa").magnitude)
CFM = float(U.Quantity(1.0, "ft^3/min").to("m^3/s").magnitude)
GAL = float(U.Quantity(1.0, "gallon").to("m^3").magnitude)
HP = float(U.Quantity(1.0, "horsepower").to("W").magnitude)
ATM = 101_325.0
MOLAR_GAS = float(R)


def si(value: float, unit: str, base: str) -> float:
    return float(U.Quantity(value, unit).to(base).magnitude)


def moles(pressure: float, volume: float, temperature: float) -> float:
    return pressure * volume / (MOLAR_GAS * temperature)


def filling_time(
    flow: Callable[[float], float],
    volume: float,
    ends: tuple[float, float],
    ambient: float,
    kelvin: float = 293.15,
) -> float:
    """Time to fill a tank, stepping the moles in it, until its pressure is reached."""
    molar = MOLAR_GAS * kelvin

    def rate(_: float, state: list[float]) -> list[float]:
        return [flow(state[0] * molar / volume) * ambient / molar]

    def full(_: float, state: list[float]) -> float:
        return state[0] * molar / volume - ends[1]

    full.terminal = True  # type: ignore[attr-defined]
    start = ends[0] * volume / molar
    run = solve_ivp(rate, (0, 1e5), [start], events=full, rtol=1e-10, atol=1e-10)
    return float(run.t_events[0][0])
