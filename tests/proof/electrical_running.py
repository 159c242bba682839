"""Proof of start, cycling, derating and load: published tables, circuits, wave forms."""

from __future__ import annotations

import math
from collections.abc import Iterator
from decimal import Decimal

import numpy as np

from tests.proof.electrical import Pairs, fixed
from tests.proof.model import Proof
from tests.units import UNITS as UREG
from wizard.calc import derating, motor_load, starting, starts
from wizard.calc import plate_current as plates
from wizard.checks.derating import altitude_and_heat
from wizard.checks.motor_load import running_current, shaft_power
from wizard.checks.plate_current import plate_current
from wizard.checks.power_reading import power_reading
from wizard.checks.starting import coil_voltage, start_method, starting_dip, starting_voltage
from wizard.checks.starts import starts_per_hour
from wizard.errors import InputError
from wizard.tables import table

HP = 745.69987158227
ROOT = 480 * math.sqrt(3)
WAVE = np.linspace(0.0, 2 * math.pi, 3600, endpoint=False)


def _taken(start: str, phases: str) -> str:
    """What a way of starting comes to for a motor."""
    try:
        return start_method(start, phases).verdict.value
    except InputError:
        return "refused"


def _power_of_waves() -> Pairs:
    """Mean of the instantaneous power of three sine waves, and of one."""
    for volts, amperes, factor in ((460.0, 12.4, 0.85), (400.0, 21.0, 0.84)):
        lag, peak = math.acos(factor), 2 * volts / math.sqrt(3) * amperes
        total = sum(
            peak * np.sin(WAVE - k) * np.sin(WAVE - k - lag)
            for k in (0.0, 2 * math.pi / 3, 4 * math.pi / 3)
        )
        yield motor_load.electrical_input(volts, amperes, factor), float(np.mean(total))
    lag = math.acos(0.93)
    one = 2 * 230.0 * 21.5 * np.sin(WAVE) * np.sin(WAVE - lag)
    yield motor_load.electrical_input(230.0, 21.5, 0.93, "single"), float(np.mean(one))


def _plates_of_waves() -> Iterator[tuple[str, float, float, float, float, float]]:
    """Phases, volts, amperes, power factor, efficiency, and the shaft power of sampled waves."""
    for phases, volts, amperes, factor, efficiency in (
        ("three", 400.0, 14.5, 0.84, 0.89),
        ("three", 460.0, 12.4, 0.85, 0.895),
        ("single", 230.0, 20.2, 0.95, 0.84),
    ):
        lags = (0.0, 2 * math.pi / 3, 4 * math.pi / 3) if phases == "three" else (0.0,)
        across = volts / math.sqrt(3) if phases == "three" else volts
        i = [math.sqrt(2) * amperes * np.sin(WAVE - k - math.acos(factor)) for k in lags]
        u = [math.sqrt(2) * across * np.sin(WAVE - k) for k in lags]
        taken = float(np.mean(sum(a * b for a, b in zip(u, i, strict=True))))
        yield phases, volts, amperes, factor, efficiency, taken * efficiency


def _rated_of_waves() -> Pairs:
    for phases, volts, amperes, factor, efficiency, shaft in _plates_of_waves():
        yield plates.rated_current(shaft, volts, efficiency, factor, phases), amperes


def _plates_apart() -> Iterator[tuple[str, str]]:
    for phases, volts, amperes, factor, efficiency, shaft in _plates_of_waves():
        for share in (0.89, 0.91, 1.0, 1.09, 1.11, math.sqrt(3), 1 / math.sqrt(3)):
            plate = (share * amperes, shaft, volts, phases, efficiency, factor)
            yield plate_current(*plate).verdict, "PASS" if 0.9 < share < 1.1 else "ADVISORY"


def _usual_of_the_code() -> Iterator[tuple[str, str]]:
    """Every printed current of the code tables is a usual one."""
    for phases, volts in (("three", 230), ("three", 460), ("single", 230)):
        for row in table(f"full_load_current_{phases}").rows:
            if 1.5 <= row["hp"] <= 30 and row.get(f"v{volts}"):
                low, high = plates.usual_plate_current(row["hp"] * HP, float(volts), phases)
                yield "usual" if low <= row[f"v{volts}"] <= high else f"{row}", "usual"


