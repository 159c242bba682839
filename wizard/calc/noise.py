"""Noise: time allowed, dose of a day, several sources, distance."""

from __future__ import annotations

import math

from wizard.calc.accepted import above_zero, one_of, within, zero_or_above
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import Length, Ratio, SoundLevel, Time
from wizard.sources import Source
from wizard.tables import table

HOUR = 3600.0
DAY = 8 * HOUR

OSHA = Source("29 CFR 1910.95 Table G-16 and Appendix A", "confirmed")
NIOSH = Source("NIOSH publication 98-126", "confirmed")
EUROPE = Source("Directive 2003/10/EC, definition of the daily noise exposure level", "memory")
ACOUSTICS = Source("sum of sound energies", "computed")

RULES = ("OSHA", "NIOSH")


def _level(what: str, level: float) -> None:
    within(what, level, "sound level", "dBA", 40, 140)


@formula(
    "Time allowed at a level, OSHA",
    equation="time allowed = 8 h / 2 ^ ((level - 90) / 5)",
    results="time",
    source=OSHA,
)
def osha_hours(level: SoundLevel) -> float:
    """Longest time in a day at one level; 5 dB more halves it.

    T = 8 h / 2^((L - 90) / 5)

    Parameters
    ----------
    level : float
        A-weighted level, slow, 40 to 140, [dBA]

    Returns
    -------
    float
        Time that makes a dose of 100 %, [s]

    Examples
    --------
    95 dBA gives 4 h (Table G-16), 81 dBA gives 27.858 h (Appendix A prints 27.9):

    >>> osha_hours(95.0) / 3600, round(osha_hours(81.0) / 3600, 3)
    (4.0, 27.858)
    """
    _level("level", level)
    return float(DAY / 2 ** ((level - 90) / 5))


@formula(
    "Time allowed at a level, NIOSH",
    equation="time allowed = 8 h / 2 ^ ((level - 85) / 3)",
    results="time",
    source=NIOSH,
)
def niosh_hours(level: SoundLevel) -> float:
    """Longest time in a day at one level; 3 dB more halves it.

    T = 8 h / 2^((L - 85) / 3)

    Parameters
    ----------
    level : float
        A-weighted level, slow, 40 to 140, [dBA]

    Returns
    -------
    float
        Time that makes a dose of 100 %, [s]

    Examples
    --------
    95 dBA gives 47 min 37 s, 100 dBA gives 15 min (NIOSH 98-126):

    >>> round(niosh_hours(95.0)), round(niosh_hours(100.0) / 60, 9)
    (2857, 15.0)
    """
    _level("level", level)
    return float(DAY / 2 ** ((level - 85) / 3))


@formula(
    "Printed time allowed at a level",
    equation="time allowed = duration of the first row of Table G-16 at or above level",
    results="time",
    source=Source("29 CFR 1910.95 Table G-16", "confirmed"),
)
def osha_table_hours(level: SoundLevel) -> float:
    """The duration a wall chart shows; the formula is exact, the chart is rounded.

    Parameters
    ----------
    level : float
        A-weighted level, slow, 80 to 115, [dBA]

    Returns
    -------
    float
        Printed duration, [s]

    Examples
    --------
    97 dBA prints 3 h, where the formula gives 3.03 h; 91 dBA takes the row for 92 dBA:

    >>> osha_table_hours(97.0) / 3600, osha_table_hours(91.0) / 3600
    (3.0, 6.0)
    """
    within("level", level, "sound level", "dBA", 80, 115)
    return float(table("osha_noise_hours").at_or_above("level", level)["hours"] * HOUR)


@formula(
    "Noise dose of a day",
    equation="dose = sum of hours / (time allowed by rule at levels), from threshold up",
    results="ratio",
    source=(OSHA, NIOSH),
)
def noise_dose(
    levels: tuple[SoundLevel, ...],
    hours: tuple[Time, ...],
    rule: str = "OSHA",
    threshold: SoundLevel = 80.0,
) -> float:
    """Share of the allowed exposure that a day of several levels uses up.

    D = sum(C_i / T(L_i)), over the levels at or above the threshold

    Parameters
    ----------
    levels : tuple
        A-weighted level at each place, 40 to 140, [dBA]
    hours : tuple
        Time spent at each place, at most 24 h together, [s]
    rule : str, optional
        OSHA (90 dBA, 5 dB) or NIOSH (85 dBA, 3 dB)
    threshold : float, optional
        Lower levels are left out: 80 for the hearing-conservation dose, 90 for the
        exposure-limit dose, [dBA]

    Returns
    -------
    float
        Dose, 1 is a full day's exposure, [-]

    Examples
    --------
    4 h at 90 dBA and 2 h at 95 dBA are 100 %:

    >>> noise_dose((90.0, 95.0), (4 * 3600.0, 2 * 3600.0))
    1.0
    """
    one_of("rule", rule, RULES)
    _day(levels, hours)
    allowed = osha_hours if rule == "OSHA" else niosh_hours
    pairs = zip(levels, hours, strict=True)
    return sum(time / allowed(level) for level, time in pairs if level >= threshold)


