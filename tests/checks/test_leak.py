"""Leaks at their limits; cooling is no leak, and a hold that cannot see says so."""

from __future__ import annotations

import math
from typing import Any

import pytest

from wizard.checks.leak import leak_decay, leak_duty
from wizard.checks.leak_price import leak_price
from wizard.errors import InputError
from wizard.finding import Finding, Verdict

PSI, CFM, FT3, ATM = 6894.757293168, 0.3048**3 / 60, 0.3048**3, 101_325.0
RATED = 0.02


def hold(share: float, scope: str = "package", time: float = 1800.0, **more: Any) -> Finding:
    """A hold from 10 bar(g) of a tank that leaks `share` of the rated delivery at the start."""
    volume, start = 0.3, 10e5 + ATM
    end = start * math.exp(-share * RATED * ATM * time / (volume * start))
    laps = ((0.0, 10e5), (time, end - ATM))
    return leak_decay(laps, scope, volume, RATED, **more)


@pytest.mark.parametrize(
    ("scope", "share", "verdict"),
    [
        ("package", 0.0099, Verdict.PASS),
        ("package", 0.0101, Verdict.ADVISORY),
        ("package", 0.0199, Verdict.ADVISORY),
        ("package", 0.0201, Verdict.FAIL),
        ("system", 0.0499, Verdict.PASS),
        ("system", 0.0501, Verdict.ADVISORY),
        ("system", 0.0999, Verdict.ADVISORY),
        ("system", 0.1001, Verdict.FAIL),
    ],
)
def test_limits(scope: str, share: float, verdict: Verdict) -> None:
    finding = hold(share, scope)
    assert finding.verdict is verdict
    assert finding.results["share"] == pytest.approx(share)
    assert "Cooling was not taken out" in finding.text


@pytest.mark.parametrize(
    ("start", "end", "minutes", "volume", "cfm"),
    [(100, 50, 10, 50 * FT3, 22.338), (120, 110, 25, 11 * FT3, 0.31101)],
)
def test_exact_form(start: float, end: float, minutes: float, volume: float, cfm: float) -> None:
    laps = ((0.0, start * PSI), (minutes * 60, end * PSI))
    finding = leak_decay(laps, "system", volume, 1.0, 14.7 * PSI)
    assert finding.results["leak"] / CFM == pytest.approx(cfm, rel=4e-4)
    assert len(finding.working) == 3, "exact form, round form beside it, what the hold can see"


def test_a_tank_that_only_cools_does_not_leak() -> None:
    laps = ((0.0, 8e5), (1800.0, 7.85e5))
    cooled = leak_decay(
        laps, "package", 0.3, RATED, ATM, 297.15, start_temperature=303.15, end_temperature=297.15
    )
    assert cooled.verdict is Verdict.PASS and cooled.text == "No leak detected."
    assert cooled.results["leak"] == 0


def test_corrected_form() -> None:
    laps = ((0.0, 10e5), (600.0, 9.0e5))
    finding = leak_decay(
        laps, "system", 0.27, 1.0, ATM, 293.15, start_temperature=308.15, end_temperature=308.15
    )
    assert 60 * finding.results["leak"] == pytest.approx(0.025350, rel=1e-4)


def test_a_small_compressor_needs_a_longer_hold() -> None:
    tiny = leak_decay(((0.0, 8e5), (600.0, 7.9e5)), "package", 0.5, 0.003)
    assert tiny.verdict is Verdict.INCONCLUSIVE and "Hold it longer" in tiny.clears


@pytest.mark.parametrize(
    ("laps", "said"),
    [
        (((0.0, 8e5), (599.0, 7.7e5)), "less than 10 min"),
        (((0.0, 8e5), (900.0, 0.9e5)), "fell too far"),
    ],
)
def test_holds_that_cannot_be_judged(laps: tuple[tuple[float, float], ...], said: str) -> None:
    finding = leak_decay(laps, "package", 0.3, RATED)
    assert finding.verdict is Verdict.INCONCLUSIVE and said in finding.text


