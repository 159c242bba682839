"""The interstage gauge: bands, needle and the valve it points at."""

from __future__ import annotations

from typing import Any

import pytest

from wizard.calc.compression import interstage_from_cylinders, interstage_warm
from wizard.checks.interstage import CLIMBING, interstage_pressure
from wizard.errors import InputError
from wizard.finding import Finding, Severity, Verdict

PSI = 6894.757293168
ROOM = 14.696 * PSI


def read(psi: float, **more: Any) -> Finding:
    return interstage_pressure(psi * PSI, 175 * PSI, ROOM, **more)


@pytest.mark.parametrize(
    ("psi", "builder", "calculated"),
    [
        (35.0, Verdict.PASS, Verdict.PASS),
        (30.0, Verdict.FAIL, Verdict.PASS),
        (50.0, Verdict.FAIL, Verdict.PASS),
        (20.0, Verdict.FAIL, Verdict.FAIL),
        (75.0, Verdict.FAIL, Verdict.FAIL),
    ],
)
def test_bands(psi: float, builder: Verdict, calculated: Verdict) -> None:
    assert read(psi, normal=38.103 * PSI).verdict is builder
    assert read(psi).verdict is calculated


def test_low_and_high_point_at_different_valves() -> None:
    assert "low-pressure cylinder valves" in read(20.0).text
    assert "high-pressure cylinder valves" in read(75.0).text
    assert read(20.0).severity is Severity.HANDOVER


def test_the_needle_names_the_valve() -> None:
    above = read(38.0, needle="swinging above normal")
    assert above.verdict is Verdict.ADVISORY
    assert "high-pressure suction valve leaking" in above.text
    below = read(20.0, needle="swinging below normal")
    assert below.verdict is Verdict.FAIL
    assert "low-pressure discharge valve leaking" in below.text


def test_climbing_stops_the_machine() -> None:
    finding = read(38.0, needle=CLIMBING)
    assert finding.holds and "high-pressure discharge valve leaking" in finding.text


@pytest.mark.parametrize(
    ("cut_out", "verdict"),
    [(218.75, Verdict.PASS), (219.0, Verdict.INCONCLUSIVE)],
)
def test_it_counts_from_four_fifths_of_cut_out(cut_out: float, verdict: Verdict) -> None:
    assert read(38.0, cut_out=(cut_out * PSI,) * 3).verdict is verdict


def test_cylinders_are_better_than_the_square_root() -> None:
    plate: dict[str, Any] = {
        "first_inlet": 293.15,
        "second_inlet": 308.0,
        "low_bore": 0.127,
        "low_cylinders": 2,
        "high_bore": 0.1016,
        "high_cylinders": 1,
        "stroke": 0.09,
    }
    by_hand = interstage_from_cylinders(ROOM, 2 * 0.127**2, 0.1016**2, 293.15, 308.0)
    assert read(30.0, **plate).results["expected"] == pytest.approx(by_hand - ROOM)
    warm = interstage_warm(ROOM, 175 * PSI + ROOM, 293.15, 308.0)
    some = {k: v for k, v in plate.items() if k != "high_bore"}
    assert read(45.0, **some).results["expected"] == pytest.approx(warm - ROOM)
    assert read(30.0, **plate, normal=38 * PSI).results["expected"] == pytest.approx(38 * PSI)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: read(175.0), "less than the final pressure"),
        (lambda: read(38.0, needle="shaking"), "swinging above normal"),
        (lambda: read(38.0, normal=0.0), "builder's normal"),
    ],
)
def test_bad_input_is_named(call: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert said in str(caught.value)
