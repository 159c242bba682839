"""The state of the air against property libraries and a published example."""

from __future__ import annotations

from collections.abc import Iterator

import fluids
import psychrolib
from scipy.optimize import brentq

from tests.proof.model import Proof
from tests.tank import ATM, PSI, Case
from tests.units import UNITS as U
from tests.units import HAPropsSI, PropsSI
from wizard.calc import air_state, rating, vapour

psychrolib.SetUnitSystem(psychrolib.SI)


def gauges() -> Iterator[Case]:
    for gauge, ambient in (
        ((125, "psi"), (14.696, "psi")),
        ((10, "bar"), (850, "mbar")),
        ((90, "psi"), (24.9, "inHg")),
    ):
        total = U.Quantity(*gauge) + U.Quantity(*ambient)
        read, room = (float(U.Quantity(*q).to("Pa").magnitude) for q in (gauge, ambient))
        ours = air_state.absolute_pressure(read, room)
        yield ours, float(total.to("Pa").magnitude)


def atmosphere() -> Iterator[Case]:
    for height in (-500.0, 0.0, 500.0, 1524.0, 3000.0, 5000.0):
        standard = fluids.ATMOSPHERE_1976(height)
        ours = air_state.standard_atmosphere(height)
        yield ours.pressure, standard.P
        yield ours.temperature, standard.T


def stations() -> Iterator[Case]:
    for reported, height in ((101_325.0, 0.0), (102_000.0, 650.0), (99_000.0, 1280.16)):
        share = fluids.ATMOSPHERE_1976(height).P / fluids.ATMOSPHERE_1976(0.0).P
        yield air_state.station_pressure(reported, height), reported * share


def masses() -> Iterator[Case]:
    for height, kelvin in ((0.0, 313.15), (1500.0, 308.15), (3000.0, 268.66)):
        pressure = fluids.ATMOSPHERE_1976(height).P
        here = PropsSI("D", "T", kelvin, "P", pressure, "Air")
        rated = PropsSI("D", "T", 288.15, "P", ATM, "Air")
        yield air_state.air_mass_ratio(pressure, kelvin), here / rated


def water_curve() -> Iterator[Case]:
    for celsius in (0.1, 10, 20, 40, 60, 100):
        real = PropsSI("P", "T", celsius + 273.15, "Q", 0, "Water")
        yield vapour.saturation_pressure(celsius + 273.15), real


def hand_curve() -> Iterator[Case]:
    for celsius in (0.1, 10, 20, 40, 50):
        real = PropsSI("P", "T", celsius + 273.15, "Q", 0, "Water")
        yield vapour.saturation_pressure_by_hand(celsius + 273.15), real


def ice_curve() -> Iterator[Case]:
    for celsius in (-0.1, -10.0, -20.0, -40.0, -60.0):
        yield vapour.frost_pressure(celsius + 273.15), psychrolib.GetSatVapPres(celsius)


def vapours() -> Iterator[Case]:
    for celsius, share in ((-10.0, 0.8), (20.0, 0.5), (35.0, 0.9)):
        theirs = psychrolib.GetVapPresFromRelHum(celsius, share)
        yield vapour.vapour_pressure(celsius + 273.15, share), theirs


def densities() -> Iterator[Case]:
    for kelvin, share in ((303.15, 0.7), (313.15, 0.9), (278.15, 0.3)):
        dry = HAPropsSI("V", "T", kelvin, "P", ATM, "R", share)
        ratio = HAPropsSI("W", "T", kelvin, "P", ATM, "R", share)
        yield vapour.moist_density(ATM, kelvin, share), (1 + ratio) / dry


def published_flow() -> Iterator[Case]:
    kelvin = (80 + 459.67) / 1.8
    humid = 0.5069 * PSI / vapour.saturation_pressure(kelvin) * 0.80
    ours = air_state.reference_flow(
        100.0, 14.7 * PSI, (60 + 459.67) / 1.8, 0.0, 12.23 * PSI, kelvin, humid
    )
    yield ours, 129.1


def dry_volume(pressure: float, kelvin: float, share: float) -> float:
    """Volume that each kg of dry air takes with its vapour."""
    return float(HAPropsSI("Vda", "T", kelvin, "P", pressure, "R", share))


def dry_flows() -> Iterator[Case]:
    states = ((98_000.0, 303.15, 0.6), (14.696 * PSI, 308.15, 0.7), (84_000.0, 283.15, 0.2))
    names = ("ISO 1217: 1 bar, 20 °C, dry", "ASME: 14.7 psia, 68 °F, 36 % RH")
    for state in states:
        for name in names:
            reference = air_state.flow_state(name)
            theirs = dry_volume(*reference) / dry_volume(*state)
            yield air_state.reference_flow(1.0, *state, *reference), theirs


def flanges() -> Iterator[Case]:
    for flange in (99_000.0, 95_000.0):
        here = PropsSI("D", "T", 293.15, "P", flange, "Air")
        room = PropsSI("D", "T", 293.15, "P", 100_000.0, "Air")
        yield air_state.free_air_from_inlet(1.0, flange, 100_000.0), here / room


def intake_volumes() -> Iterator[Case]:
    intake = (100_000.0, 293.15, 0.0)
    for name in ("US: 14.696 psia, 60 °F, dry", "Normal: 101.325 kPa, 0 °C, dry"):
        theirs = dry_volume(*intake) / dry_volume(*air_state.flow_state(name))
        yield rating.rated_intake_flow(1.0, name), theirs
    yield rating.rated_intake_flow(0.5, rating.FREE_AIR), 0.5


def same_ratios() -> Iterator[Case]:
    for gauge, height in ((10e5, 1500.0), (100 * PSI, 3000.0)):
        ambient = fluids.ATMOSPHERE_1976(height).P
        wanted = brentq(lambda p: p / ambient - (gauge + ATM) / ATM, 1e4, 1e8)  # noqa: B023
        yield rating.same_ratio_pressure(gauge, ambient), wanted


PROOFS = [
    Proof("absolute_pressure", "pint", gauges, 1e-9),
    Proof("standard_atmosphere", "fluids ATMOSPHERE_1976", atmosphere, 1e-5),
    Proof("station_pressure", "fluids ATMOSPHERE_1976", stations, 1e-5),
    Proof("air_mass_ratio", "CoolProp, density of air", masses, 1e-3),
    Proof("saturation_pressure", "CoolProp, water", water_curve, 2e-4),
    Proof("saturation_pressure_by_hand", "CoolProp, water", hand_curve, 4e-3),
    Proof("frost_pressure", "psychrolib, over ice", ice_curve, 1e-3),
    Proof("vapour_pressure", "psychrolib", vapours, 1e-3),
    Proof("moist_density", "CoolProp HAPropsSI", densities, 1e-3),
    Proof("reference_flow", "published example: 100 scfm are 129.1 acfm", published_flow, 5e-4),
    Proof("reference_flow", "CoolProp HAPropsSI, volume of dry air", dry_flows, 1e-3),
    Proof("free_air_from_inlet", "CoolProp, density of air", flanges, 1e-3),
    Proof("rated_intake_flow", "CoolProp HAPropsSI, volume of dry air", intake_volumes, 1e-3),
    Proof("same_ratio_pressure", "scipy brentq on the ratio", same_ratios, 1e-9),
]