def _day(levels: tuple[float, ...], hours: tuple[float, ...]) -> None:
    if not levels or len(levels) != len(hours):
        raise InputError("hours", f"{len(hours)} times", f"one for each of {len(levels)} levels")
    for level in levels:
        _level("levels", level)
    for time in hours:
        zero_or_above("hours", time, "time", "h")
    above_zero("hours, together", sum(hours), "time", "h")
    within("hours, together", sum(hours), "time", "h", 0, 24)


@formula(
    "Time-weighted average of a dose, OSHA",
    equation="average = 16.61 × log10(dose) + 90",
    results="sound level",
    source=OSHA,
)
def osha_average(dose: Ratio) -> float:
    """The steady level over 8 h that makes the same dose.

    TWA = 16.61 log10(D) + 90

    Parameters
    ----------
    dose : float
        Dose, 1 is a full day's exposure, [-]

    Returns
    -------
    float
        Time-weighted average, [dBA]

    Examples
    --------
    150 % gives 92.9 dBA (Appendix A):

    >>> round(osha_average(1.5), 3)
    92.925
    """
    above_zero("dose", dose, "ratio", "%")
    return 16.61 * math.log10(dose) + 90


@formula(
    "Time-weighted average of a dose, NIOSH",
    equation="average = 10 × log10(dose) + 85",
    results="sound level",
    source=NIOSH,
)
def niosh_average(dose: Ratio) -> float:
    """The steady level over 8 h that makes the same NIOSH dose.

    TWA = 10 log10(D) + 85

    Parameters
    ----------
    dose : float
        Dose, 1 is a full day's exposure, [-]

    Returns
    -------
    float
        Time-weighted average, [dBA]

    Examples
    --------
    A dose of 200 % is 88 dBA over the day:

    >>> round(niosh_average(2.0), 2)
    88.01
    """
    above_zero("dose", dose, "ratio", "%")
    return 10 * math.log10(dose) + 85


@formula(
    "Daily noise exposure level, Europe",
    equation="exposure level = 10 × log10(sum of (hours × 10 ^ (levels / 10)) / 8 h)",
    results="sound level",
    source=EUROPE,
)
def daily_exposure_level(levels: tuple[SoundLevel, ...], hours: tuple[Time, ...]) -> float:
    """The steady level over 8 h with the same sound energy; nothing is left out.

    L_EX,8h = 10 log10(sum(t_i 10^(L_i / 10)) / 8 h)

    Parameters
    ----------
    levels : tuple
        A-weighted level at each place, 40 to 140, [dBA]
    hours : tuple
        Time spent at each place, at most 24 h together, [s]

    Returns
    -------
    float
        Daily exposure level, [dBA]

    Examples
    --------
    8 h at 85 dBA are 85 dBA, 4 h at 88 dBA are the same energy:

    >>> daily_exposure_level((85.0,), (28800.0,)), round(
    ...     daily_exposure_level((88.0,), (14400.0,)), 2)
    (85.0, 84.99)
    """
    _day(levels, hours)
    energy = sum(time * 10 ** (level / 10) for level, time in zip(levels, hours, strict=True))
    return 10 * math.log10(energy / DAY)


@formula(
    "Level of several sources together",
    equation="level together = 10 × log10(sum of 10 ^ (levels / 10))",
    results="sound level",
    source=ACOUSTICS,
)
def combined_level(levels: tuple[SoundLevel, ...]) -> float:
    """Level where several sources are heard at once.

    L = 10 log10(sum(10^(L_i / 10)))

    Parameters
    ----------
    levels : tuple
        Level of each source alone at that place, 40 to 140, [dBA]

    Returns
    -------
    float
        Level together, [dBA]

    Examples
    --------
    Two equal sources are 3 dB more than one; 88 and 84 dBA are 89.455 dBA:

    >>> round(combined_level((88.0, 84.0)), 3)
    89.455
    """
    if not levels:
        raise InputError("levels", "nothing", "at least one level")
    for level in levels:
        _level("levels", level)
    return 10 * math.log10(sum(10 ** (level / 10) for level in levels))


@formula(
    "Level at another distance, free field",
    equation="level there = level - 20 × log10(far / near)",
    results="sound level",
    source=Source("spherical spreading in a free field", "computed"),
)
def level_at_distance(level: SoundLevel, near: Length, far: Length) -> float:
    """Level at another distance from a small source outdoors; walls make it louder.

    L2 = L1 - 20 log10(r2 / r1)

    Parameters
    ----------
    level : float
        Level at the first distance, 40 to 140, [dBA]
    near : float
        Distance where the level was measured, [m]
    far : float
        Distance asked for, [m]

    Returns
    -------
    float
        Level at the second distance, [dBA]

    Examples
    --------
    91 dBA at 1 m is 81.458 dBA at 3 m:

    >>> round(level_at_distance(91.0, 1.0, 3.0), 3)
    81.458
    """
    _level("level", level)
    above_zero("near", near, "length", "m")
    above_zero("far", far, "length", "m")
    return level - 20 * math.log10(far / near)