def _factor_of_waves() -> Pairs:
    """Mean of the instantaneous power over the product of the effective values."""
    for volts, amperes, factor in ((230.0, 19.8, 0.94), (400.0, 13.2, 0.83)):
        u = math.sqrt(2) * volts * np.sin(WAVE)
        i = math.sqrt(2) * amperes * np.sin(WAVE - math.acos(factor))
        effective = np.sqrt(np.mean(u**2)) * np.sqrt(np.mean(i**2))
        mean = float(np.mean(u * i))
        implied = motor_load.implied_power_factor
        yield implied(mean, volts, amperes, "single"), mean / float(effective)
        yield implied(mean * math.sqrt(3), volts, amperes), factor


def _possible() -> Pairs:
    """Real power of a complex load against the magnitude of its apparent power."""
    for angle, verdict in ((0.58, "PASS"), (1.0, "ADVISORY"), (0.0, "ADVISORY")):
        apparent = math.sqrt(3) * 400.0 * 13.0 * np.exp(1j * angle)
        yield power_reading(float(apparent.real), "three", 400.0, (13.0,)).verdict.value, verdict
    yield power_reading(1.2 * 9007.0, "three", 400.0, (13.0,)).verdict.value, "FAIL"


def _apparent() -> Pairs:
    """Product of the effective values of sampled waves, three phases."""
    for volts, amperes in ((460.0, 88.987), (400.0, 120.0)):
        v = np.sqrt(np.mean((math.sqrt(2 / 3) * volts * np.sin(WAVE)) ** 2))
        i = np.sqrt(np.mean((math.sqrt(2) * amperes * np.sin(WAVE)) ** 2))
        yield starting.starting_power(amperes, volts), float(3 * v * i)


def _star_delta() -> Pairs:
    """Line current of one winding impedance in star and in delta, complex."""
    z, volts = 1.1 + 2.4j, 400.0
    star = abs(volts / math.sqrt(3) / z)
    delta = math.sqrt(3) * abs(volts / z)
    direct = starting.locked_rotor_current(6.29, 20 * HP, 460.0)
    reduced = starting.locked_rotor_current(6.29, 20 * HP, 460.0, starter="star-delta")
    yield reduced / direct, star / delta


def _divider() -> Pairs:
    """Two impedances of one angle as a voltage divider."""
    for power, rated, z in ((70.9e3, 75e3, 0.03), (70.9e3, 30e3, 0.025)):
        motor = 460.0**2 / power
        source = z * 460.0**2 / rated
        angle = np.exp(1j * 1.1)
        left = abs(460.0 * motor * angle / (motor * angle + source * angle)) / 460.0
        yield starting.source_dip(power, rated, z), 1 - left


def _chain() -> Pairs:
    """Source, cable and motor in series, all of one angle, solved as a linear system."""
    current, source, cable = 88.987, 0.0832, 0.0807
    nodes = np.array([[1.0, 0.0], [-1.0, 1.0]])
    drops = np.array([480.0 - math.sqrt(3) * current * source, -math.sqrt(3) * current * cable])
    at_panel, at_motor = np.linalg.solve(nodes, drops)
    dip = 1 - at_panel / 480.0
    ours = starting.voltage_at_start(480.0, dip, math.sqrt(3) * current * cable)
    yield ours, float(at_motor)


def _reduced_ambient() -> Pairs:
    """Rated rise less the reduction of ambient that the standard's table asks for."""
    table = {(80, 2000): 32, (80, 3000): 24, (105, 2000): 30, (105, 3000): 19, (125, 3000): 15}
    for (rise, metres), ambient in table.items():
        share = (rise - (40 - ambient)) / rise
        yield derating.permitted_rise(float(metres), 313.15, float(rise)), share