def test_a_short_hold_that_fell_enough_counts() -> None:
    assert leak_decay(((0.0, 8e5), (120.0, 7.5e5)), "package", 0.3, RATED).verdict is Verdict.FAIL


def test_a_lap_misread_by_the_eye_is_smoothed() -> None:
    even = tuple((300.0 * n, 8e5 * 0.999**n) for n in range(6))
    bumped = tuple((t, p + (800.0 if n == 2 else 0.0)) for n, (t, p) in enumerate(even))
    straight = leak_decay(even, "package", 0.3, RATED).results["leak"]
    smooth = leak_decay(bumped, "package", 0.3, RATED).results["leak"]
    assert smooth == pytest.approx(straight, rel=0.05)


def test_near_the_atmosphere_the_plain_form_is_used() -> None:
    low = leak_decay(((0.0, 2.4e5), (900.0, 0.8e5)), "system", 0.3, RATED, 101_325.0)
    assert low.verdict is Verdict.INCONCLUSIVE
    plain = leak_decay(((0.0, 3e5), (900.0, 1.2e5)), "system", 0.3, 1.0, 200_000.0)
    assert plain.results["leak"] == pytest.approx(0.3 * 1.8e5 / (900.0 * 200_000.0))


@pytest.mark.parametrize(
    ("on", "verdict"),
    [
        (5.0, Verdict.PASS),
        (5.01, Verdict.ADVISORY),
        (10.0, Verdict.ADVISORY),
        (10.01, Verdict.FAIL),
    ],
)
def test_duty(on: float, verdict: Verdict) -> None:
    assert leak_duty(on, 100.0 - on, 5).verdict is verdict


def test_duty_wants_five_cycles_and_shut_users() -> None:
    assert leak_duty(5.0, 95.0, 4).verdict is Verdict.INCONCLUSIVE
    assert leak_duty(5.0, 95.0).verdict is Verdict.INCONCLUSIVE
    assert "users shut" in leak_duty(60.0, 40.0, 5).ask
    assert leak_duty().verdict is Verdict.NOT_APPLICABLE
    assert leak_duty(12.0, 600.0, 5, 0.85 / 60).results["leak"] * 60 == pytest.approx(
        0.016667, abs=1e-6
    )


def test_price() -> None:
    specific = 21_000.0 / (100 * CFM)
    finding = leak_price(7e5, 8 * 3600.0, 6, 3 * CFM, specific_power=specific, price_per_kwh=0.15)
    hours = 8 * 6 * 52
    assert finding.results["cost"] == pytest.approx(236.25 * hours / 2500)
    assert "look for a hole of" in finding.text
    assert "assumed" in leak_price(7e5, 8 * 3600.0, 6, 3 * CFM).text
    assert leak_price(7e5, 8 * 3600.0, 6).text == "There is no leak to price."
    assert "hole" not in leak_price(0.8e5, 8 * 3600.0, 6, 3 * CFM).text


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: leak_decay(((0.0, 7e5), (900.0, 8e5)), "package", 0.3, RATED), "does not gain"),
        (lambda: leak_decay(((0.0, 7e5), (900.0, 6e5)), "pipe", 0.3, RATED), "package; system"),
        (lambda: leak_decay(((0.0, 7e5), (900.0, -1.0)), "package", 0.3, RATED), "pressure"),
        (lambda: hold(0.01, start_temperature=25.0), "start temperature"),
        (lambda: leak_duty(0.0, 60.0, 5), "on time"),
        (lambda: leak_price(7e5, 25 * 3600.0, 6, 0.001), "hours per day"),
        (lambda: leak_price(7e5, 8 * 3600.0, 8, 0.001), "1 to 7"),
    ],
)
def test_bad_input_is_named(call: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert said in str(caught.value)
