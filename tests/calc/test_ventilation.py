"""Room air, louvers, floor and panel: worked values, refusals, and how they behave."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.floor import average_floor_load, floor_class, foot_pressure, machine_slope
from wizard.calc.louver import louver_free_area, louver_gross_area, louver_velocity
from wizard.calc.ventilation import (
    cooling_air,
    cooling_air_trade,
    input_from_shaft,
    room_heat,
    ventilation_air_density,
)
from wizard.calc.working_space import (
    SYSTEMS,
    barrier_distance,
    limited_approach,
    panel_depth,
    vicinity_zone,
    volts_to_ground,
)
from wizard.errors import InputError
from wizard.quantities import from_si, to_si

POUND, INCH = 0.45359237, 0.0254


def five(value: float) -> float:
    """A value rounded to the five digits of a worked one."""
    return float(f"{value:.5g}")


def test_worked_values_of_the_air() -> None:
    low, high = (ventilation_air_density(z, 293.15) for z in (0.0, 1500.0))
    assert [five(low), five(high)] == [1.2041, 1.0048]
    assert five(cooling_air(11500.0, low, 8.0)) == 1.1867
    assert five(cooling_air(11500.0, high, 8.0)) == 1.4221
    heat = to_si(39240.0, "power", "Btu/h")
    rise = to_si(15.0, "temperature difference", "°F (diff)")
    assert five(from_si(cooling_air_trade(heat, rise), "flow", "cfm")) == 2422.2
    shaft = input_from_shaft(to_si(10.0, "power", "hp"), 0.90)
    assert five(from_si(shaft, "power", "Btu/h")) == 28271.0
    needed = cooling_air_trade(shaft, to_si(10.0, "temperature difference", "°F (diff)"))
    assert five(from_si(needed, "flow", "cfm")) == 2617.7


def test_worked_values_of_louver_and_floor() -> None:
    flow, speed = to_si(1200.0, "flow", "cfm"), to_si(400.0, "speed", "ft/min")
    free = louver_free_area(flow, speed)
    assert from_si(free, "area", "ft2") == pytest.approx(3.0)
    assert five(from_si(louver_gross_area(free, 0.45), "area", "ft2")) == 6.6667
    pressure = foot_pressure(1650 * POUND, 4, 9 * INCH**2)
    assert from_si(pressure, "stress", "psi") == pytest.approx(68.750)
    load = average_floor_load(1650 * POUND, 48 * INCH, 30 * INCH)
    assert from_si(load, "stress", "psf") == pytest.approx(165.00)
    slope = machine_slope(0.20 * INCH, 48 * INCH)
    assert 12 * slope.slope == pytest.approx(0.050000)
    assert five(math.degrees(slope.angle)) == 0.23873


@given(st.floats(-100, 4000), st.floats(-100, 4000))
def test_air_gets_thinner_up_the_hill(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert ventilation_air_density(high, 293.15) <= ventilation_air_density(low, 293.15)


@given(st.floats(1e3, 1e5), st.floats(0.7, 1.4), st.floats(1, 30))
def test_the_air_carries_exactly_the_heat(heat: float, density: float, rise: float) -> None:
    flow = cooling_air(heat, density, rise)
    assert flow * density * 1006.0 * rise == pytest.approx(heat, rel=1e-9)


@given(st.floats(0.01, 5), st.floats(0.05, 5), st.floats(0.1, 1))
def test_the_louver_for_a_velocity_gives_that_velocity(
    flow: float, speed: float, share: float
) -> None:
    gross = louver_gross_area(louver_free_area(flow, speed), share)
    assert louver_velocity(flow, gross, share) == pytest.approx(speed, rel=1e-9)


def test_working_space_follows_volts_to_ground() -> None:
    wye, delta = tuple(SYSTEMS)[:2]
    assert volts_to_ground(240.0, delta) == 240.0
    feet = {
        line: panel_depth(volts_to_ground(line, wye), "live") / 0.3048 for line in (208.0, 480.0)
    }
    assert feet == {208.0: pytest.approx(3.0), 480.0: pytest.approx(4.0)}
    assert panel_depth(150.0, "grounded") < panel_depth(150.1, "grounded")


def test_the_barrier_never_stands_inside_a_wide_zone() -> None:
    assert barrier_distance(1.2) == 1.2
    assert barrier_distance(vicinity_zone(400.0)) == pytest.approx(1.0668)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (
            lambda: cooling_air(1e4, 1.2, 0.0),
            "rise: given 0 °F (diff) (0 K), accepted more than zero; the outdoor air is hotter.",
        ),
        (
            lambda: ventilation_air_density(4001.0, 293.15),
            "elevation: given 13127 ft (4001 m), accepted -328 ft to 13123 ft (-100 m to 4000 m).",
        ),
        (lambda: room_heat(1e4, 0.5), "share: given 50 %, accepted 85 % to 100 %."),
        (
            lambda: louver_gross_area(1.0, 0.0),
            "free_share: given 0 %, accepted more than zero.",
        ),
        (
            lambda: panel_depth(601.0, "live"),
            "to_ground: given 601 V, accepted 1 V to 600 V.",
        ),
        (
            lambda: panel_depth(120.0, "wood"),
            "opposite: given “wood”, accepted nothing; grounded; live.",
        ),
        (lambda: limited_approach(24.0), "voltage: given 24 V, accepted 50 V to 750 V."),
        (lambda: vicinity_zone(1001.0), "voltage: given 1001 V, accepted 50 V to 1000 V."),
        (
            lambda: floor_class(to_si(251.0, "stress", "psf")),
            "load: given 251 psf (12.02 kPa), accepted 0 psf to 250 psf (0 kPa to 11.97 kPa).",
        ),
        (lambda: foot_pressure(500.0, 2, 0.01), "feet: given 2, accepted 3 to 8."),
    ],
)
def test_refuses_with_one_sentence(call: object, sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert str(caught.value) == sentence