def _published_derating() -> Pairs:
    """A motor maker's printed reduction factors for altitude and ambient."""
    for metres, celsius, factor in (
        (2000, 40, 0.94), (2500, 40, 0.90), (1000, 45, 0.96), (1000, 50, 0.92), (2000, 45, 0.90),
    ):  # fmt: skip
        share = derating.permitted_rise(float(metres), celsius + 273.15)
        yield derating.derated_fraction(share), factor


def _load() -> Pairs:
    """Amperage-ratio method of the US energy department, exact decimals."""
    for i, full, v, plate in (("11.2", "12.4", "455", "460"), ("20", "28", "236", "230")):
        ratio = Decimal(i) / Decimal(full) * Decimal(v) / Decimal(plate)
        yield motor_load.load_fraction(float(i), float(full), float(v), float(plate)), float(ratio)


def _mg10() -> Pairs:
    """Rows of NEMA MG 10 Table 2-3 as printed, and its worked example."""
    for hp, poles, per_hour, rest in ((10, "4", 12.5, 46), (20, "4", 9.6, 55), (5, "2", 8.1, 83),
                                      (30, "6", 9.3, 53)):  # fmt: skip
        allowed = starts.starts_allowed(hp * HP, poles)
        yield 3600 * allowed.starts, per_hour
        yield allowed.rest, rest
    inertia = UREG.Quantity(50, "pound*foot**2").to("kilogram*meter**2").magnitude
    yield 3600 * starts.starts_allowed(25 * HP, "4", inertia).starts, 2.44


