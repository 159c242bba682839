"""Constants of a machine on its site, worked out once: cylinders, belts, oil, relief, inertia."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from math import exp, log10, pi, sqrt

from wizard.calc.belt import wrap_angle
from wizard.calc.belt_tension import GRIP
from wizard.calc.gas import GAS_CONSTANT
from wizard.calc.oil import viscosity_at_100, viscosity_line
from wizard.practice.compression import CHOKED, HOLE, Cylinder
from wizard.practice.electricity import Curve, curve_of
from wizard.practice.plates import Drive, Machine, Oil
from wizard.practice.state import At, Site, capacities, humidity_ratio

FREE_AIR_DENSITY = 101325.0 / (GAS_CONSTANT * 288.706)
"""Of the air that relief valves are stamped in, 60 °F and 14.696 psia."""
BLEED_AT = 0.93
"""Of cut-out, where a cracked outlet valve holds the tank with a sound pump."""
STAMPED_SHARE = 0.90
"""A stamp promises nine tenths of what was measured."""


def area_of(bore: float) -> float:
    """Area of a round hole."""
    return pi / 4 * bore * bore


@lru_cache(maxsize=64)
def oil_line(oil: Oil) -> tuple[float, float]:
    """Intercept and slope of the viscosity line of an oil."""
    at_40 = oil.grade * 1e-6
    line = viscosity_line(at_40, viscosity_at_100(at_40, oil.index))
    return line.intercept, line.slope


def centistokes(oil: Oil, temperature: float) -> float:
    """Viscosity of the oil at a temperature, cSt; a gel is taken as 100 000."""
    intercept, slope = oil_line(oil)
    exponent = intercept - slope * log10(temperature)
    return 1e5 if exponent > 0.698 else float(10 ** (10**exponent) - 0.7)


def belt_pull_limit(drive: Drive, motor_speed: float) -> float:
    """Pull at which the belts of a drive slip, N, by the belt-friction equation."""
    grip = exp(GRIP * wrap_angle(drive.centre_distance, drive.pump_sheave, drive.motor_sheave))
    speed = motor_speed * drive.motor_sheave / 2
    net = max(0.0, drive.tension - drive.belt_mass * speed * speed)
    return drive.belts * 2 * net * (grip - 1) / (grip + 1)


def belt_slip(used: float) -> float:
    """Slip of the belts at `used` times the pull they hold.

    Creep of 1 % at the limit; beyond about 85 % the peaks of the uneven piston torque slip too.
    """
    return min(0.6, 0.01 * used + 0.25 * max(0.0, used - 0.85) ** 2)


@dataclass(frozen=True, slots=True)
class Design:
    """Constants of a machine on its site."""

    machine: Machine
    site: Site
    lp: Cylinder
    hp: Cylinder | None
    curve: Curve
    ratio: float
    pull_limit: float
    suction: float
    friction_work: float
    humid: float
    relief_area: float
    bleed_area: float
    inertia: float
    winding_cooling: float
    capacity: dict[At, float] = field(hash=False)


def _bleed_area(machine: Machine, site: Site) -> float:
    """An outlet valve opened until the tank stands a little below cut-out."""
    held = BLEED_AT * machine.protection.cut_out + site.pressure
    flow = machine.pump.rated_flow * site.pressure / (GAS_CONSTANT * site.temperature)
    return float(flow / (HOLE * held * CHOKED / sqrt(site.temperature)))


@lru_cache(maxsize=64)
def design_of(machine: Machine, site: Site) -> Design:
    """The constants; computed once for a machine."""
    pump, drive, motor = machine.pump, machine.drive, machine.motor
    area = area_of(pump.bore) * pump.stroke
    lp = Cylinder(area * pump.lp_cylinders, pump.clearance, pump.exponent, pump.lp_leak)
    hp = None
    if pump.stages == 2:
        second = area_of(pump.hp_bore) * pump.stroke * pump.hp_cylinders
        hp = Cylinder(second, pump.clearance, pump.exponent, pump.hp_leak)
    curve = curve_of(machine.supply, motor)
    ratio = drive.motor_sheave / drive.pump_sheave
    speed = motor.speed * ratio / pump.speed * machine.supply.frequency / motor.frequency
    suction = site.pressure - pump.filter_drop * speed**2 - pump.suction_drop
    swept = lp.swept + (hp.swept if hp else 0.0)
    relieving = 1.1 * machine.protection.relief_set + site.pressure
    passed = machine.protection.relief_capacity * FREE_AIR_DENSITY / STAMPED_SHARE
    return Design(
        machine, site, lp, hp, curve, ratio, belt_pull_limit(drive, 2 * pi * motor.speed),
        suction, pump.friction * swept,
        humidity_ratio(site.temperature, site.pressure, site.humidity),
        passed / (HOLE * relieving * CHOKED / sqrt(293.15)),
        _bleed_area(machine, site),
        motor.inertia + drive.inertia * ratio**2,
        (motor.power / motor.efficiency - motor.power) / motor.rise,
        capacities(machine),
    )  # fmt: skip
