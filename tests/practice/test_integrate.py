"""The integrator: its coefficients, its order, and what it must keep and never pass."""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, log

import numpy as np
import pytest
from scipy.integrate import RK23

from wizard.practice import integrate
from wizard.practice.integrate import advance


def test_one_step_is_that_of_an_independent_implementation() -> None:
    def rate(y: Sequence[float]) -> list[float]:
        return [y[1], -9.0 * y[0] - 0.3 * y[1]]

    start, h = [1.0, 0.4], 0.13
    ours, last, error = integrate._step(rate, start, rate(start), h, [1.0, 1.0])
    solver = RK23(lambda t, y: np.array(rate(list(y))), 0.0, np.array(start), 10.0, first_step=h,
                  max_step=h, rtol=1e9, atol=1e9)  # fmt: skip
    solver.step()
    assert solver.t == pytest.approx(h)
    assert ours == pytest.approx(list(solver.y), rel=1e-14)
    assert last == pytest.approx(list(solver.f), rel=1e-14)
    theirs = np.dot(solver.K.T, solver.E) * h
    assert error == pytest.approx(max(abs(theirs)), rel=1e-10)


def test_error_falls_with_the_third_power_of_the_step() -> None:
    def end(steps: int) -> float:
        y = [1.0]
        for _ in range(steps):
            y, _, _ = integrate._step(lambda v: [-v[0]], y, [-y[0]], 1.0 / steps, [1.0])
        return abs(y[0] - exp(-1.0))

    assert log(end(16) / end(32), 2) == pytest.approx(3.0, abs=0.1)


def test_a_sum_that_is_conserved_stays_to_rounding() -> None:
    def rate(y: Sequence[float]) -> list[float]:
        flow = y[0] ** 1.5 * 0.3
        return [-flow, flow * 0.7, flow * 0.3]

    y, _, _ = advance(rate, [5.0, 0.0, 0.0], 50.0, [1e-3] * 3)
    assert sum(y) == pytest.approx(5.0, abs=1e-12)
    assert y[0] < 1.0


def test_stops_on_the_event_and_says_which() -> None:
    events = [lambda y: y[0] - 100.0, lambda y: y[0] - 3.0]
    y, taken, hit = advance(lambda y: [1.0], [0.0], 10.0, [1e-6], events)
    assert hit == 1
    assert taken == pytest.approx(3.0, abs=2e-3)
    assert y[0] >= 3.0


def test_without_event_the_whole_span_is_taken() -> None:
    y, taken, hit = advance(lambda y: [-0.1 * y[0]], [1.0], 25.0, [1e-6])
    assert hit == -1
    assert taken == pytest.approx(25.0)
    assert y[0] == pytest.approx(exp(-2.5), rel=1e-4)