PROOFS: list[Proof] = [
    Proof(
        "code_letter_range",
        "NEC Table 430.7(B), published copies",
        lambda: [
            pair
            for letter, ends in (("B", (3.15, 3.54)), ("G", (5.6, 6.29)), ("H", (6.3, 7.09)))
            for pair in zip(starting.code_letter_range(letter), ends, strict=True)
        ],
    ),
    Proof(
        "locked_rotor_current",
        "published exercise: 20 hp, 460 V, letter G, 158 A",
        fixed((starting.locked_rotor_current(6.29, 20 * HP, 460.0), 158.0)),
        2e-3,
    ),
    Proof("locked_rotor_current", "star against delta with complex impedances", _star_delta, 1e-9),
    Proof("starting_power", "effective values of sampled sine waves, numpy", _apparent, 1e-9),
    Proof("source_dip", "complex voltage divider", _divider, 1e-9),
    Proof(
        "source_dip",
        "published example: 600 A on 5000 A of fault current dips 10.7 %",
        fixed((starting.source_dip(600.0 * ROOT, 5000.0 * ROOT * 0.05, 0.05), 0.107)),
        2e-3,
    ),
    Proof("voltage_at_start", "series circuit as a linear system, numpy", _chain, 1e-9),
    Proof(
        "starting_share",
        "torque at 90 % volts is the textbook 81 %",
        fixed((starting.starting_share(414.0, 460.0) ** 2, 0.81)),
    ),
    Proof(
        "cycle_starts",
        "pint: one start in 150 s + 240 s, per hour",
        lambda: [
            (
                3600 * starts.cycle_starts(150.0, 240.0),
                (1 / UREG.Quantity(390, "second")).to("1/hour").magnitude,
            )
        ],
        1e-9,
    ),
    Proof("starts_allowed", "NEMA MG 10 Table 2-3 and its example of 2.44 starts an hour", _mg10),
    Proof(
        "permitted_rise",
        "IEC 60034-1 table of assumed highest ambient at altitude (whole degrees)",
        _reduced_ambient,
        0.01,
    ),
    Proof(
        "derated_fraction",
        "a motor maker's printed table of ambient and altitude reduction factors, 2008",
        _published_derating,
        0.03,
    ),
    Proof(
        "electrical_input", "mean of the instantaneous power of sine waves", _power_of_waves, 1e-9
    ),
    Proof("rated_current", "amperes of sampled sine waves from their power", _rated_of_waves, 1e-9),
    Proof("usual_plate_current", "NEC Tables 430.248 and 430.250, every row", _usual_of_the_code),
    Proof("plate_current", "sampled sine waves, 10 % and √3 apart", _plates_apart),
    Proof(
        "shaft_output",
        "published efficiency example: 40 108 W in at 93 % gives 37 300 W",
        fixed((motor_load.shaft_output(40108.0, 0.93), 37300.0)),
    ),
    Proof(
        "assumed_efficiency",
        "10 CFR 431.25 minimum, open four-pole: 3 hp 86.5, 5 hp 87.5, 10 hp 89.5, 20 hp 91.0",
        lambda: [
            (motor_load.assumed_efficiency(hp * HP), e)
            for hp, e in ((3, 0.865), (5, 0.875), (10, 0.895), (20, 0.91))
        ],
        0.06,
    ),
    Proof(
        "current_limit",
        "exact decimal arithmetic",
        fixed((motor_load.current_limit(26.0, 1.15), float(Decimal("26") * Decimal("1.15")))),
    ),
    Proof("load_fraction", "amperage-ratio method, exact decimals", _load, 1e-9),
    Proof(
        "start_method",
        "complex: windings 120° apart joined in star or delta sum to zero; a lone one does not",
        lambda: [
            (
                _taken("star-delta", phases),
                "PASS" if abs(sum(np.exp(2j * math.pi * np.arange(n) / 3))) < 1e-9 else "refused",
            )
            for phases, n in (("three", 3), ("single", 1))
        ],
    ),
    Proof(
        "starting_dip",
        "published exercise: 20 hp, 460 V, letter G, 158 A at start",
        lambda: [
            (
                starting_dip(
                    20 * HP, 460.0, "three", 480.0, 30.0, "6 AWG", "G", None, None, 500e3, 0.0575
                ).results["current"],
                158.0,
            )
        ],
        2e-3,
    ),
    Proof(
        "starting_voltage",
        "81 % torque at 90 % volts starts; below 80 % volts, 64 % torque, it does not count",
        fixed(
            (starting_voltage(460.0, 414.0).verdict, "PASS"),
            (starting_voltage(460.0, 460 * math.sqrt(0.63)).verdict, "FAIL"),
        ),
    ),
    Proof(
        "coil_voltage",
        "IEC 60947-4-1: contactors close from 85 % of rated coil voltage",
        fixed(
            (coil_voltage(120.0, 102.0).verdict, "PASS"),
            (coil_voltage(120.0, 101.0).verdict, "FAIL"),
        ),
    ),
    Proof(
        "starts_per_hour",
        "NEMA MG 10 Table 2-3, 20 hp four-pole: 9.6 starts and 55 s",
        lambda: [
            (starts_per_hour(*times, 20 * HP, "4").verdict, told)
            for times, told in (
                ((320.0, 56.0), "ADVISORY"),
                ((300.0, 60.0), "FAIL"),
                ((560.0, 54.0), "FAIL"),
                ((540.0, 120.0), "PASS"),
            )
        ],
    ),
    Proof(
        "altitude_and_heat",
        "a motor maker's printed factor 0.94 at 2000 m: 9.1 hp of 10 passes, 9.5 does not",
        lambda: [
            (altitude_and_heat(2000.0, 313.15, 10 * HP, s * HP).verdict, told)
            for s, told in ((9.1, "PASS"), (9.5, "FAIL"))
        ],
    ),
    Proof(
        "running_current",
        "service-factor amperes by decimals: 26 A at 1.15 is 29.9 A",
        lambda: [
            (running_current((i, i, i), 26.0, 1.15).severity, told)
            for i, told in ((29.8, "handover"), (30.4, "safety"))
        ],
    ),
    Proof("implied_power_factor", "numpy, power of sine waves", _factor_of_waves, 1e-9),
    Proof("power_reading", "numpy, complex power", _possible),
    Proof(
        "shaft_power",
        "mean power of sine waves times efficiency",
        lambda: [
            (
                shaft_power(460.0, (12.4, 12.4, 12.4), "three", 10 * HP, 0.85, None, 0.895).results[
                    "shaft"
                ],
                0.895 * float(next(iter(_power_of_waves()))[1]),
            )
        ],
        1e-9,
    ),
]
