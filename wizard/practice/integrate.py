"""Time steps: the Bogacki-Shampine pair of orders 3 and 2, with error control and events.

P. Bogacki, L. F. Shampine, A 3(2) pair of Runge-Kutta formulas, Applied Mathematics Letters 2
(1989) 321 (coefficients checked in the tests against an independent implementation). A
Runge-Kutta method keeps every linear invariant of the equations, so balances close to rounding.

Invariant: a step never passes an event; it ends on it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

Vector = Sequence[float]
Rate = Callable[[Vector], list[float]]
Event = Callable[[Vector], float]
"""Below zero before it happens, zero or above from then on."""

SMALLEST = 1e-4
"""Seconds; a smaller step is taken as it is."""
NEAR = 1e-3
"""Seconds within which the moment of an event is found."""


def advance(
    rate: Rate,
    y: Vector,
    span: float,
    scale: Vector,
    events: Sequence[Event] = (),
    first: float = 0.05,
    longest: float = 60.0,
) -> tuple[list[float], float, int]:
    """The state after `span` seconds or at the first event, the time taken, the event's number.

    `scale` is the error allowed in each component in one step. The number is -1 where nothing
    happened.
    """
    now, done, step = list(y), 0.0, min(first, span)
    k1 = rate(now)
    while done < span - 1e-9:
        step = min(step, span - done, longest)
        new, k4, error = _step(rate, now, k1, step, scale)
        if error > 1.0 and step > SMALLEST:
            step *= max(0.2, 0.9 * error ** (-1 / 3))
            continue
        hit = next((i for i, event in enumerate(events) if event(new) >= 0.0), -1)
        if hit >= 0:
            taken, new = _locate(rate, now, k1, step, scale, events[hit])
            return new, done + taken, hit
        now, k1, done = new, k4, done + step
        step *= min(4.0, 0.9 * max(error, 1e-6) ** (-1 / 3))
    return now, done, -1


def _step(
    rate: Rate, y: list[float], k1: list[float], h: float, scale: Vector
) -> tuple[list[float], list[float], float]:
    """One step, the rate at its end and its error over what is allowed."""
    a, b = 0.5 * h, 0.75 * h
    k2 = rate([v + a * k for v, k in zip(y, k1, strict=True)])
    k3 = rate([v + b * k for v, k in zip(y, k2, strict=True)])
    p, q, r = 2 * h / 9, h / 3, 4 * h / 9
    new = [v + p * s + q * t + r * u for v, s, t, u in zip(y, k1, k2, k3, strict=True)]
    k4 = rate(new)
    e1, e2, e3, e4 = -5 * h / 72, h / 12, h / 9, -h / 8
    error = max(
        abs(e1 * s + e2 * t + e3 * u + e4 * w) / allowed
        for s, t, u, w, allowed in zip(k1, k2, k3, k4, scale, strict=True)
    )
    return new, k4, error


def _locate(
    rate: Rate, y: list[float], k1: list[float], step: float, scale: Vector, event: Event
) -> tuple[float, list[float]]:
    """The end of the shortest step from `y` that reaches the event, by halving."""
    low, high = 0.0, step
    while high - low > NEAR:
        middle = (low + high) / 2
        reached = event(_step(rate, y, k1, middle, scale)[0]) >= 0.0
        low, high = (low, middle) if reached else (middle, high)
    return high, _step(rate, y, k1, high, scale)[0]
