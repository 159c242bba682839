"""Noise: against the printed tables of OSHA and NIOSH and against integration over time."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from tests.proof.model import Proof
from wizard.calc.hearing import protected_from_a, protected_from_c, protected_from_snr
from wizard.calc.noise import (
    combined_level,
    daily_exposure_level,
    level_at_distance,
    niosh_average,
    niosh_hours,
    noise_dose,
    osha_average,
    osha_hours,
    osha_table_hours,
)

HOUR = 3600.0
APPENDIX_A = {
    80: "32.0", 81: "27.9", 82: "24.3", 83: "21.1", 84: "18.4", 85: "16.0", 86: "13.9",
    87: "12.1", 88: "10.6", 89: "9.2", 90: "8.0", 91: "7.0", 92: "6.1", 93: "5.3", 94: "4.6",
    95: "4.0", 96: "3.5", 97: "3.0", 98: "2.6", 99: "2.3", 100: "2.0", 101: "1.7", 105: "1.0",
}  # fmt: skip
NIOSH_TABLE = {
    85: "8:00", 86: "6:21", 87: "5:02", 88: "4:00", 89: "3:10", 90: "2:31", 91: "2:00",
    92: "1:35", 93: "1:16", 94: "1:00", 97: "0:30", 100: "0:15",
}  # fmt: skip
G16 = {90: 8.0, 92: 6.0, 95: 4.0, 97: 3.0, 100: 2.0, 102: 1.5, 105: 1.0, 110: 0.5, 115: 0.25}
A_WEIGHTING = (-26.2, -16.1, -8.6, -3.2, 0.0, 1.2, 1.0, -1.1)
C_WEIGHTING = (-0.8, -0.2, 0.0, 0.0, 0.0, -0.2, -0.8, -3.0)


def _appendix_a() -> Iterator[tuple[str, str]]:
    for level, printed in APPENDIX_A.items():
        yield f"{osha_hours(float(level)) / HOUR:.1f}", printed


def _niosh_table() -> Iterator[tuple[str, str]]:
    for level, printed in NIOSH_TABLE.items():
        minutes = round(niosh_hours(float(level)) / 60)
        yield f"{minutes // 60}:{minutes % 60:02d}", printed
    for level, seconds in ((95, 47 * 60 + 37), (96, 37 * 60 + 48), (98, 23 * 60 + 49)):
        yield f"{niosh_hours(float(level)):.0f}", str(seconds)


def _g16_rows() -> Iterator[tuple[float, float]]:
    for level, hours in G16.items():
        yield osha_table_hours(float(level)), hours * HOUR


def _g16_dose() -> Iterator[tuple[float, float]]:
    """A full row of the table is a dose of 1, as is any mix of parts that add up."""
    exact = {level: hours for level, hours in G16.items() if level % 5 == 0}
    for level, hours in exact.items():
        yield noise_dose((float(level),), (hours * HOUR,)), 1.0
    yield noise_dose((90.0, 95.0, 100.0), (4 * HOUR, HOUR, 0.5 * HOUR)), 1.0


def _second_by_second() -> Iterator[tuple[float, float]]:
    levels, hours = (83.0, 91.0, 97.5, 79.0), (2.0, 3.5, 0.75, 1.75)
    track = np.repeat(levels, [int(h * 3600) for h in hours])
    counted = track[track >= 80.0]
    osha = float(np.sum(np.exp2((counted - 90.0) / 5.0)) / (8 * 3600))
    niosh = float(np.sum(np.exp2((counted - 85.0) / 3.0)) / (8 * 3600))
    times = tuple(h * HOUR for h in hours)
    yield noise_dose(levels, times), osha
    yield noise_dose(levels, times, rule="NIOSH"), niosh


def _table_a1() -> Iterator[tuple[str, str]]:
    printed = {0.10: "73.4", 0.25: "80.0", 0.50: "85.0", 1.0: "90.0", 1.5: "92.9", 4.0: "100.0"}
    for dose, average in printed.items():
        yield f"{osha_average(dose):.1f}", average


def _niosh_doses() -> Iterator[tuple[str, str]]:
    for dose, average in {0.2: "78", 0.5: "82", 1.0: "85", 2.0: "88", 5.0: "92", 10: "95"}.items():
        yield f"{niosh_average(dose):.0f}", average


def _sound_energy() -> Iterator[tuple[float, float]]:
    """The squared sound pressure summed second by second."""
    levels, hours = (88.0, 79.0, 93.0), (4.0, 3.0, 0.5)
    pressure = 20e-6 * 10 ** (np.repeat(levels, [int(h * 3600) for h in hours]) / 20)
    mean = float(np.sum(pressure**2)) / (8 * 3600)
    expected = 20 * math.log10(math.sqrt(mean) / 20e-6)
    yield daily_exposure_level(levels, tuple(h * HOUR for h in hours)), expected


def _pink_noise() -> Iterator[tuple[float, float]]:
    """Octave band by octave band, pink noise of 100 dBC, a protector with known bands."""
    attenuation = np.array([14.0, 15.0, 19.0, 25.0, 30.0, 33.0, 38.0, 36.0])
    band = 100.0 - 10 * math.log10(sum(10 ** (c / 10) for c in C_WEIGHTING))
    inside = 10 * math.log10(
        float(np.sum(10 ** ((band + np.array(A_WEIGHTING) - attenuation) / 10)))
    )
    snr = 100.0 - inside
    yield protected_from_snr(100.0, snr, 0.0), inside
    yield protected_from_snr(94.0, snr, 0.0), inside - 6.0


def _chart() -> Iterator[tuple[str, str]]:
    printed = ("3.0", "2.5", "2.1", "1.8", "1.5", "1.2", "1.0", "0.8", "0.6", "0.5", "0.4")
    for difference, added in enumerate(printed):
        together = combined_level((90.0, 90.0 - difference))
        yield f"{together - 90.0:.1f}", added


def _spheres() -> Iterator[tuple[float, float]]:
    """Intensity of a source over spheres of growing area."""
    for near, far in ((1.0, 2.0), (1.0, 3.0), (2.5, 10.0)):
        power = 10 ** (91.0 / 10) * 4 * math.pi * near**2
        yield level_at_distance(91.0, near, far), 10 * math.log10(power / (4 * math.pi * far**2))


def _field_manual() -> Iterator[tuple[float, float]]:
    yield protected_from_a(100.0, 25.0, 1.0), 82.0
    yield protected_from_a(100.0, 25.0, 0.5), 91.0


def _seven_decibels() -> Iterator[tuple[float, float]]:
    for level in (85.0, 92.0, 104.0):
        yield protected_from_c(level + 7.0, 25.0, 1.0), protected_from_a(level, 25.0, 1.0)


PROOFS = [
    Proof("osha_hours", "29 CFR 1910.95 Appendix A, printed durations", _appendix_a),
    Proof("niosh_hours", "NIOSH 98-126 Table 1-1, printed durations", _niosh_table),
    Proof("osha_table_hours", "29 CFR 1910.95 Table G-16", _g16_rows, 1e-12),
    Proof("noise_dose", "29 CFR 1910.95 Table G-16: a full row is 100 %", _g16_dose, 1e-12),
    Proof("noise_dose", "numpy, summed second by second", _second_by_second, 1e-9),
    Proof("osha_average", "29 CFR 1910.95 Appendix A Table A-1", _table_a1),
    Proof("niosh_average", "NIOSH 98-126 Table 1-2", _niosh_doses),
    Proof("daily_exposure_level", "numpy, squared sound pressure second by second", _sound_energy),
    Proof("protected_from_a", "OSHA field manual example, 100 dBA and NRR 25", _field_manual),
    Proof("protected_from_c", "29 CFR 1910.95 Appendix B: 7 dB between C and A", _seven_decibels),
    Proof("protected_from_snr", "octave bands of pink noise, IEC 61672 weightings", _pink_noise),
    Proof("combined_level", "printed chart for adding decibels", _chart),
    Proof("level_at_distance", "intensity of a source over growing spheres", _spheres, 1e-12),
]
