"""Belt tension: worked values, inverses and refusals."""

from __future__ import annotations

from math import pi, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.belt_tension import (
    deflection_for_span,
    deflection_force,
    frequency_at_tension,
    needed_tension,
    tension_from_frequency,
    tension_from_push,
)
from wizard.errors import InputError, OutsideValidity


@pytest.mark.parametrize(
    ("span", "deflection"), [(29.231, 0.45673), (736.05, 11.501), (100.0, 1.5625)]
)
def test_deflection_is_a_sixty_fourth_of_the_span(span: float, deflection: float) -> None:
    assert deflection_for_span(span) == pytest.approx(deflection, rel=1e-4)


def test_force_at_the_test_deflection_is_a_sixteenth_of_the_tension() -> None:
    assert deflection_force(200.0, 0.5 / 64, 0.5) == 12.5
    assert deflection_force(90.0, 0.5 / 64, 0.5) == 5.625
    assert deflection_force(350.0, 0.720 / 64, 0.720, 20.0, 2.460) == pytest.approx(22.241, 1e-4)


def test_tension_by_pitch_of_two_belts() -> None:
    assert tension_from_frequency(0.18, 0.742, 22.0) == pytest.approx(191.86, abs=5e-3)
    assert tension_from_frequency(0.11, 0.60, 30.0) == pytest.approx(142.56, abs=5e-3)


@pytest.mark.parametrize(
    ("given_", "tension"),
    [
        ((7.5 * 745.69987158227, 20.0, 2, 0.19, radians(160)), 189.86),
        ((5500.0, 8.53, 2, 0.18, radians(157.8)), 278.30),
        ((15000.0, 15.0, 3, 0.18, radians(150)), 325.22),
    ],
)
def test_needed_tension_of_three_drives(
    given_: tuple[float, float, int, float, float], tension: float
) -> None:
    assert needed_tension(*given_) == pytest.approx(tension, abs=5e-3)


@pytest.mark.parametrize(
    ("hp", "rpm", "inches", "belts", "degrees_", "service"),
    [(3, 3450, 3.5, 1, 155, 1.3), (7.5, 1745, 5.2, 2, 150, 1.2), (15, 1765, 6.0, 2, 165, 1.4)],
)
def test_the_tension_lies_just_above_the_published_formula(
    hp: float, rpm: float, inches: float, belts: int, degrees_: float, service: float
) -> None:
    """15 (2.5 - K)/K (1000 hp)/(n V) + m V^2 of drive manuals, lbf and ft/min, from memory.

    Its 15 is 16.5 where the belt friction equation is not rounded down.
    """
    feet = pi * inches / 12 * rpm
    arc = 1.25 * (1 - 5 ** (-degrees_ / 180))
    published = 15 * (2.5 - arc) / arc * 1000 * service * hp / (belts * feet)
    speed, mass = feet * 0.3048 / 60, 0.18
    ours = needed_tension(hp * 745.69987158227, speed, belts, mass, radians(degrees_), service)
    assert 1.08 < (ours - mass * speed**2) / (published * 4.4482216152605) < 1.11


@given(
    st.floats(10, 2000),
    st.floats(0.1, 3.0),
    st.floats(0.0, 50.0),
    st.floats(0.9, 1.1),
    st.floats(0.5, 5.0),
)
def test_push_gives_the_tension_back(
    tension: float, span: float, stiffness: float, off: float, length: float
) -> None:
    deflection = off * span / 64
    force = deflection_force(tension, deflection, span, stiffness, length)
    found = tension_from_push(force, deflection, span, stiffness, length)
    assert found == pytest.approx(tension, rel=1e-9, abs=1e-6)


@given(st.floats(10, 2000), st.floats(0.05, 0.5), st.floats(0.1, 3.0))
def test_pitch_gives_the_tension_back(tension: float, mass: float, span: float) -> None:
    heard = frequency_at_tension(tension, mass, span)
    assert tension_from_frequency(mass, span, heard) == pytest.approx(tension)


@given(st.floats(90, 179), st.floats(0.5, 1.0))
def test_less_wrap_needs_more_tension(wrap: float, more: float) -> None:
    drive = (5500.0, 10.0, 2, 0.18)
    assert needed_tension(*drive, radians(wrap)) > needed_tension(*drive, radians(wrap + more))


@pytest.mark.parametrize("wrap", [89.9, 180.1])
def test_wrap_outside_a_belt_drive_is_outside_validity(wrap: float) -> None:
    with pytest.raises(OutsideValidity, match="accepted 90 ° to 180 °"):
        needed_tension(5500.0, 10.0, 2, 0.18, radians(wrap))


def test_no_belt_and_no_force_are_refused() -> None:
    with pytest.raises(InputError, match="belts: given 0, accepted 1 or more"):
        needed_tension(5500.0, 10.0, 0, 0.18, radians(150))
    with pytest.raises(InputError, match="force: given 0 lbf"):
        tension_from_push(0.0, 0.01, 0.7)
    with pytest.raises(InputError, match="frequency: given -3 Hz"):
        tension_from_frequency(0.18, 0.7, -3.0)
