"""Hoses, threads and pipe against libraries and published tables."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import pi

import fluids
import numpy

from tests.proof.model import Proof
from tests.units import UNITS as U
from tests.units import PropsSI
from wizard.calc import hose, pipe, pipe_friction, pipe_line, thread, vibration
from wizard.tables import table

Case = tuple[float | str, float | str]
PSI, INCH = 6894.757293168, 0.0254
CFM = float(U.Quantity(1.0, "ft^3/min").to("m^3/s").magnitude)
T60 = 519.67 / 1.8
P100 = 114.696 * PSI
SIZES = ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "4")
NPS = (0.5, 0.75, 1, 1.25, 1.5, 2, 2.5, 3, 4)
SCHEDULE_40 = (
    (20, "3/4", 0.345),
    (25, "3/4", 0.526),
    (50, "3/4", 1.99),
    (50, "1", 0.578),
    (100, "1", 2.21),
    (100, "1-1/4", 0.534),
    (100, "1-1/2", 0.247),
    (100, "2", 0.070),
    (200, "2", 0.264),
    (400, "2", 1.00),
)
"""Free air in cfm, size, psi per 100 ft at 100 psig and 60 °F, as printed."""


def mass(scfm: float) -> float:
    return pipe.air_mass_flow(scfm * CFM, 14.696 * PSI, T60)


def stainless() -> Iterator[Case]:
    """Ours never exceeds what US hose tables give for 304 and 316L."""
    printed = {150: 0.96, 200: 0.92, 250: 0.91, 300: 0.86, 350: 0.85, 400: 0.82}
    for fahrenheit, factor in printed.items():
        ours = hose.metal_hose_factor((fahrenheit + 459.67) / 1.8)
        yield "at most" if factor - 0.06 < ours <= factor else f"{ours}", "at most"


def iso_10380() -> Iterator[Case]:
    for celsius, factor in ((20, 1.0), (50, 0.87), (100, 0.72), (150, 0.65), (200, 0.59)):
        yield hose.metal_hose_factor(celsius + 273.15, "ISO 10380"), factor


def between_rows() -> Iterator[Case]:
    rows = table("metal_hose_factors").rows
    at, factor = [r["temperature"] for r in rows], [r["factor"] for r in rows]
    for kelvin in numpy.linspace(280.0, 477.0, 40):
        yield hose.metal_hose_factor(float(kelvin)), float(numpy.interp(kelvin, at, factor))


def printed_example() -> Iterator[Case]:
    """3200 psig burst, factor 0.70 at 700 °F, a quarter of it: 560 psig as printed."""
    yield hose.hot_working_pressure(3200 / 4 * PSI, 0.70), 560 * PSI


def ratios() -> Iterator[Case]:
    for working, setting in ((250, 200), (175, 200), (290.07547, 175)):
        ratio = U.Quantity(working, "psi") / U.Quantity(setting, "psi")
        yield hose.hose_to_relief(working * PSI, setting * PSI), float(ratio.magnitude)


def bursts() -> Iterator[Case]:
    for burst, working in ((1000, 250), (720, 200), (560, 200), (12500, 3125)):
        yield hose.burst_to_working(burst, working), float(Fraction(burst, working))


def offsets() -> Iterator[Case]:
    """Live lengths for a radius of 35 in, printed to the next tenth of an inch."""
    printed = {
        0.25: 7.3,
        0.375: 8.9,
        0.5: 10.3,
        0.75: 12.6,
        1.0: 14.6,
        1.5: 17.9,
        2.0: 20.6,
        3.0: 25.3,
        4.0: 29.3,
        5.0: 32.8,
        6.0: 36.0,
        8.0: 41.8,
        10.0: 47.0,
    }
    for offset, length in printed.items():
        yield hose.hose_live_length(35 * INCH, offset * INCH), length * INCH


def pitches() -> Iterator[Case]:
    """Pitch in inches from ASME B1.20.1, to five decimals, times the turns."""
    printed = {"1/8": 0.03704, "1/4": 0.05556, "3/8": 0.05556, "1/2": 0.07143, "1": 0.08696}
    for size, pitch in printed.items():
        yield thread.thread_make_up(size, 3.0), 3 * pitch * INCH


def densities() -> Iterator[Case]:
    for p, t in ((101325.0, 293.15), (97000.0, 308.15), (8e5, 293.15)):
        yield pipe.air_mass_flow(0.02, p, t), 0.02 * PropsSI("D", "P", p, "T", t, "Air")


def velocities() -> Iterator[Case]:
    for scfm, bore in ((50, 0.824), (50, 1.049), (100, 1.380)):
        density = PropsSI("D", "P", P100, "T", T60, "Air")
        speed = mass(scfm) / density / (pi * (bore * INCH) ** 2 / 4)
        yield pipe.air_velocity(mass(scfm), bore * INCH, P100, T60), speed


def compressed_volumes() -> Iterator[Case]:
    """Free air to compressed air at 100 psig and 60 °F, columns of the printed table."""
    for free, compressed in ((10, 1.282), (50, 6.408), (100, 12.82), (400, 51.26)):
        area = pi / 4 * 0.05**2
        flow = pipe.air_velocity(mass(free), 0.05, 114.7 * PSI, T60) * area
        yield flow / CFM, compressed


def bores() -> Iterator[Case]:
    for size, nps in zip(SIZES, NPS, strict=True):
        found = fluids.nearest_pipe(NPS=nps, schedule="40")  # type: ignore[arg-type]
        yield pipe.schedule_40_bore(size), found[1]


def fittings() -> Iterator[Case]:
    """K over the friction factor of full turbulence is the length in bores."""
    bore, fd = 0.0266, 0.023
    losses_of = {
        "gate valve": fluids.K_gate_valve_Crane(bore, bore, 0.0, fd),
        "full-bore ball valve": fluids.K_ball_valve_Crane(bore, bore, 0.0, fd),
        "globe valve": fluids.K_globe_valve_Crane(bore, bore, fd),
        "swing check valve": fluids.K_swing_check_valve_Crane(fd=fd, angled=True),
    }
    for fitting, k in losses_of.items():
        yield pipe.fitting_length(fitting, 2, bore), 2 * k / fd * bore


def drops() -> Iterator[Case]:
    for scfm, size, _ in SCHEDULE_40:
        bore = pipe.schedule_40_bore(size)
        flow = mass(scfm)
        factor = fluids.friction_factor(
            Re=pipe_friction.pipe_reynolds(flow, bore, T60), eD=4.57e-5 / bore, Method="Clamond"
        )
        rho = P100 / (287.05287 * T60)
        after = fluids.isothermal_gas(rho=rho, fd=factor, P1=P100, L=30.48, D=bore, m=flow)
        yield pipe.isothermal_pressure_drop(flow, bore, 30.48, P100, T60), P100 - after


def printed_drops() -> Iterator[Case]:
    for scfm, size, psi in SCHEDULE_40:
        bore = pipe.schedule_40_bore(size)
        yield pipe.isothermal_pressure_drop(mass(scfm), bore, 30.48, P100, T60) / PSI, psi


def smallest_pipe() -> Iterator[Case]:
    bore = pipe.schedule_40_bore("1/2")
    yield pipe.isothermal_pressure_drop(mass(10), bore, 30.48, P100, T60) / PSI, 0.356


def fifth_power() -> Iterator[Case]:
    """From one column of the printed table to the next."""
    for known, wanted in (("1-1/4", "1-1/2"), ("1-1/2", "2")):
        psi = {size: drop for scfm, size, drop in SCHEDULE_40 if scfm == 100}
        ours = pipe.drop_at_other_bore(
            psi[known], pipe.schedule_40_bore(known), pipe.schedule_40_bore(wanted)
        )
        yield ours, psi[wanted]


def viscosities() -> Iterator[Case]:
    for kelvin in (263.15, 288.15, 323.15, 473.15):
        yield (
            pipe_friction.air_viscosity(kelvin),
            PropsSI("V", "P", 101325, "T", kelvin, "Air"),
        )


def reynolds() -> Iterator[Case]:
    for scfm, bore in ((50, 0.0209), (100, 0.0266)):
        mu = pipe_friction.air_viscosity(T60)
        rho = P100 / (287.05287 * T60)
        v = mass(scfm) / rho / (pi * bore**2 / 4)
        yield (
            pipe_friction.pipe_reynolds(mass(scfm), bore, T60),
            fluids.Reynolds(D=bore, V=v, rho=rho, mu=mu),
        )


GRID = [(re, rough) for re in (4e3, 2e4, 1e5, 1e6) for rough in (1e-5, 1e-4, 1.7e-3, 5e-3)]


def colebrook() -> Iterator[Case]:
    for re, rough in GRID:
        theirs = fluids.friction_factor(Re=re, eD=rough, Method="Clamond")
        yield pipe_friction.pipe_friction_factor(re, rough), theirs
    yield pipe_friction.pipe_friction_factor(1500.0, 1e-3), fluids.friction_factor(Re=1500.0)


def haaland() -> Iterator[Case]:
    for re, rough in GRID:
        yield pipe_friction.pipe_friction_factor_quick(re, rough), fluids.Haaland(re, rough)


def falls() -> Iterator[Case]:
    for inches, feet in ((3, 100), (6, 100), (1, 20)):
        slope = (U.Quantity(inches, "inch") / U.Quantity(feet, "foot")).to("dimensionless")
        yield pipe_line.pipe_fall(inches * INCH, feet * 12 * INCH), float(slope.magnitude)


def losses() -> Iterator[Case]:
    for near, far in ((100, 94), (100, 91), (100, 89)):
        yield pipe_line.pressure_lost(near, far), float(Fraction(near - far, near))


def holds() -> Iterator[Case]:
    """Pressure of the same real air in the same volume at another temperature."""
    for p, t1, t2 in (
        (114.7 * PSI, (70 + 459.67) / 1.8, (60 + 459.67) / 1.8),
        (11.013e5, 298.15, 291.15),
        (8.013e5, 288.15, 295.15),
    ):
        density = PropsSI("D", "P", p, "T", t1, "Air")
        theirs = PropsSI("P", "D", density, "T", t2, "Air")
        yield pipe_line.expected_hold_pressure(p, t1, t2), theirs


def tones() -> Iterator[Case]:
    wave = numpy.sin(numpy.linspace(0, 2 * numpy.pi, 100_000, endpoint=False))
    for peak in (0.010, 0.040):
        theirs = float(numpy.sqrt(numpy.mean((peak * wave) ** 2)))
        yield vibration.rms_of_peak(peak), theirs


PROOFS = [
    Proof("metal_hose_factor", "US hose tables, 304 and 316L: ours is never above", stainless),
    Proof("metal_hose_factor", "ISO 10380 factors as printed in hose tables", iso_10380, 1e-9),
    Proof("metal_hose_factor", "numpy.interp", between_rows, 1e-9),
    Proof("hot_working_pressure", "printed example of a hose table", printed_example, 1e-9),
    Proof("hose_to_relief", "pint", ratios, 1e-6),
    Proof("burst_to_working", "exact fractions; a printed hose line 12500/3125", bursts, 1e-9),
    Proof("hose_live_length", "printed offset table, radius 35 in", offsets, 0.01),
    Proof("thread_make_up", "ASME B1.20.1 pitch, printed to five decimals", pitches, 1e-4),
    Proof("air_mass_flow", "CoolProp density of air", densities, 5e-3),
    Proof("air_velocity", "CoolProp density of air", velocities, 5e-3),
    Proof("air_velocity", "printed table, compressed volume at 100 psig", compressed_volumes, 1e-3),
    Proof("schedule_40_bore", "fluids.nearest_pipe, rounded to metric", bores, 3e-3),
    Proof(
        "fitting_length", "fluids, valve loss coefficients over the friction factor", fittings, 1e-9
    ),
    Proof("isothermal_pressure_drop", "fluids.isothermal_gas", drops, 1e-7),
    Proof("isothermal_pressure_drop", "printed Schedule 40 air table", printed_drops, 0.04),
    Proof("isothermal_pressure_drop", "printed Schedule 40 air table, 1/2 in", smallest_pipe, 0.10),
    Proof("drop_at_other_bore", "printed Schedule 40 air table", fifth_power, 0.04),
    Proof("air_viscosity", "CoolProp", viscosities, 0.015),
    Proof("pipe_reynolds", "fluids.Reynolds", reynolds, 1e-9),
    Proof("pipe_friction_factor", "fluids.friction_factor", colebrook, 1e-7),
    Proof("pipe_friction_factor_quick", "fluids.Haaland", haaland, 1e-9),
    Proof("pipe_fall", "pint", falls, 1e-9),
    Proof("pressure_lost", "exact fractions", losses, 1e-9),
    Proof("expected_hold_pressure", "CoolProp real air at constant density", holds, 1e-3),
    Proof("rms_of_peak", "numpy, sampled sine", tones, 1e-6),
]
